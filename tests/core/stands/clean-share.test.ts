import { expect, test } from 'vitest';
import { wilson } from '../../../core/air/season.ts';
import type { Frame, Grid, Point } from '../../../core/grid/frame.ts';
import {
  bothWays,
  cleanBand,
  fateOf,
  firstScent,
  type Walk,
  walkRoutes,
} from '../../../core/stands/clean-share.ts';
import type { Route } from '../../../core/travel/types.ts';

const SIDE = 5;
const frame: Frame = {
  epsg: 32617,
  west: 0,
  north: SIDE * 10,
  cellSize: 10,
  width: SIDE,
  height: SIDE,
  longitude: -81,
  latitude: 39,
  convergence: 0,
};
const centre = (cell: number): Point => [
  (cell % SIDE) * 10 + 5,
  SIDE * 10 - Math.floor(cell / SIDE) * 10 - 5,
];
const route = (cells: number[], more: Partial<Route> = {}): Route => ({
  id: cells.join('-'),
  from: 'Bed',
  to: 'Field',
  when: 'dusk',
  path: cells.map(centre),
  length: (cells.length - 1) * 10,
  minutes: 1,
  share: 1,
  ...more,
});

/** Every way from the north-west to the south-east corner that only goes east and south. */
function everyWay(): number[][] {
  const ways: number[][] = [];
  const walk = (way: number[]) => {
    const at = way[way.length - 1]!;
    if (at === SIDE * SIDE - 1) ways.push(way);
    if (at % SIDE < SIDE - 1) walk([...way, at + 1]);
    if (at < SIDE * (SIDE - 1)) walk([...way, at + SIDE]);
  };
  walk([0]);
  return ways;
}

const gridOf = (marked: number[]): Grid<Uint8Array> => {
  const cells = new Uint8Array(SIDE * SIDE);
  for (const cell of marked) cells[cell] = 1;
  return { frame, cells };
};

// Independent of the code: ways counted by hand over cells, with the number of lattice paths as a check (8 choose 4).
test('shares agree with counting every way on a small grid, whatever the reach and the scent', () => {
  const ways = everyWay();
  expect(ways).toHaveLength(70);
  let state = 12345;
  const random = () => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return state / 2147483648;
  };
  let mixed = 0;
  for (let trial = 0; trial < 60; trial++) {
    const inReach = Array.from({ length: 25 }, (_, i) => i).filter(() => random() < 0.2);
    const scented = Array.from({ length: 25 }, (_, i) => i).filter(() => random() < 0.15);
    const weights = ways.map(() => 0.5 + random());
    const sum = weights.reduce((a, b) => a + b, 0);
    const counted = { clean: 0, spoiled: 0, never: 0, alarmed: 0 };
    ways.forEach((way, k) => {
      const reach = way.findIndex((cell) => inReach.includes(cell));
      const scent = way.findIndex((cell) => scented.includes(cell));
      const kind = reach < 0 ? 'never' : scent >= 0 && scent <= reach ? 'spoiled' : 'clean';
      counted[kind] += weights[k]! / sum;
      if (scent >= 0) counted.alarmed += weights[k]! / sum;
    });
    const walks = walkRoutes(
      ways.map((way, k) => route(way, { share: weights[k]! })),
      0.7,
      gridOf(inReach),
      frame,
    );
    const dose = Float32Array.from({ length: 25 }, (_, i) => (scented.includes(i) ? 3e-4 : 2.9e-4));
    const fate = fateOf(walks, firstScent(walks, dose, Math.fround(3e-4)))!;
    for (const key of ['clean', 'spoiled', 'never', 'alarmed'] as const)
      expect(fate[key]).toBeCloseTo(counted[key], 12);
    expect(fate.clean + fate.spoiled + fate.never).toBeCloseTo(1, 12);
    if (fate.clean > 0 && fate.spoiled > 0 && fate.never > 0) mixed++;
  }
  // The trials must not all be trivial.
  expect(mixed).toBeGreaterThan(10);
});

test('a pace turns steps into time', () => {
  const [walk] = walkRoutes([route([10, 11, 12, 13, 14])], 0.5, gridOf([13]), frame);
  // The fourth cell begins 25 m from the middle of the first: 50 s at half a metre a second, and is 10 m long.
  expect(walk!.until).toBeCloseTo(50, 6);
  expect(walk!.inView).toBeCloseTo(20, 6);
});

test('the same step in reach and in scent is spoiled, the step before is clean', () => {
  const walks = walkRoutes([route([10, 11, 12, 13, 14])], 0.7, gridOf([12]), frame);
  const at = (cell: number) => fateOf(walks, firstScent(walks, gridOf([cell]).cells, 1))!;
  expect(at(12).spoiled).toBe(1);
  expect(at(11).spoiled).toBe(1);
  expect(at(13).clean).toBe(1);
  expect(at(13).alarmed).toBe(1);
});

test('outside the window of the scent nothing is smelt, outside the map nothing is reached', () => {
  const far = route([0, 1]);
  far.path = [
    [-500, -500],
    [-400, -500],
  ];
  const walks = walkRoutes([far], 0.7, gridOf([0, 1, 2]), frame);
  expect(fateOf(walks, firstScent(walks, new Float32Array(25).fill(1), 1e-4))).toEqual({
    clean: 0,
    spoiled: 0,
    never: 1,
    alarmed: 0,
  });
});

test('an unknown direction is shown both ways, and the band holds them', () => {
  const there = route([10, 11, 12, 13, 14], { when: 'any', from: 'A', to: 'B', share: 0.3 });
  const back = route([14, 13, 12, 11, 10], { when: 'any', from: 'B', to: 'A', share: 0.3 });
  const known = route([0, 1, 2], { share: 0.4 });
  const walks: Walk[] = walkRoutes([there, back, known], 0.7, gridOf([12]), frame);
  const scent = firstScent(walks, gridOf([13]).cells, 1);
  expect(bothWays(walks, scent)).toEqual([{ between: ['A', 'B'], share: 0.6, there: 1, back: 0 }]);
  const none = (count: number, total: number) => ({ low: count / total, high: count / total });
  const band = cleanBand(walks, { usual: scent, keen: scent, dull: scent }, none)!;
  expect(band.usual).toBeCloseTo(0.3, 12);
  // All of the pair's travel one way or the other: none of it clean, or 0.6 of all travel.
  expect(band.low).toBeCloseTo(0, 12);
  expect(band.high).toBeCloseTo(0.6, 12);
  const honest = cleanBand(walks, { usual: scent, keen: scent, dull: scent }, (count, total) =>
    wilson(count, total),
  )!;
  expect(honest.high).toBeGreaterThanOrEqual(band.high);
});

test('no travel has no share', () => {
  expect(fateOf([], [])).toBeNull();
  expect(cleanBand([], { usual: [], keen: [], dull: [] }, (count, total) => wilson(count, total))).toBeNull();
});
