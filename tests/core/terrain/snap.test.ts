import { expect, test } from 'vitest';
import type { Frame } from '../../../core/grid/frame.ts';
import { nearestDrainage } from '../../../core/terrain/snap.ts';

const frame: Frame = {
  epsg: 32616,
  west: 1000,
  north: 2000,
  cellSize: 2,
  width: 20,
  height: 10,
  longitude: 0,
  latitude: 0,
  convergence: 0,
};
/** A line of water down column 12, which gathers as it goes. */
const accumulation = {
  frame,
  cells: Uint32Array.from({ length: 200 }, (_, i) => (i % 20 === 12 ? 100 + Math.floor(i / 20) : 1)),
};

test('a spot beside the water is brought onto it, by the shortest way', () => {
  // Centre of column 9, row 4.
  expect(nearestDrainage(accumulation, [1019, 1991], 100, 10)).toBe(4 * 20 + 12);
});

test('of two equally near the one that drains more; none beyond reach or below the threshold', () => {
  // On the seam between rows 4 and 5.
  expect(nearestDrainage(accumulation, [1025, 1990], 100, 10)).toBe(5 * 20 + 12);
  expect(nearestDrainage(accumulation, [1003, 1991], 100, 10)).toBe(-1);
  expect(nearestDrainage(accumulation, [1025, 1990], 500, 10)).toBe(-1);
});
