import { expect, test } from 'vitest';
import { fillPools } from '../../../core/air/pools.ts';
import { fillDepressions } from '../../../core/terrain/filling.ts';
import { outside } from '../../outside.ts';
import { airFrame, groundOf } from './ground.ts';

const frame = airFrame(60, 50, 2);
/** A cone-shaped hole of 5 m in ground that slopes south, with a notch in its south rim. */
const raw = groundOf(frame, (x, y) => {
  const r = Math.hypot(x - 60, y - 40);
  const plain = 110 - 0.02 * y;
  return r < 20 ? 104 + (5 * r) / 20 : plain;
});
const filled = fillDepressions(raw);

test('a hollow with plenty of cold air fills to its sill and no further', () => {
  const { pools, depth, labels } = fillPools(raw, filled, () => 1e9);
  expect(pools).toHaveLength(1);
  const pool = pools[0]!;
  let volume = 0;
  for (let i = 0; i < raw.cells.length; i++) {
    const d = Math.fround(filled.cells[i]! - raw.cells[i]!);
    expect(depth.cells[i]!).toBeCloseTo(d, 4);
    expect(labels.cells[i]).toBe(d > 0 ? 1 : 0);
    volume += d * 4;
  }
  expect(pool.volume).toBeCloseTo(volume, 0);
  expect(pool.depth).toBeCloseTo(pool.sillElevation - Math.min(...raw.cells), 4);
  // The sill is a cell of the rim at the sill's own elevation, just outside of the pool.
  const column = Math.floor((pool.sill[0] - frame.west) / 2);
  const row = Math.floor((frame.north - pool.sill[1]) / 2);
  expect(raw.cells[row * 60 + column]).toBe(Math.fround(pool.sillElevation));
  expect(labels.cells[row * 60 + column]).toBe(0);
});

test('closed basins of every shape fill to their sills as the plainest filling has it', () => {
  // Planchon & Darboux, Catena 46 (2002): cover all with air, then let each cell fall to its lowest neighbour or its
  // ground, over and over until nothing falls.
  const rough = groundOf(
    frame,
    (x, y) => 60 + 4 * Math.sin(x / 9) * Math.cos(y / 7) + 3 * Math.sin((x + 2 * y) / 13) - 0.03 * y,
  );
  const { width, height } = frame;
  const top = Float32Array.from(rough.cells, (z, i) => {
    const [x, y] = [i % width, Math.floor(i / width)];
    return x === 0 || y === 0 || x === width - 1 || y === height - 1 ? z : Number.POSITIVE_INFINITY;
  });
  for (let falls = true; falls; ) {
    falls = false;
    for (let y = 1; y < height - 1; y++)
      for (let x = 1; x < width - 1; x++) {
        const i = y * width + x;
        let lowest = Number.POSITIVE_INFINITY;
        for (let dy = -1; dy <= 1; dy++)
          for (let dx = -1; dx <= 1; dx++) lowest = Math.min(lowest, top[i + dy * width + dx]!);
        const level = Math.max(rough.cells[i]!, lowest);
        if (level < top[i]!) {
          top[i] = level;
          falls = true;
        }
      }
  }
  const { pools, depth, labels } = fillPools(rough, fillDepressions(rough), () => 1e9);
  expect(pools.length).toBeGreaterThan(3);
  const check = outside({
    room: 'air',
    method: 'Closed basins of cold air fill to their sills and no further',
    source: 'Planchon & Darboux 2002, by plain sweeps',
    unit: 'm',
    allowed: 1e-5,
  });
  depth.cells.forEach((d, i) => {
    // Dimples are no pools.
    if (labels.cells[i]! > 0) check.compare(rough.cells[i]! + d, top[i]!);
  });
  check.done();
});

test('short of air it holds exactly what it was given, with a level top', () => {
  for (const supply of [50, 400, 1500]) {
    const { pools, depth } = fillPools(raw, filled, () => supply);
    expect(pools[0]!.volume).toBeCloseTo(supply, 0);
    const tops = [...depth.cells.keys()]
      .filter((i) => depth.cells[i]! > 0)
      .map((i) => raw.cells[i]! + depth.cells[i]!);
    expect(Math.max(...tops) - Math.min(...tops)).toBeLessThan(1e-3);
  }
});

test('dimples shallower than half a metre are no pools', () => {
  const dimple = groundOf(frame, (x, y) => 100 - 0.02 * y - (Math.hypot(x - 60, y - 40) < 8 ? 0.4 : 0));
  const { pools, depth } = fillPools(dimple, fillDepressions(dimple), () => 1e9);
  expect(pools).toHaveLength(0);
  expect(depth.cells.every((d) => d === 0)).toBe(true);
});

test('no data stays no data', () => {
  const holed = { frame, cells: raw.cells.slice() };
  holed.cells[10] = Number.NaN;
  const { depth } = fillPools(holed, fillDepressions(holed), () => 1e9);
  expect(depth.cells[10]).toBeNaN();
});
