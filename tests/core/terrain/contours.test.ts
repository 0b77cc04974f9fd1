import { contours as d3contours } from 'd3-contour';
import { describe, expect, test } from 'vitest';
import type { Point } from '../../../core/grid/frame.ts';
import { chooseInterval, contourLines } from '../../../core/terrain/contours.ts';
import { outside } from '../../outside.ts';
import { elevationOf, groundCases, groundFrom, roughGround } from './grounds.ts';

/** Every vertex of our lines, as cell coordinates rounded to 1e-6. */
const key = (x: number, y: number): string => `${x.toFixed(5)},${y.toFixed(5)}`;

// Reference: d3-contour 4, run here on the same grid. Its rings also follow the map's edge, which ours do not.
test('the lines pass through the same points as d3-contour', () => {
  const ground = roughGround(60, 45, 12);
  const { frame } = ground;
  const lines = contourLines(ground, 3);
  const levels = lines.map((line) => line.elevation);
  expect(levels.length).toBeGreaterThan(5);
  const check = outside({
    room: 'terrain',
    method: 'Contour lines, vertex by vertex to a millionth of a cell',
    source: 'd3-contour 4',
    unit: 'vertices',
    allowed: 0,
  });
  const reference = d3contours().size([60, 45]).thresholds(levels)(Array.from(ground.cells));
  for (const [n, line] of lines.entries()) {
    const ours = new Set<string>();
    for (const path of line.paths)
      for (const [x, y] of path)
        ours.add(key((x - frame.west) / frame.cellSize, (frame.north - y) / frame.cellSize));
    const theirs = new Set<string>();
    for (const polygon of reference[n]!.coordinates)
      for (const ring of polygon)
        for (const [x, y] of ring)
          if (x! > 0.5 && y! > 0.5 && x! < 59.5 && y! < 44.5) theirs.add(key(x!, y!));
    for (const point of theirs) check.same(ours.has(point), true);
    expect(ours.size).toBeGreaterThanOrEqual(theirs.size);
  }
  check.done();
});

// Reference: gdal_contour (GDAL 3.6), tests/reference/terrain/make_ground.py. Near the edge of the map and of the data
// it guesses half a cell on, so only what lies between known cell centres is compared. It moves a level that equals
// an elevation by a hair, so the levels of the whole-metre raster are none.
test.each(groundCases)('the lines pass where those of gdal_contour do on $name', (reference) => {
  const elevation = elevationOf(reference);
  const { width, height, cellSize, west, north } = elevation.frame;
  const known = (x: number, y: number): boolean => {
    const [c, r] = [x - 0.5, y - 0.5];
    if (!(c > 0 && r > 0 && c < width - 1 && r < height - 1)) return false;
    for (const row of [Math.floor(r), Math.ceil(r)])
      for (const column of [Math.floor(c), Math.ceil(c)])
        if (Number.isNaN(elevation.cells[row * width + column]!)) return false;
    return true;
  };
  const place = (x: number, y: number): string => `${Math.round(x * 200)} ${Math.round(y * 200)}`;
  let compared = 0;
  let missing = 0;
  for (const line of contourLines(elevation, reference.contours.interval)) {
    const theirs = reference.contours.levels[line.elevation.toFixed(3)] ?? [];
    const near = new Set<string>();
    for (const path of line.paths)
      for (const [x, y] of path)
        for (const dx of [-0.005, 0, 0.005])
          for (const dy of [-0.005, 0, 0.005])
            near.add(place((x - west) / cellSize + dx, (north - y) / cellSize + dy));
    for (const [x, y] of theirs) {
      if (!known(x, y)) continue;
      compared++;
      if (!near.has(place(x, y))) missing++;
    }
  }
  expect(compared).toBeGreaterThan(500);
  const check = outside({
    room: 'terrain',
    method: 'Contour lines, to 0.01 of a cell',
    source: 'GDAL 3.6 gdal_contour',
    unit: 'of the vertices',
    allowed: 0.002,
  });
  check.part(missing, compared);
  check.done();
});

