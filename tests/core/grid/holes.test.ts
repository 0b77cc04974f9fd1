import { describe, expect, test } from 'vitest';
import type { Frame, Grid } from '../../../core/grid/frame.ts';
import { fillHoles } from '../../../core/grid/holes.ts';

const frame = (width: number, height: number): Frame => ({
  epsg: 32616,
  west: 0,
  north: 0,
  cellSize: 2,
  width,
  height,
  longitude: 0,
  latitude: 0,
  convergence: 0,
});
const gridOf = (width: number, height: number, value: (x: number, y: number) => number): Grid => ({
  frame: frame(width, height),
  cells: Float32Array.from({ length: width * height }, (_, i) => value(i % width, Math.floor(i / width))),
});
const block = (x: number, y: number) => x >= 8 && x < 24 && y >= 6 && y < 18 && !(x > 20 && y > 14);

describe('fillHoles', () => {
  // x² - y² solves the discrete Laplace equation exactly: the fill must bring the very surface back.
  const harmonic = (x: number, y: number) => 200 + 0.05 * (x * x - y * y) + 0.3 * x - 0.2 * y + 0.01 * x * y;

  test('brings back a harmonic surface from its rim', () => {
    const { filled, mask, holes, cells, left } = fillHoles(
      gridOf(40, 30, (x, y) => (block(x, y) ? Number.NaN : harmonic(x, y))),
      100,
    );
    let expected = 0;
    for (let y = 0; y < 30; y++)
      for (let x = 0; x < 40; x++) {
        const i = y * 40 + x;
        expect(Math.abs(filled.cells[i]! - harmonic(x, y))).toBeLessThan(0.01);
        expect(mask.cells[i]).toBe(block(x, y) ? 1 : 0);
        if (block(x, y)) expected++;
      }
    expect({ holes, cells, left }).toEqual({ holes: 1, cells: expected, left: 0 });
  });

  test('stays between the lowest and the highest value of the rim', () => {
    const rough = gridOf(40, 30, (x, y) => (block(x, y) ? Number.NaN : Math.sin(x * 12.9 + y * 78.2) * 50));
    const { filled } = fillHoles(rough, 100);
    for (let y = 6; y < 18; y++)
      for (let x = 8; x < 24; x++) expect(Math.abs(filled.cells[y * 40 + x]!)).toBeLessThan(50);
  });

  test('leaves the outside, and holes that are too wide', () => {
    const wedge = gridOf(40, 30, (x, y) => (x + y < 10 || block(x, y) ? Number.NaN : 5));
    const narrow = fillHoles(wedge, 10);
    expect(narrow).toMatchObject({ holes: 0, cells: 0, left: 1 });
    expect(narrow.filled.cells[10 * 40 + 12]).toBeNaN();
    const wide = fillHoles(wedge, 40);
    expect(wide).toMatchObject({ holes: 1, left: 0 });
    expect(wide.filled.cells[0]).toBeNaN();
    expect(wide.filled.cells[10 * 40 + 12]).toBeCloseTo(5, 4);
  });

  test('hands a whole grid back untouched', () => {
    const whole = gridOf(10, 10, (x) => x);
    expect(fillHoles(whole, 100).filled).toBe(whole);
  });
});
