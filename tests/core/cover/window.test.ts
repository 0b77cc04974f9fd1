import { expect, test } from 'vitest';
import { windowMean, windowTexture } from '../../../core/cover/window.ts';
import { random, testFrame } from './scene.ts';

const width = 17;
const height = 13;
const frame = testFrame(width, height);
const next = random(11);
const values = Float32Array.from({ length: width * height }, () => next() * 200);
values[20] = Number.NaN;
values[40] = Number.NaN;

const known = (x0: number, x1: number, y0: number, y1: number): number[] => {
  const list: number[] = [];
  for (let y = Math.max(0, y0); y <= Math.min(height - 1, y1); y++)
    for (let x = Math.max(0, x0); x <= Math.min(width - 1, x1); x++)
      if (!Number.isNaN(values[y * width + x]!)) list.push(values[y * width + x]!);
  return list;
};
const meanOf = (list: number[]) => list.reduce((a, b) => a + b, 0) / list.length;

test('window means equal the plain sum over each window', () => {
  const mean = windowMean(frame, values, 2);
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++)
      expect(mean[i]).toBeCloseTo(meanOf(known(x - 2, x + 2, y - 2, y + 2)), 3);
});

test('texture equals the least relative deviation of the four quarters, reckoned by hand', () => {
  const texture = windowTexture(frame, values, 3);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const quarters = [
        known(x - 3, x, y - 3, y),
        known(x, x + 3, y - 3, y),
        known(x - 3, x, y, y + 3),
        known(x, x + 3, y, y + 3),
      ].filter((list) => list.length >= 4);
      const rough = quarters.map((list) => {
        const mean = meanOf(list);
        return Math.sqrt(meanOf(list.map((v) => (v - mean) ** 2))) / (mean + 10);
      });
      expect(texture[i]).toBeCloseTo(Math.min(...rough), 4);
    }
  }
});

test('a sharp edge between two smooth fields has no texture', () => {
  const cells = Float32Array.from(values, (_, i) => (i % width < 8 ? 40 : 160));
  expect(Math.max(...windowTexture(frame, cells, 3))).toBeLessThan(1e-6);
});