describe('on a cone', () => {
  const ground = groundFrom(101, 101, 2, (x, y) => 100 - 0.4 * Math.hypot(x - 101, y - 101));
  const lines = contourLines(ground, 5);
  test('rings lie at the radius of their level, to a tenth of a cell, higher ground on the left', () => {
    const { west, north } = ground.frame;
    const whole = lines.filter((line) => line.elevation > 62);
    expect(whole.map((line) => line.elevation)).toEqual([65, 70, 75, 80, 85, 90, 95]);
    for (const line of whole) {
      expect(line.paths).toHaveLength(1);
      const ring = line.paths[0]!;
      expect(ring[0]).toEqual(ring[ring.length - 1]);
      let area = 0;
      for (const [n, [x, y]] of ring.entries()) {
        const radius = Math.hypot(x - west - 101, y - (north - 101));
        expect(Math.abs(radius - (100 - line.elevation) / 0.4)).toBeLessThan(0.2);
        const [px, py] = ring[Math.max(0, n - 1)]!;
        area += (px - west) * (y - north) - (x - west) * (py - north);
      }
      expect(area).toBeGreaterThan(0);
    }
  });
  test('every fifth level is an index contour', () => {
    expect(lines.filter((line) => line.index).map((line) => line.elevation)).toEqual([50, 75]);
  });
  test('straightened lines stay within the tolerance', () => {
    const ring = contourLines(ground, 5, 0.5).find((line) => line.elevation === 75)!.paths[0]!;
    expect(ring.length).toBeLessThan(lines.find((line) => line.elevation === 75)!.paths[0]!.length / 2);
    for (const [x, y] of ring)
      expect(
        Math.abs(Math.hypot(x - ground.frame.west - 101, y - ground.frame.north + 101) - 62.5),
      ).toBeLessThan(0.7);
  });
});

test('lines are open at the edge of the map and of the data, and never cross no data', () => {
  const ground = groundFrom(30, 30, 1, (x) => x);
  for (let y = 10; y < 14; y++) for (let x = 0; x < 30; x++) ground.cells[y * 30 + x] = Number.NaN;
  const [line] = contourLines(ground, 10).filter(({ elevation }) => elevation === 20);
  expect(line!.paths).toHaveLength(2);
  const spans = line!.paths.map((path: Point[]) => Math.abs(path[0]![1] - path[path.length - 1]![1]));
  expect(spans.sort((a, b) => a - b)).toEqual([9, 15]);
});

test('level ground on a level, an empty grid and a silly interval', () => {
  expect(
    contourLines(
      groundFrom(5, 5, 1, () => 10),
      10,
    ),
  ).toEqual([]);
  expect(
    contourLines(
      groundFrom(5, 5, 1, () => Number.NaN),
      10,
    ),
  ).toEqual([]);
  expect(() =>
    contourLines(
      groundFrom(5, 5, 1, () => 10),
      0,
    ),
  ).toThrow(/above 0/);
});

test('the interval follows the relief, in feet or metres', () => {
  const relief = (z: number) => groundFrom(11, 1, 1, (x) => (x * z) / 10);
  expect(chooseInterval(relief(60), 'metric')).toBe(2);
  expect(chooseInterval(relief(60), 'us')).toBeCloseTo(5 * 0.3048, 9);
  expect(chooseInterval(relief(900), 'us')).toBeCloseTo(100 * 0.3048, 9);
});

test('straightened lines of neighbouring levels never cross, on steep rough ground', () => {
  const ground = roughGround(70, 60, 33);
  const lines = contourLines(ground, 1, 1);
  type Segment = [Point, Point, number];
  const buckets = new Map<string, Segment[]>();
  const cell = 4;
  let compared = 0;
  const side = (a: Point, b: Point, c: Point): number =>
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
  for (const line of lines) {
    for (const path of line.paths) {
      for (let n = 1; n < path.length; n++) {
        const [a, b] = [path[n - 1]!, path[n]!];
        const seen = new Set<Segment>();
        for (
          let x = Math.floor(Math.min(a[0], b[0]) / cell);
          x <= Math.floor(Math.max(a[0], b[0]) / cell);
          x++
        ) {
          for (
            let y = Math.floor(Math.min(a[1], b[1]) / cell);
            y <= Math.floor(Math.max(a[1], b[1]) / cell);
            y++
          ) {
            const key = `${x} ${y}`;
            const bucket = buckets.get(key) ?? [];
            for (const other of bucket) if (other[2] !== line.elevation) seen.add(other);
            bucket.push([a, b, line.elevation]);
            buckets.set(key, bucket);
          }
        }
        for (const [c, d, level] of seen) {
          compared++;
          if (side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0)
            throw new Error(`level ${line.elevation} crosses level ${level} at ${a}`);
        }
      }
    }
  }
  expect(compared).toBeGreaterThan(10_000);
});

test('lines end or close nowhere in the middle of the data', () => {
  const ground = roughGround(50, 40, 34);
  const { west, north, cellSize } = ground.frame;
  for (const { paths } of contourLines(ground, 3, 0.5)) {
    for (const path of paths) {
      const [first, last] = [path[0]!, path[path.length - 1]!];
      if (first[0] === last[0] && first[1] === last[1]) continue;
      for (const [x, y] of [first, last]) {
        const column = (x - west) / cellSize - 0.5;
        const row = (north - y) / cellSize - 0.5;
        const toEdge = Math.min(column, row, 49 - column, 39 - row);
        expect(Math.abs(toEdge)).toBeLessThan(1e-6);
      }
    }
  }
});
