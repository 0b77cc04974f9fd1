import { describe, expect, test } from 'vitest';
import type { Grid } from '../../../core/grid/frame.ts';
import { SIGHT, type SightOptions, sightDrop, sightLine } from '../../../core/terrain/sight.ts';
import { viewshed } from '../../../core/terrain/viewshed.ts';
import { outside } from '../../outside.ts';
import { testFrame } from '../grid/frames.ts';
import { groundFrom, type Packed, readFixture, roughGround, unpack } from './grounds.ts';

/** Every sight line walked on its own, crossing by crossing. */
function bruteForce(elevation: Grid, observer: number, options: SightOptions): Uint8Array {
  const { width, cellSize } = elevation.frame;
  const { cells } = elevation;
  const lowest = Math.min(...cells.filter((z) => !Number.isNaN(z)));
  const x0 = observer % width;
  const y0 = Math.floor(observer / width);
  const eye = cells[observer]! + options.observerHeight;
  const heightAt = (x: number, y: number): number => {
    const z = cells[y * width + x]!;
    const d = Math.hypot(x - x0, y - y0) * cellSize;
    return (Number.isNaN(z) ? lowest : z) - eye - sightDrop(d, options.refraction);
  };
  return Uint8Array.from(cells, (z, i) => {
    if (i === observer) return 1;
    const x = i % width;
    const y = Math.floor(i / width);
    const [dx, dy] = [x - x0, y - y0];
    if (Number.isNaN(z) || Math.hypot(dx, dy) * cellSize > options.radius) return 0;
    const n = Math.max(Math.abs(dx), Math.abs(dy));
    const slope = (heightAt(x, y) + options.targetHeight) / n;
    for (let k = 1; k < n; k++) {
      const cx = x0 + (dx * k) / n;
      const cy = y0 + (dy * k) / n;
      let ground: number;
      if (Math.abs(dx) >= Math.abs(dy)) {
        const low = Math.floor(cy + 1e-9);
        const t = Math.max(0, cy - low);
        ground = t < 1e-12 ? heightAt(cx, low) : heightAt(cx, low) * (1 - t) + heightAt(cx, low + 1) * t;
      } else {
        const low = Math.floor(cx + 1e-9);
        const t = Math.max(0, cx - low);
        ground = t < 1e-12 ? heightAt(low, cy) : heightAt(low, cy) * (1 - t) + heightAt(low + 1, cy) * t;
      }
      if (ground / k > slope + 1e-9) return 0;
    }
    return 1;
  });
}

describe('the viewshed equals brute-force rays cell for cell', () => {
  const far: SightOptions = { ...SIGHT, radius: Number.POSITIVE_INFINITY };
  test.each([
    ['256 x 256, middle', roughGround(256, 256, 21, 5), 128 * 256 + 128, far],
    [
      '256 x 256, off centre, within 400 m',
      roughGround(256, 256, 22, 5),
      40 * 256 + 200,
      { ...SIGHT, radius: 400 },
    ],
    ['narrow map, corner', roughGround(90, 30, 23, 5), 0, far],
    [
      'high tower and tall target',
      roughGround(120, 100, 24, 30),
      50 * 120 + 3,
      { ...far, observerHeight: 25, targetHeight: 4 },
    ],
    ['one row', roughGround(64, 1, 25, 5), 20, far],
  ] as [string, Grid, number, SightOptions][])('%s', (_, elevation, observer, options) => {
    const ours = viewshed(elevation, observer, options).cells;
    const theirs = bruteForce(elevation, observer, options);
    let differ = 0;
    for (let i = 0; i < ours.length; i++) if (ours[i] !== theirs[i]) differ++;
    const check = outside({
      room: 'terrain',
      method: 'Viewshed, cell for cell',
      source: 'every sight line walked on its own',
      unit: 'cells',
      allowed: 0,
    });
    check.part(differ, ours.length);
    check.done();
    const share = ours.reduce((sum, cell) => sum + cell, 0) / ours.length;
    expect(share).toBeGreaterThan(0.005);
    expect(share).toBeLessThan(0.95);
  });
  test('with holes in the data', () => {
    const elevation = roughGround(100, 80, 26, 5);
    for (let i = 0; i < elevation.cells.length; i++) if (i % 37 < 3) elevation.cells[i] = Number.NaN;
    const observer = 40 * 100 + 52;
    expect(Number.isNaN(elevation.cells[observer]!)).toBe(false);
    expect(viewshed(elevation, observer, far).cells).toEqual(bruteForce(elevation, observer, far));
  });
});

