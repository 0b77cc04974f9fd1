import { expect, test } from 'vitest';
import { distanceTo, nearestTo } from '../../../core/grid/distance.ts';
import { randomNumbers, testFrame } from './frames.ts';

test('equals brute force, to the last bit of 32', () => {
  const frame = testFrame(41, 29, 3);
  const random = randomNumbers(3);
  for (const share of [0.002, 0.05, 0.5]) {
    const features = Uint8Array.from({ length: 41 * 29 }, () => (random() < share ? 1 : 0));
    features[100] = 1;
    const { distance, nearest } = nearestTo(frame, features);
    for (let i = 0; i < features.length; i++) {
      let best = Number.POSITIVE_INFINITY;
      for (let j = 0; j < features.length; j++) {
        if (!features[j]) continue;
        best = Math.min(best, ((i % 41) - (j % 41)) ** 2 + (Math.floor(i / 41) - Math.floor(j / 41)) ** 2);
      }
      expect(distance.cells[i]).toBe(Math.fround(Math.sqrt(best) * 3));
      const n = nearest.cells[i]!;
      expect(features[n]).toBe(1);
      expect(((i % 41) - (n % 41)) ** 2 + (Math.floor(i / 41) - Math.floor(n / 41)) ** 2).toBe(best);
    }
  }
});

test('is infinite without features and zero on them; NaN is no feature', () => {
  const frame = testFrame(5, 4);
  expect(distanceTo(frame, new Uint8Array(20)).cells.every((d) => d === Number.POSITIVE_INFINITY)).toBe(true);
  expect(nearestTo(frame, new Float32Array(20).fill(Number.NaN)).nearest.cells.every((n) => n === -1)).toBe(
    true,
  );
  expect(distanceTo(frame, new Int32Array(20).fill(7)).cells.every((d) => d === 0)).toBe(true);
});
