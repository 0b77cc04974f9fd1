import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { leastWays, walkingSpeed } from '../../../core/stands/walking.ts';
import { outside } from '../../outside.ts';
import { frameOf } from './scene.ts';

test('walks as fast as Tobler 1993 says', () => {
  // Published: 5.04 km/h on the level, at most 6 km/h, down a slope of 5%.
  const check = outside({
    room: 'stands',
    method: 'Speed of a walker by slope',
    source: 'Tobler 1993',
    unit: 'km/h',
    allowed: 5e-4,
  });
  check.compare(walkingSpeed(0) * 3.6, 5.037);
  expect(walkingSpeed(-0.05) * 3.6).toBeCloseTo(6, 12);
  check.compare(walkingSpeed(-0.05) * 3.6, 6);
  check.done();
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
  const check = outside({
    room: 'stands',
    method: 'Least ways in and out, uphill and down',
    source: 'SciPy 1.10 dijkstra',
    unit: 'of the cost',
    allowed: 1e-9,
  });
  fixture.cost.forEach((expected, i) => {
    check.compare(cost[i]!, expected ?? Number.POSITIVE_INFINITY, Math.max(1, expected ?? 1));
  });
  check.done();
  expect(fixture.cost.filter((expected) => expected !== null).length).toBeGreaterThan(1000);
});