test('a wall hides what is behind it and nothing else', () => {
  const wall = groundFrom(101, 101, 1, (x, y) => (x > 60 && x < 61 && Math.abs(y - 50.5) < 20 ? 5 : 0));
  const seen = viewshed(wall, 50 * 101 + 50, { ...SIGHT, refraction: 1 }).cells;
  const at = (x: number, y: number): number => seen[y * 101 + x]!;
  expect(at(59, 50)).toBe(1);
  expect(at(60, 50)).toBe(1);
  expect(at(61, 50)).toBe(0);
  expect(at(100, 50)).toBe(0);
  expect(at(10, 50)).toBe(1);
  // Past the wall's end the sight line clears it: (60 - 50) / 20 cells of half-length.
  expect(at(70, 95)).toBe(1);
  expect(at(80, 100)).toBe(0);
  expect(at(50, 100)).toBe(1);
});

test('on a smooth sea the horizon is where the earth curves away', () => {
  // Distance to the horizon for height h with refraction k: sqrt(2 R h / (1 - k)).
  const sea = groundFrom(401, 1, 50, () => 0);
  const options = { observerHeight: 10, targetHeight: 0, radius: Number.POSITIVE_INFINITY, refraction: 0.13 };
  const seen = viewshed(sea, 0, options).cells;
  const last = seen.lastIndexOf(1);
  const horizon = Math.sqrt((2 * 6_371_009 * 10) / 0.87);
  expect(Math.abs(last * 50 - horizon)).toBeLessThan(100);
});

describe('a line of sight as a profile', () => {
  const ridge = groundFrom(100, 20, 2, (x) => (Math.abs(x - 101) < 3 ? 8 : 0));
  const { west, north } = ridge.frame;
  test('names the first ground in the way', () => {
    const line = sightLine(ridge, [west + 21, north - 21], [west + 181, north - 21], {
      ...SIGHT,
      refraction: 1,
    });
    expect(line.visible).toBe(false);
    expect(line.obstruction!.distance).toBeGreaterThan(75);
    expect(line.obstruction!.distance).toBeLessThan(80);
    expect(line.obstruction!.above).toBeGreaterThan(0);
    expect(line.profile[0]!.ground).toBeCloseTo(0, 6);
  });
  test('goes over it from high enough', () => {
    const high = { ...SIGHT, refraction: 1, observerHeight: 20 };
    const line = sightLine(ridge, [west + 21, north - 21], [west + 141, north - 21], {
      ...high,
      targetHeight: 4,
    });
    expect(line.visible).toBe(true);
    expect(line.obstruction).toBeNull();
  });
  test('agrees with the viewshed along a row', () => {
    const ground = roughGround(80, 5, 31, 3);
    const row = 2 * 80;
    const seen = viewshed(ground, row + 10, SIGHT).cells;
    const place = (x: number): [number, number] => [
      ground.frame.west + (x + 0.5) * 3,
      ground.frame.north - 2.5 * 3,
    ];
    for (let x = 0; x < 80; x++)
      if (x !== 10) expect(sightLine(ground, place(10), place(x), SIGHT).visible ? 1 : 0).toBe(seen[row + x]);
  });
});

interface SightCase {
  name: string;
  width: number;
  height: number;
  cellSize: number;
  column: number;
  row: number;
  observerHeight: number;
  targetHeight: number;
  radius: number | null;
  elevation: Packed;
  seen: Packed;
}

// Reference: gdal_viewshed (GDAL 3.6) with curvature coefficient 0.87, which is refraction 0.13;
// tests/reference/terrain/make_viewshed.py. It carries a horizon outward by interpolation where we trace each line, and
// lets the cell under the observer hide steep ground just below it, so on steep ground the eye is put high.
test.each(readFixture<{ cases: SightCase[] }>('viewshed.json').cases)(
  'agrees with gdal_viewshed on $name',
  (reference) => {
    const { width, height, cellSize } = reference;
    const elevation = {
      frame: testFrame(width, height, cellSize),
      cells: unpack(reference.elevation) as Float32Array,
    };
    const theirs = unpack(reference.seen);
    const ours = viewshed(elevation, reference.row * width + reference.column, {
      observerHeight: reference.observerHeight,
      targetHeight: reference.targetHeight,
      radius: reference.radius ?? Number.POSITIVE_INFINITY,
      refraction: 0.13,
    }).cells;
    let differ = 0;
    let seen = 0;
    for (let i = 0; i < ours.length; i++) {
      if (ours[i] !== theirs[i]) differ++;
      seen += theirs[i]!;
    }
    expect(seen).toBeGreaterThan(200);
    const check = outside({
      room: 'terrain',
      method: 'Viewshed',
      source: 'GDAL 3.6 gdal_viewshed',
      unit: 'of the cells',
      allowed: 0.01,
    });
    check.part(differ, ours.length);
    check.done();
  },
);
