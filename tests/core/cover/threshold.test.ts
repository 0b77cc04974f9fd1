import { expect, test } from 'vitest';
import { adaptLimit, otsuSplit, quantile } from '../../../core/cover/threshold.ts';

test('two spikes are parted between them, with all the variance between the sides', () => {
  const split = otsuSplit(Float32Array.from([1, 1, 1, 5, 5, 5, 5]))!;
  expect(split.threshold).toBeGreaterThan(0.99);
  expect(split.threshold).toBeLessThan(5);
  expect(split.separability).toBeCloseTo(1, 9);
});

test('unknown and unused values do not count', () => {
  const values = Float32Array.from([1, 1, Number.NaN, 9, 9, 1000]);
  const split = otsuSplit(values, Uint8Array.from([1, 1, 1, 1, 1, 0]))!;
  expect(split.meanAbove).toBeCloseTo(9, 1);
  expect(otsuSplit(Float32Array.from([Number.NaN, 4, 4]))).toBeNull();
});

test('a limit follows a scene that parts in two, within bounds, and stays usual on one hump', () => {
  const limit = { usual: 50, least: 30, most: 60 };
  const two = Float32Array.from({ length: 400 }, (_, i) => (i % 2 ? 20 : 90) + (i % 7));
  expect(adaptLimit({ ...limit, least: 0, most: 100 }, two)).toBeGreaterThanOrEqual(20);
  expect(adaptLimit({ ...limit, least: 0, most: 100 }, two)).toBeLessThan(90);
  expect(adaptLimit({ ...limit, least: 91, most: 95 }, two)).toBe(91);
  const flat = Float32Array.from({ length: 1000 }, (_, i) => i);
  expect(adaptLimit(limit, flat)).toBe(50);
});

test('quantiles lie within a bin of the sorted place', () => {
  const values = Float32Array.from({ length: 1001 }, (_, i) => (i * 617) % 1001);
  expect(Math.abs(quantile(values, 0.25) - 250)).toBeLessThan(4);
  expect(quantile(Float32Array.from([Number.NaN, 3]), 0.5)).toBe(3);
  expect(quantile(new Float32Array(0), 0.5)).toBeNaN();
});
