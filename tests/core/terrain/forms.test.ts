import { describe, expect, test } from 'vitest';
import { findBenches, stripWidth } from '../../../core/terrain/benches.ts';
import { fillDepressions } from '../../../core/terrain/filling.ts';
import { accumulate, flowDirections } from '../../../core/terrain/flow.ts';
import { GEOMORPHON, geomorphons } from '../../../core/terrain/geomorphons.ts';
import { findLandforms } from '../../../core/terrain/landforms.ts';
import { positionOf } from '../../../core/terrain/position.ts';
import { findReaches } from '../../../core/terrain/reaches.ts';
import { findSaddles } from '../../../core/terrain/saddles.ts';
import { surfaceOf } from '../../../core/terrain/slope.ts';
import { LANDFORM } from '../../../core/terrain/types.ts';
import { outside } from '../../outside.ts';
import { randomNumbers } from '../grid/frames.ts';
import { elevationOf, groundCases, groundFrom, unpack } from './grounds.ts';

const LIGHT = { azimuth: 315, altitude: 45 };

// Reference: scipy.ndimage.correlate with a ring of ones (SciPy 1.10), tests/reference/terrain/make_ground.py.
describe.each(groundCases)('topographic position on $name', (reference) => {
  test.each(reference.annuli)('equals the SciPy annulus filter from $inner to $outer cells', (annulus) => {
    const expected = unpack(annulus.position);
    const ours = positionOf(elevationOf(reference), annulus.inner, annulus.outer).cells;
    const check = outside({
      room: 'terrain',
      method: 'Topographic position over rings',
      source: 'SciPy 1.10 ndimage.correlate',
      unit: 'm',
      allowed: 1e-4,
    });
    for (let i = 0; i < ours.length; i++) check.compare(ours[i]!, expected[i]!);
    check.done();
  });
  // Reference: gdaldem TPI, the cell less the mean of its eight neighbours.
  test('over the eight neighbours equals gdaldem TPI', () => {
    const expected = unpack(reference.tpi);
    const ours = positionOf(elevationOf(reference), 0, 1.5).cells;
    const check = outside({
      room: 'terrain',
      method: 'Topographic position over the eight neighbours',
      source: 'GDAL 3.6 gdaldem TPI',
      unit: 'm',
      allowed: 1e-3,
    });
    for (let i = 0; i < ours.length; i++) if (expected[i] !== -9999) check.compare(ours[i]!, expected[i]!);
    check.done();
  });
});

test('geomorphons name analytic surfaces', () => {
  const centre = 40 * 81 + 40;
  const of = (z: (x: number, y: number) => number): number =>
    geomorphons(
      groundFrom(81, 81, 1, (x, y) => z(x - 40.5, y - 40.5)),
      20,
      1,
    ).cells[centre]!;
  expect(of(() => 0)).toBe(GEOMORPHON.flat);
  expect(of((x, y) => -0.2 * Math.hypot(x, y))).toBe(GEOMORPHON.peak);
  expect(of((x, y) => 0.2 * Math.hypot(x, y))).toBe(GEOMORPHON.pit);
  expect(of((x) => -0.2 * Math.abs(x))).toBe(GEOMORPHON.ridge);
  expect(of((_, y) => 0.2 * Math.abs(y))).toBe(GEOMORPHON.valley);
  expect(of((x, y) => 0.3 * x + 0.1 * y)).toBe(GEOMORPHON.slope);
  expect(of((x) => Math.min(0, -0.3 * x))).toBe(GEOMORPHON.shoulder);
  expect(of((x) => Math.max(0, -0.3 * x))).toBe(GEOMORPHON.footslope);
  expect(of((x, y) => -0.5 * x - 0.2 * Math.abs(y))).toBe(GEOMORPHON.spur);
  expect(of((x, y) => -0.5 * x + 0.2 * Math.abs(y))).toBe(GEOMORPHON.hollow);
});

