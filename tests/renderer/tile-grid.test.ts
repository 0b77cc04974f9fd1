import { describe, expect, it } from 'vitest';
import { extentOf, resolutions, roundStep, TILE_SIZE, ticks } from '../../renderer/map/tile-grid.ts';

const frame = (width: number, height: number, cellSize: number) => ({
  west: 500_000,
  north: 4_000_000,
  cellSize,
  width,
  height,
});

describe('tile grid', () => {
  it('lays the longer side of the frame across one tile at zoom 0 and halves from there', () => {
    const steps = resolutions(frame(1600, 1200, 2.5));
    expect(steps[0]! * TILE_SIZE).toBeCloseTo(1600 * 2.5, 9);
    for (let z = 1; z < steps.length; z++) expect(steps[z]).toBe(steps[z - 1]! / 2);
  });

  it('ends at the first zoom as fine as a cell', () => {
    for (const [w, h, cell] of [
      [256, 256, 1],
      [257, 10, 3],
      [3000, 3000, 1],
      [90, 120, 90],
      [20_000, 11_000, 3],
    ] as const) {
      const steps = resolutions(frame(w, h, cell));
      expect(steps.at(-1)).toBeLessThanOrEqual(Math.max(cell, steps[0]!) + 1e-9);
      if (Math.max(w, h) > TILE_SIZE) {
        expect(steps.at(-1)!).toBeLessThanOrEqual(cell);
        expect(steps.at(-2)!).toBeGreaterThan(cell);
      } else expect(steps).toHaveLength(1);
    }
  });

  it('never asks beyond zoom 14, the last the service answers', () => {
    expect(resolutions(frame(256 * 2 ** 16, 5, 1))).toHaveLength(15);
  });

  it('knows the frame’s extent', () => {
    expect(extentOf(frame(100, 50, 2))).toEqual([500_000, 3_999_900, 500_200, 4_000_000]);
  });
});

describe('ticks', () => {
  it('steps by 1, 2 or 5 times a power of ten, no closer than asked', () => {
    for (const resolution of [0.01, 0.3, 1, 3.7, 12, 90]) {
      const step = roundStep(resolution, 130);
      const mantissa = step / 10 ** Math.floor(Math.log10(step) + 1e-9);
      expect([1, 2, 5].some((m) => Math.abs(m - mantissa) < 1e-9)).toBe(true);
      expect(step / resolution).toBeGreaterThanOrEqual(130 * (1 - 1e-9));
      expect(step / resolution).toBeLessThanOrEqual(130 * 2.5 + 1e-9);
    }
  });

  it('counts both ends and nothing outside', () => {
    expect(ticks(0, 10, 5)).toEqual([0, 5, 10]);
    expect(ticks(570_123, 570_999, 500)).toEqual([570_500]);
    expect(ticks(1, 2, 5)).toEqual([]);
    expect(ticks(-7, 7, 5)).toEqual([-5, 0, 5]);
  });
});
