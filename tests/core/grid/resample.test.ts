import { describe, expect, test } from 'vitest';
import {
  areaMeanRow,
  bilinearRow,
  majorityRow,
  nearestRow,
  type SourceWindow,
} from '../../../core/grid/resample.ts';

// Expectations are closed forms: a plane is reproduced exactly by bilinear interpolation and by area means.
const plane = (x: number, y: number) => 3 * x - 2 * y + 7;
const source = (
  width: number,
  height: number,
  value: (column: number, row: number) => number,
): SourceWindow => ({
  x: 4,
  y: 6,
  width,
  height,
  cells: Float32Array.from({ length: width * height }, (_, i) => value(i % width, Math.floor(i / width))),
});
/** Pixel centres lie at half coordinates of the whole source, which the window starts 4, 6 into. */
const planar = source(12, 10, (column, row) => plane(column + 4.5, row + 6.5));
const at = (...values: number[]) => Float64Array.from(values);

describe('bilinearRow', () => {
  test('is exact on a plane, and copies bits on pixel centres', () => {
    const xs = at(5, 7.25, 9.9, 4.5, 8.5 + 1e-8);
    const ys = at(7.2, 9.75, 12.1, 6.5, 9.5 - 1e-8);
    const out = new Float32Array(5);
    bilinearRow(planar, xs, ys, out);
    for (let i = 0; i < 3; i++) expect(out[i]).toBeCloseTo(plane(xs[i]!, ys[i]!), 4);
    expect(out[3]).toBe(planar.cells[0]);
    expect(out[4]).toBe(planar.cells[3 * 12 + 4]);
  });

  test('is no data outside and in a hole; beside a hole it uses what is there', () => {
    const holed = source(4, 4, (column, row) => (column === 2 && row === 1 ? Number.NaN : 10 + column));
    const out = new Float32Array(5);
    bilinearRow(holed, at(3.9, 8.1, 6.5, 5.9, 4.1), at(7, 7, 7.5, 7.5, 6.1), out);
    expect(out[0]).toBeNaN();
    expect(out[1]).toBeNaN();
    expect(out[2]).toBeNaN();
    expect(out[3]).toBe(11);
    expect(out[4]).toBe(10);
  });
});

describe('areaMeanRow', () => {
  test('is exact on a plane where whole pixels are covered', () => {
    const out = new Float32Array(2);
    areaMeanRow(planar, at(7, 10), at(9, 12), 4, 2, out);
    expect(out[0]).toBeCloseTo(plane(7, 9), 4);
    expect(out[1]).toBeCloseTo(plane(10, 12), 4);
  });

  test('weighs pixels on the edge by the part inside', () => {
    const steps = source(4, 1, (column) => column);
    const out = new Float32Array(1);
    // From 0.5 to 3 in the window: half of pixel 0, all of 1 and 2.
    areaMeanRow(steps, at(5.75), at(6.5), 2.5, 1, out);
    expect(out[0]).toBeCloseTo((0.5 * 0 + 1 + 2) / 2.5, 6);
  });

  test('needs data under half of the cell', () => {
    const half = source(4, 1, (column) => (column < 2 ? 5 : Number.NaN));
    const out = new Float32Array(3);
    areaMeanRow(half, at(6, 6.1, 4.5), at(6.5, 6.5, 6.5), 2, 1, out);
    expect(out[0]).toBe(5);
    expect(out[1]).toBeNaN();
    expect(out[2]).toBe(5);
  });
});

describe('classes', () => {
  const classes = source(3, 2, (column, row) => [41, 41, 82, 11, 82, 82][row * 3 + column]!);
  test('nearest takes the pixel a centre falls into', () => {
    const out = new Float32Array(4);
    nearestRow(classes, at(4, 6.99, 4.2, 7), at(6, 6.5, 7.5, 7), out);
    expect([...out]).toEqual([41, 82, 11, Number.NaN]);
  });
  test('majority goes by area; the lower code wins a tie', () => {
    const out = new Float32Array(3);
    majorityRow(classes, at(5.5, 5, 6), at(7, 7, 7), 3, 2, out.subarray(0, 1));
    majorityRow(classes, at(5.5), at(6.5), 1, 1, out.subarray(1, 2));
    majorityRow(classes, at(6), at(6.5), 2, 1, out.subarray(2, 3));
    expect([...out]).toEqual([82, 41, 41]);
  });
});
