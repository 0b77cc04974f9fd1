import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import {
  briggsOpen,
  pasquillGifford,
  plumeAt,
  STABILITY_CLASSES,
  type StabilityClass,
} from '../../../core/air/plume.ts';
import { outside } from '../../outside.ts';

const about = { room: 'air', unit: 'of the value' };
const turner = (method: string) =>
  outside({ ...about, method, source: 'Turner 1970, problems 1 to 3 (values from memory)', allowed: 0.05 });

// Turner, "Workbook of Atmospheric Dispersion Estimates" (1970), problems 1 to 3; values from memory.
test('workbook: a burning dump, 3 g/s, overcast night, 7 m/s, at 3 km', () => {
  const check = turner('Gaussian plume: a dump on level ground');
  check.compare(plumeAt(3, 7, { across: 190, up: 65 }, 0), 1.1e-5, 1.1e-5);
  const width = pasquillGifford('D', 3000);
  check.compare(width.across, 190, 190);
  check.compare(width.up, 65, 65);
  check.compare(plumeAt(3, 7, width, 0), 1.1e-5, 1.1e-5);
  check.done();
});
test('workbook: a refinery, 80 g/s at 60 m, overcast, 6 m/s, at 500 m, and 50 m to the side', () => {
  const width = { across: 36, up: 18.5 };
  const check = turner('Gaussian plume: a stack, under its line and beside it');
  check.compare(plumeAt(80, 6, width, 60), 3.3e-5, 3.3e-5);
  check.compare(plumeAt(80, 6, width, 60, 50), 1.3e-5, 1.3e-5);
  check.done();
});

test("Briggs' (1973) open-country curves at 1 km, worked by hand from his formulas", () => {
  const wanted = {
    A: [209.77, 200],
    B: [152.55, 120],
    C: [104.88, 73.03],
    D: [76.28, 37.95],
    E: [57.21, 23.08],
    F: [38.14, 12.31],
  };
  const check = outside({
    ...about,
    method: 'Spread of a plume over open country at 1 km, six classes',
    source: 'Briggs 1973, by hand',
    allowed: 5e-4,
  });
  for (const kind of STABILITY_CLASSES) {
    const { across, up } = briggsOpen(kind, 1000);
    check.compare(across, wanted[kind][0]!, wanted[kind][0]!);
    check.compare(up, wanted[kind][1]!, wanted[kind][1]!);
  }
  check.done();
});

test("Briggs' curves from 100 m to 10 km, worked in NumPy from his formulas", () => {
  const { rows } = JSON.parse(
    readFileSync(new URL('../../reference/fixtures/air/briggs.json', import.meta.url), 'utf8'),
  ) as { rows: { kind: StabilityClass; x: number; across: number; up: number }[] };
  const check = outside({
    ...about,
    method: 'Spread of a plume over open country, 100 m to 10 km, six classes',
    source: 'Briggs 1973, worked in NumPy',
    allowed: 1e-9,
  });
  for (const row of rows) {
    const { across, up } = briggsOpen(row.kind, row.x);
    check.compare(across, row.across, row.across);
    check.compare(up, row.up, row.up);
  }
  check.done();
});

test('the table of Pasquill-Gifford fits joins up: no jump over 2% where its ranges meet', () => {
  for (const kind of STABILITY_CLASSES)
    for (let x = 100; x < 9000; x *= 1.002) {
      const a = pasquillGifford(kind, x).up;
      const b = pasquillGifford(kind, x * 1.002).up;
      expect(b / a).toBeGreaterThan(0.98);
      expect(b / a).toBeLessThan(1.025);
    }
});

test('what passes a plane downwind is what was given off', () => {
  const width = { across: 30, up: 12 };
  let flux = 0;
  for (let y = -200; y <= 200; y += 2)
    for (let z = 1; z < 120; z += 2) flux += plumeAt(5, 3, width, 8, y, z) * 3 * 4;
  expect(Math.abs(flux / 5 - 1)).toBeLessThan(1e-3);
});
