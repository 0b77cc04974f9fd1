import { expect, test } from 'vitest';
import { carryFrom } from '../../../core/air/carry.ts';
import { nightDrainage } from '../../../core/air/drainage.ts';
import { gatherAir } from '../../../core/air/gather.ts';
import { fillPools } from '../../../core/air/pools.ts';
import { cellAt, type Grid } from '../../../core/grid/frame.ts';
import { fillDepressions } from '../../../core/terrain/filling.ts';
import { airFrame, groundOf } from './ground.ts';

const frame = airFrame(200, 200, 5);
const nightOver = (elevation: Grid) => {
  const cover = { frame: elevation.frame, cells: new Uint8Array(elevation.cells.length).fill(1) };
  const night = nightDrainage(elevation, cover, 50, 8);
  const filled = fillDepressions(elevation);
  const gathered = gatherAir(elevation, filled);
  const { pools, depth: poolDepth } = fillPools(
    elevation,
    filled,
    (hollow) => Math.max(night.standing(hollow), gathered.onto(hollow) * night.made),
    gathered.onward,
  );
  const coldAir = {
    frame: elevation.frame,
    cells: night.depth.cells.map((d, i) => Math.max(d, poolDepth.cells[i]!)),
  };
  return {
    coldAir,
    poolDepth,
    airSpeed: night.speed,
    airBearing: night.bearing,
    pools,
    unrest: night.unrest,
  };
};

const valley = groundOf(frame, (x, y) => 200 - 0.04 * y + 0.15 * Math.abs(x - 500));

test('air runs down the sides and out along the bottom of a valley', () => {
  const air = nightOver(valley);
  const at = (x: number, y: number) => cellAt(frame, frame.west + x, frame.north - y);
  // Down the valley, which runs south.
  expect(Math.abs(air.airBearing.cells[at(500, 700)]! - 180)).toBeLessThan(10);
  // High on the west side it runs to the south-east, on the east side to the south-west.
  const west = air.airBearing.cells[at(60, 300)]!;
  const east = air.airBearing.cells[at(940, 300)]!;
  expect(west > 90 && west < 175).toBe(true);
  expect(east > 185 && east < 270).toBe(true);
  expect(air.coldAir.cells[at(500, 800)]!).toBeGreaterThan(3 * air.coldAir.cells[at(60, 800)]!);
  const carry = carryFrom([frame.west + 200, frame.north - 300], air);
  expect(carry.ends).toBe('map edge');
  expect(carry.length).toBeGreaterThan(700);
  const [x, y] = carry.path.at(-1)!;
  expect(frame.north - y).toBeGreaterThan(990);
  expect(x - frame.west).toBeGreaterThan(250);
});

test('a carry ends in the pool its hollow holds, and names it', () => {
  const hole = groundOf(
    frame,
    (x, y) => 0.12 * Math.hypot(x - 500, y - 500) + (Math.hypot(x - 500, y - 500) > 470 ? 0 : 0),
  );
  const air = nightOver(hole);
  expect(air.pools.length).toBe(1);
  const carry = carryFrom([frame.west + 500 - 20, frame.north - 520], air);
  expect(carry.ends).toBe('pool');
  expect(carry.pool).toBe('pool-1');
});

test('spots outside of the frame are refused', () => {
  const air = nightOver(groundOf(airFrame(20, 20, 25), (x) => 100 - 0.1 * x));
  expect(() => carryFrom([0, 0], air)).toThrow(/outside the frame/);
});

test('the same input gives the same bits', () => {
  const a = nightOver(valley);
  const b = nightOver(valley);
  expect(Buffer.from(a.coldAir.cells.buffer).equals(Buffer.from(b.coldAir.cells.buffer))).toBe(true);
});

test('no elevation, no air', () => {
  const holed = { frame, cells: valley.cells.slice() };
  for (let i = 0; i < 4000; i++) holed.cells[i] = Number.NaN;
  const air = nightOver(holed);
  expect(air.coldAir.cells[100]).toBeNaN();
  expect(air.airSpeed.cells[100]).toBeNaN();
  expect(air.coldAir.cells[30_000]).toBeGreaterThanOrEqual(0);
});