/** Two hills of the given heights on a ridge that runs east, with a saddle between, falling off north and south. */
const twoHills = (gap: number) => (x: number, y: number) => {
  const along = x - 400;
  const crest = 100 + gap * (1 - Math.exp(-((along / 150) ** 2))) - 0.00015 * along * along;
  return crest - 60 * (1 - Math.exp(-(((y - 300) / 120) ** 2)));
};

describe('saddles', () => {
  test('the low spot between two hills is found with its measures', () => {
    const ground = groundFrom(160, 120, 5, twoHills(25));
    const { saddles } = findSaddles(ground, ground);
    expect(saddles).toHaveLength(1);
    const [saddle] = saddles;
    expect(Math.abs(saddle!.at[0] - ground.frame.west - 400)).toBeLessThan(10);
    expect(Math.abs(saddle!.at[1] - (ground.frame.north - 300))).toBeLessThan(10);
    expect(saddle!.elevation).toBeCloseTo(100, 0);
    const crest = Math.max(...ground.cells);
    expect(saddle!.rise).toBeCloseTo(crest - 100, 0);
    for (const fall of saddle!.falls) expect(fall).toBeGreaterThan(45);
    // 3 m above the saddle on the crest: 25 (1 - exp(-(d/150)²)) - 0.00015 d² = 3 at d = 58.4 m.
    expect(saddle!.width).toBeGreaterThan(113);
    expect(saddle!.width).toBeLessThan(120);
  });
  test('noise makes no saddles, and a smooth cone has none', () => {
    const random = randomNumbers(2);
    const rough = groundFrom(160, 120, 5, (x, y) => twoHills(25)(x, y) + 0.6 * random());
    expect(findSaddles(rough, rough).saddles).toHaveLength(1);
    const cone = groundFrom(100, 100, 5, (x, y) => 100 - 0.3 * Math.hypot(x - 250, y - 250) + 0.6 * random());
    expect(findSaddles(cone, cone).saddles).toHaveLength(0);
  });
  test('a road fill across a draw is no saddle', () => {
    const dammed = groundFrom(
      120,
      120,
      5,
      (x, y) => 0.3 * Math.abs(x - 300) + 0.05 * y + (Math.abs(y - 300) < 8 ? 7 : 0),
    );
    expect(findSaddles(dammed, dammed).saddles).toHaveLength(0);
  });
  test('a gap narrower than three cells has no width', () => {
    const ground = groundFrom(
      160,
      120,
      5,
      (x, y) => 100 + (Math.abs(x - 400) < 5 ? 0 : 30) - 0.3 * Math.abs(y - 300),
    );
    const { saddles } = findSaddles(ground, ground);
    expect(saddles.length).toBeGreaterThan(0);
    expect(saddles[0]!.width).toBeNull();
  });
});

