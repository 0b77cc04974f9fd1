import { describe, expect, test } from 'vitest';
import { createQueue32, createQueue64 } from '../../../core/grid/monotone-queue.ts';
import { randomNumbers } from './frames.ts';

describe.each([
  ['32-bit', createQueue32, Math.fround, -400],
  ['64-bit', createQueue64, (x: number) => x, 0],
] as const)('monotone queue, %s keys', (_, create, round, lowest) => {
  test('pops in the order of a plain sort while pushing above the last pop', () => {
    const random = randomNumbers(7);
    const queue = create(16);
    const waiting: number[] = [];
    let floor: number = lowest;
    for (let n = 0; n < 20_000; n++) {
      if (waiting.length === 0 || random() < 0.55) {
        // Steps over many orders of magnitude, with repeats and zero steps.
        const key = round(floor + (random() < 0.1 ? 0 : 10 ** (random() * 12 - 9)));
        queue.push(key, n);
        waiting.push(key);
      } else {
        let best = 0;
        for (let k = 1; k < waiting.length; k++) if (waiting[k]! < waiting[best]!) best = k;
        queue.pop();
        expect(queue.key()).toBe(waiting[best]);
        floor = waiting[best]!;
        waiting[best] = waiting[waiting.length - 1]!;
        waiting.pop();
      }
      if (queue.size() !== waiting.length) throw new Error('size is wrong');
    }
  });

  test('gives back each item once, with its key', () => {
    const random = randomNumbers(11);
    const queue = create();
    const keys = Array.from({ length: 5000 }, () => round(lowest + random() * 1000));
    for (const [item, key] of keys.entries()) queue.push(key, item);
    const seen = new Set<number>();
    for (let item = queue.pop(); item >= 0; item = queue.pop()) {
      expect(queue.key()).toBe(keys[item]);
      seen.add(item);
    }
    expect(seen.size).toBe(keys.length);
  });

  test('refuses a key below the last pop, and NaN; takes both zeros and infinity', () => {
    const queue = create();
    queue.push(-0, 1);
    queue.push(Number.POSITIVE_INFINITY, 3);
    expect(queue.pop()).toBe(1);
    queue.push(-0, 2);
    expect(queue.pop()).toBe(2);
    expect(() => queue.push(-1, 4)).toThrow(/after popping 0/);
    expect(() => queue.push(Number.NaN, 4)).toThrow(/NaN/);
    expect(queue.pop()).toBe(3);
    expect(queue.key()).toBe(Number.POSITIVE_INFINITY);
    expect(queue.pop()).toBe(-1);
  });
});
