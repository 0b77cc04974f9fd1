import { describe, expect, test } from 'vitest';
import { curvatureOf } from '../../../core/terrain/curvature.ts';
import { roughnessOf } from '../../../core/terrain/roughness.ts';
import { surfaceOf } from '../../../core/terrain/slope.ts';
import { outside } from '../../outside.ts';
import { elevationOf, groundCases, groundFrom, unpack } from './grounds.ts';

const LIGHT = { azimuth: 315, altitude: 45 };
const angleBetween = (a: number, b: number): number => Math.abs(((a - b + 540) % 360) - 180);

/** Cells whose whole window has data: gdaldem gives no answer for the others. */
function whole(cells: Float32Array, width: number, height: number): number[] {
  const places: number[] = [];
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      let sum = 0;
      for (let dy = -1; dy <= 1; dy++)
        for (let dx = -1; dx <= 1; dx++) sum += cells[(y + dy) * width + x + dx]!;
      if (!Number.isNaN(sum)) places.push(y * width + x);
    }
  }
  return places;
}

// Reference: gdaldem (GDAL 3.6, 32-bit floats), tests/reference/terrain/make_ground.py.
describe.each(groundCases)('against gdaldem on $name', (reference) => {
  const elevation = elevationOf(reference);
  const { slope, aspect, shade } = surfaceOf(elevation, LIGHT);
  const places = whole(elevation.cells, reference.width, reference.height);
  const [gdalSlope, gdalAspect, gdalShade] = [reference.slope, reference.aspect, reference.shade].map(unpack);

  test('the reference answers where we compare', () => {
    expect(places.length).toBeGreaterThan(2000);
    expect(places.every((i) => gdalSlope![i] !== -9999 && gdalShade![i] !== 0)).toBe(true);
  });
  const against = (method: string, unit: string, allowed: number) =>
    outside({ room: 'terrain', method, source: 'GDAL 3.6 gdaldem', unit, allowed });
  test('slope within 0.005 degrees', () => {
    const check = against('Slope after Horn', 'degrees', 5e-3);
    for (const i of places) check.compare(slope.cells[i]!, gdalSlope![i]!);
    check.done();
  });
  test('aspect within 0.01 degrees where the slope exceeds half a degree', () => {
    const check = against('Aspect where the slope exceeds half a degree', 'degrees', 1e-2);
    for (const i of places)
      if (slope.cells[i]! > 0.5) check.compare(angleBetween(aspect.cells[i]!, gdalAspect![i]!), 0);
    check.done();
  });
  test('roughness to the last bit of 32', () => {
    const expected = unpack(reference.roughness);
    const ours = roughnessOf(elevation).cells;
    const check = against('Roughness', 'm', 0);
    for (const i of places) check.compare(ours[i]!, expected[i]!);
    check.done();
  });
  test('shade within one grey level', () => {
    const check = against('Shade of the relief', 'grey levels', 1);
    for (const i of places) check.compare(shade.cells[i]!, gdalShade![i]!);
    check.done();
  });
});

test('a plane has its own slope and aspect everywhere, edges and corners included', () => {
  for (const bearing of [0, 30, 135, 200, 315]) {
    const fall = Math.tan((17 * Math.PI) / 180);
    const [east, north] = [Math.sin((bearing * Math.PI) / 180), Math.cos((bearing * Math.PI) / 180)];
    const { slope, aspect } = surfaceOf(
      groundFrom(12, 9, 2, (x, y) => 100 - fall * (x * east + y * north)),
      LIGHT,
    );
    for (const s of slope.cells) expect(s).toBeCloseTo(17, 2);
    for (const a of aspect.cells) expect(angleBetween(a, bearing)).toBeLessThan(0.02);
  }
});

test('every cell with data has a slope, wherever its neighbours are missing', () => {
  for (const hole of [0, 1, 8, 9, 45, 46, 53, 80]) {
    const ground = groundFrom(9, 9, 2, (x, y) => 0.2 * x + 0.1 * y);
    ground.cells[hole] = Number.NaN;
    const { slope, aspect } = surfaceOf(ground, LIGHT);
    for (let i = 0; i < 81; i++) {
      if (i === hole) expect(slope.cells[i]).toBeNaN();
      else {
        expect(slope.cells[i]).toBeCloseTo((Math.atan(Math.hypot(0.2, 0.1)) * 180) / Math.PI, 3);
        expect(angleBetween(aspect.cells[i]!, (Math.atan2(-0.2, -0.1) * 180) / Math.PI)).toBeLessThan(1e-3);
      }
    }
  }
});

test('a cone faces away from its tip with one slope', () => {
  const ground = groundFrom(81, 81, 1, (x, y) => 100 - 0.5 * Math.hypot(x - 40.5, y - 40.5));
  const { slope, aspect } = surfaceOf(ground, LIGHT);
  for (let i = 0; i < ground.cells.length; i++) {
    const x = (i % 81) - 40;
    const y = 40 - Math.floor(i / 81);
    if (Math.hypot(x, y) < 15 || Math.abs(x) > 38 || Math.abs(y) > 38) continue;
    expect(slope.cells[i]).toBeCloseTo((Math.atan(0.5) * 180) / Math.PI, 1);
    expect(angleBetween(aspect.cells[i]!, (Math.atan2(x, y) * 180) / Math.PI)).toBeLessThan(0.2);
  }
});

test('level ground has no aspect and the shade of the light; no data stays no data', () => {
  const ground = groundFrom(7, 7, 2, () => 50);
  ground.cells[24] = Number.NaN;
  const { slope, aspect, shade } = surfaceOf(ground, LIGHT);
  for (let i = 0; i < 49; i++) {
    expect(slope.cells[i]).toBe(i === 24 ? Number.NaN : 0);
    expect(aspect.cells[i]).toBeNaN();
    expect(shade.cells[i]).toBe(i === 24 ? 0 : Math.floor(1.5 + 254 * Math.sin(Math.PI / 4)));
  }
});

test('curvature of a sphere and a cylinder is that of the closed form', () => {
  // A dome of radius R: the downhill section bends by cos³ of the slope over R (Zevenbergen & Thorne measure the
  // second derivative along the fall line); at the top there is no fall line, so the cell is passed over.
  const R = 500;
  const dome = groundFrom(61, 61, 2, (x, y) => Math.sqrt(R * R - (x - 61) ** 2 - (y - 61) ** 2));
  const { profile, plan } = curvatureOf(dome);
  for (const i of [30 * 61 + 10, 12 * 61 + 30, 15 * 61 + 44]) {
    const x = (i % 61) * 2 + 1 - 61;
    const y = (60 - Math.floor(i / 61)) * 2 + 1 - 61;
    const r2 = x * x + y * y;
    const z = Math.sqrt(R * R - r2);
    expect(profile.cells[i]).toBeCloseTo((R * R) / z ** 3, 4);
    expect(plan.cells[i]).toBeCloseTo(1 / z, 4);
  }
  const trough = groundFrom(41, 41, 2, (x) => (x - 41) ** 2 / 400);
  const curved = curvatureOf(trough);
  expect(curved.profile.cells[20 * 41 + 8]).toBeCloseTo(-2 / 400, 5);
  expect(curved.plan.cells[20 * 41 + 8]).toBeCloseTo(0, 5);
});
