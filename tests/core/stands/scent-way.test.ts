import { expect, test } from 'vitest';
import type { NearGround } from '../../../core/air/near-ground.ts';
import { briggsOpen, plumeAt } from '../../../core/air/plume.ts';
import type { Frame, Point } from '../../../core/grid/frame.ts';
import { scentAlong, windowAlong } from '../../../core/stands/scent-way.ts';

const frame: Frame = {
  epsg: 26917,
  west: 0,
  north: 1000,
  cellSize: 5,
  width: 200,
  height: 200,
  longitude: -82,
  latitude: 38,
  convergence: 0,
};
const air = (east: number): NearGround => ({
  field: {
    frame,
    east: new Float32Array(40_000).fill(east),
    south: new Float32Array(40_000),
    eddies: new Uint8Array(40_000),
  },
  deficit: new Float32Array(40_000),
  held: new Float32Array(40_000),
});
// Bedding east of the middle of a way that runs north.
const areas = { frame, cells: new Int32Array(40_000) };
for (let y = 95; y < 105; y++) for (let x = 60; x < 66; x++) areas.cells[y * 200 + x] = 7;
const ground = {
  areas,
  travelAreas: [
    {
      id: 7,
      kind: 'bedding' as const,
      name: 'Thicket',
      source: 'drawn' as const,
      centre: [315, 500] as Point,
      area: 1,
    },
  ],
  routes: [],
};
const way: Point[] = [
  [200, 100],
  [200, 900],
];

test('a way upwind of bedding drags scent through it, just where it passes; the other wind does not', () => {
  const west = scentAlong(way, 1, air(2), 'D', ground, 'us');
  expect(west.length).toBe(800);
  expect(west.minutes).toBeCloseTo(800 / 60, 9);
  expect(west.bedding).toEqual(['Thicket']);
  const bad = west.stretches.filter(({ bedding }) => bedding.length > 0);
  // The bed lies abreast of the way from 375 to 425 m along it; a plume of class D is about 40 m wide there.
  expect(Math.min(...bad.map(({ from }) => from))).toBeGreaterThan(250);
  expect(Math.max(...bad.map(({ to }) => to))).toBeLessThan(550);
  expect(west.verdict).toMatch(/^875 yd in 13 min: drags scent through bedding \(Thicket\) from \d+ yd to/);
  const east = scentAlong(way, 1, air(-2), 'D', ground, 'us');
  expect(east.bedding).toEqual([]);
  expect(east.verdict).toMatch(/its scent misses the trails\.$/);
});

test('a minute of a way across the wind is as thin as its part of a line source', () => {
  // Each minute lays 60 m of way; downwind of its middle the line is much longer than the plume is wide, so that the
  // place has the crosswind-integrated plume over the length walked in a second, by the plume formula.
  const { dilution } = scentAlong(way, 1, air(2), 'D', ground, 'us');
  const x = 60;
  const width = briggsOpen('D', x);
  let line = 0;
  for (const z of [0.25, 0.75, 1.25, 1.75])
    line += (plumeAt(1, 2, width, 1, 0, z) * width.across * Math.sqrt(2 * Math.PI)) / 4;
  const expected = line / 60;
  let sum = 0;
  let n = 0;
  for (let y = 60; y < 140; y++, n++) sum += dilution.cells[y * 200 + (200 + x) / 5]!;
  // The worst minute of each place, so somewhat over the mean of a line cut into pieces, and chance on top.
  expect(sum / n / expected).toBeGreaterThan(0.85);
  expect(sum / n / expected).toBeLessThan(1.35);
});

test('the window holds the way and what lies round it', () => {
  const window = windowAlong(frame, way, 300);
  expect(window.west).toBe(-100);
  expect(window.north).toBe(1200);
  expect(window.width * window.cellSize).toBe(1400);
  expect(() =>
    scentAlong(
      [
        [-900, -900],
        [-950, -950],
      ],
      1,
      air(2),
      'D',
      ground,
      'us',
    ),
  ).toThrow(/none of the way/);
});