describe('benches', () => {
  /** A 40 % hillside that falls south, with a bench of the given width at half height between x 150 and 550. */
  const hillside = (width: number) => (x: number, y: number) => {
    const up = y - 250;
    const riser = (d: number): number => 0.4 * d;
    const tread = up < 0 ? riser(up) : up < width ? 0.05 * up : 0.05 * width + riser(up - width);
    const inside = x > 150 && x < 550;
    return 200 + (inside ? tread : riser(up));
  };
  test('a bench is found with its length, width and slopes', () => {
    const ground = groundFrom(140, 100, 5, hillside(30));
    const { slope } = surfaceOf(ground, LIGHT);
    const { benches, mask } = findBenches(ground, slope);
    expect(benches).toHaveLength(1);
    const [bench] = benches;
    expect(bench!.length).toBeGreaterThan(330);
    expect(bench!.length).toBeLessThan(460);
    expect(bench!.width).toBeGreaterThan(18);
    expect(bench!.width).toBeLessThan(42);
    const riser = (Math.atan(0.4) * 180) / Math.PI;
    expect(Math.abs(bench!.slopeAbove - riser)).toBeLessThan(2);
    expect(Math.abs(bench!.slopeBelow - riser)).toBeLessThan(2);
    expect(Math.abs(bench!.centre[1] - (ground.frame.north - 500 + 265))).toBeLessThan(8);
    expect(mask.filter((id) => id === 1).length * 25).toBe(bench!.area);
  });
  test('the bed of a mapped road is no bench; a road that only crosses one leaves it a bench', () => {
    const ground = groundFrom(140, 100, 5, hillside(30));
    const { slope } = surfaceOf(ground, LIGHT);
    // The bench lies at 250 to 280 m from the south edge, rows 44 to 49.
    const along = ground.cells.map((_, i) => (Math.abs(Math.floor(i / 140) - 46.5) < 4 ? 1 : 0));
    const bed = findBenches(ground, slope, Uint8Array.from(along));
    expect(bed.benches).toEqual([]);
    expect(bed.roadBeds).toBe(1);
    expect(bed.mask.every((id) => id === 0)).toBe(true);
    const across = ground.cells.map((_, i) => (Math.abs((i % 140) - 70) < 4 ? 1 : 0));
    const crossed = findBenches(ground, slope, Uint8Array.from(across));
    expect(crossed.benches).toHaveLength(1);
    expect(crossed.roadBeds).toBe(0);
  });
  test('no bench on an even hillside, on a ridge top or in a valley bottom', () => {
    for (const z of [
      hillside(0),
      (_: number, y: number) => -0.4 * Math.max(0, Math.abs(y - 250) - 15),
      (_: number, y: number) => 0.4 * Math.max(0, Math.abs(y - 250) - 15),
    ]) {
      const ground = groundFrom(140, 100, 5, z);
      expect(findBenches(ground, surfaceOf(ground, LIGHT).slope).benches).toEqual([]);
    }
  });
  test('none are claimed on cells too coarse to show one', () => {
    const ground = groundFrom(60, 60, 30, (_, y) => y * 0.4);
    expect(findBenches(ground, surfaceOf(ground, LIGHT).slope).benches).toEqual([]);
  });
  test('strip width is exact for rectangles', () => {
    for (const [long, wide] of [
      [100, 10],
      [40, 30],
      [20, 20],
    ] as const) {
      const meanDepth = wide / 4 - wide ** 2 / (12 * long);
      expect(stripWidth(meanDepth, long * wide)).toBeCloseTo(wide, 1);
    }
  });
});

test('forms, ridges and draws of a ridge with a draw in its flank', () => {
  // A ridge along y = 603, a draw cut into its south flank at x = 650, on 3 m cells.
  const ground = groundFrom(270, 270, 3, (x, y) => {
    const flank = 300 - 0.35 * Math.abs(y - 603);
    const below = Math.max(0, 570 - y);
    const draw = Math.min(12, 0.06 * below) * Math.exp(-Math.abs(x - 650) / 40);
    return flank - draw + 0.004 * x;
  });
  const filled = fillDepressions(ground);
  const directions = flowDirections(filled);
  const reaches = findReaches(directions, accumulate(directions), 600);
  const { forms, ridges, draws } = findLandforms(
    ground,
    surfaceOf(ground, LIGHT).slope,
    filled,
    directions,
    reaches,
  );
  const formAt = (x: number, y: number): number =>
    forms.cells[(269 - Math.floor(y / 3)) * 270 + Math.floor(x / 3)]!;
  expect(formAt(650, 300)).toBe(LANDFORM.draw);
  expect(formAt(200, 600)).toBe(LANDFORM.ridge);
  expect(formAt(300, 300)).toBe(LANDFORM.slope);
  const [longest] = ridges;
  expect(longest!.length).toBeGreaterThan(600);
  for (const [, y] of longest!.path) expect(Math.abs(y - (ground.frame.north - 810 + 603))).toBeLessThan(20);
  const [deepest] = draws;
  expect(deepest!.depth).toBeGreaterThan(4);
  expect(deepest!.depth).toBeLessThan(13);
  for (const [x] of deepest!.path) expect(Math.abs(x - ground.frame.west - 650)).toBeLessThan(40);
});
