import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { leastWays, walkingSpeed } from '../../../core/stands/walking.ts';
import { frameOf } from './scene.ts';

test('walks as fast as Tobler 1993 says', () => {
  // Published: 5.04 km/h on the level, at most 6 km/h, down a slope of 5%.
  expect(walkingSpeed(0) * 3.6).toBeCloseTo(5.037, 3);
  expect(walkingSpeed(-0.05) * 3.6).toBeCloseTo(6, 12);
  for (const slope of [-0.3, -0.06, -0.04, 0.1])
    expect(walkingSpeed(slope)).toBeLessThan(walkingSpeed(-0.05));
  // As fast up 10% as down 20%, both 15% off the fastest.
  expect(walkingSpeed(0.1)).toBeCloseTo(walkingSpeed(-0.2), 12);
});

test('least ways equal SciPy dijkstra, uphill and down each at its own speed', () => {
  // SciPy 1.10 csgraph.dijkstra; tests/reference/stands/make_walk.py.
  const fixture = JSON.parse(
    readFileSync(new URL('../../reference/fixtures/stands/walk.json', import.meta.url), 'utf8'),
  ) as Record<'elevation' | 'pace' | 'price' | 'cost', (number | null)[]> &
    Record<'width' | 'height' | 'cellSize' | 'start', number>;
  const frame = frameOf(fixture.width, fixture.height, fixture.cellSize);
  const grid = (values: (number | null)[]) => ({
    frame,
    cells: Float32Array.from(values, (value) => value ?? Number.NaN),
  });
  const { cost } = leastWays(
    {
      elevation: grid(fixture.elevation),
      pace: grid(fixture.pace),
      price: grid(fixture.price),
      crossings: null,
      speed: walkingSpeed,
    },
    [[fixture.start, 0]],
  );
  let reached = 0;
  fixture.cost.forEach((expected, i) => {
    if (expected === null) expect(cost[i]).toBe(Number.POSITIVE_INFINITY);
    else {
      reached++;
      expect(Math.abs(cost[i]! - expected)).toBeLessThanOrEqual(1e-9 * Math.max(1, expected));
    }
  });
  expect(reached).toBeGreaterThan(1000);
});
