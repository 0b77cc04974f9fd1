import { expect, test } from 'vitest';
import { gatherAir } from '../../../core/air/gather.ts';
import { fillPools } from '../../../core/air/pools.ts';
import { fillDepressions } from '../../../core/terrain/filling.ts';
import { airFrame, groundOf } from './ground.ts';

const frame = airFrame(60, 80, 5);
/** A draw that runs south between walls, with one fill across it and another further down. */
const dammed = (fills: readonly number[]) =>
  groundOf(frame, (x, y) => {
    const draw = 200 - 0.05 * y + 0.3 * Math.abs(x - 150);
    return fills.some((at) => y > at && y < at + 10)
      ? Math.max(draw, 200 - 0.05 * (fills[0]! + 5) + 3)
      : draw;
  });
const catchmentOf = (ground: ReturnType<typeof dammed>) => {
  const filled = fillDepressions(ground);
  const air = gatherAir(ground, filled);
  const hollow = Int32Array.from([...ground.cells.keys()].filter((i) => filled.cells[i]! > ground.cells[i]!));
  return { filled, air, hollow };
};

test('a road fill gathers the air of all the draw above it, a draw without one sends it off the map', () => {
  const { air, hollow } = catchmentOf(dammed([200]));
  expect(hollow.length).toBeGreaterThan(5);
  // All of the map north of the fill's crest, half of which sheds to the other side.
  expect(Math.abs(air.onto(hollow) / (300 * 205) - 1)).toBeLessThan(0.03);
  expect(catchmentOf(dammed([])).hollow).toHaveLength(0);
});

test('over the filled ground every cell leads off the map: what a full hollow cannot hold goes on', () => {
  const { air, hollow } = catchmentOf(dammed([200]));
  let i = hollow[0]!;
  const offsets = [1, 61, 60, 59, -1, -61, -60, -59];
  let steps = 0;
  while (air.onward.cells[i]! < 9 && steps++ < 1000) i += offsets[air.onward.cells[i]! - 1]!;
  expect(Math.floor(i / 60)).toBe(79);
});

test('two hollows on one way: what runs over the upper comes to the lower, and no air is lost or made', () => {
  const ground = dammed([200, 300]);
  const filled = fillDepressions(ground);
  const { onward } = gatherAir(ground, filled);
  const pour = (supply: number, ways: typeof onward | null = onward) => {
    const { pools } = fillPools(ground, filled, () => supply, ways);
    return [...pools].sort((a, b) => b.at[1] - a.at[1]);
  };
  const rooms = pour(1e9).map(({ volume }) => volume);
  expect(rooms).toHaveLength(2);
  const given = rooms[0]! + 40;
  const [upper, lower] = pour(given);
  expect(upper!.full).toBe(true);
  expect(upper!.volume).toBeCloseTo(rooms[0]!, 0);
  expect(rooms[1]!).toBeGreaterThan(given + 40);
  expect(lower!.full).toBe(false);
  expect(lower!.volume).toBeCloseTo(given + 40, 0);
  // Alone, each keeps what it was given.
  expect(pour(100, null).map(({ volume }) => Math.round(volume))).toEqual([100, 100]);
  expect(pour(100).every(({ full }) => !full)).toBe(true);
});
