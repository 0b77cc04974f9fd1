import { expect, test } from 'vitest';
import { risingOrder } from '../../../core/grid/sorting.ts';
import { randomNumbers } from './frames.ts';

test('orders as a plain sort does, ties by place, without the cells that have no data', () => {
  const random = randomNumbers(61);
  const cells = Float32Array.from({ length: 5000 }, () =>
    random() < 0.05
      ? Number.NaN
      : random() < 0.2
        ? Math.round(random() * 6 - 3)
        : (random() - 0.5) * 10 ** (random() * 30 - 15),
  );
  cells[7] = -0;
  cells[8] = Number.POSITIVE_INFINITY;
  cells[9] = Number.NEGATIVE_INFINITY;
  const expected = Array.from(cells.keys())
    .filter((i) => !Number.isNaN(cells[i]!))
    .sort((a, b) => (cells[a]! < cells[b]! ? -1 : cells[a]! > cells[b]! ? 1 : a - b));
  expect(Array.from(risingOrder(cells))).toEqual(expected);
  expect(risingOrder(new Float32Array(4).fill(Number.NaN))).toHaveLength(0);
});
