import { expect, test } from 'vitest';
import type { Point } from '../../../core/grid/frame.ts';
import { outlines } from '../../../core/grid/outline.ts';
import { findPatches } from '../../../core/grid/patches.ts';
import { ringArea } from '../../../core/grid/simplify.ts';
import { randomNumbers, testFrame } from './frames.ts';

/** Flood fill, the plain way. */
function floodSizes(values: Uint8Array, width: number, height: number, corners: boolean): number[] {
  const done = new Uint8Array(values.length);
  const sizes: number[] = [];
  for (let start = 0; start < values.length; start++) {
    if (!values[start] || done[start]) continue;
    const stack = [start];
    done[start] = 1;
    let size = 0;
    while (stack.length > 0) {
      const i = stack.pop()!;
      size++;
      for (let dy = -1; dy <= 1; dy++) {
        for (let dx = -1; dx <= 1; dx++) {
          if (!corners && dx !== 0 && dy !== 0) continue;
          const x = (i % width) + dx;
          const y = Math.floor(i / width) + dy;
          const j = y * width + x;
          if (x < 0 || y < 0 || x >= width || y >= height || done[j] || values[j] !== values[i]) continue;
          done[j] = 1;
          stack.push(j);
        }
      }
    }
    sizes.push(size);
  }
  return sizes.sort((a, b) => b - a);
}

test.each([4, 8] as const)(
  'patches over %i neighbours are those of a flood fill, largest first',
  (connectivity) => {
    const frame = testFrame(60, 45);
    const random = randomNumbers(5);
    const values = Uint8Array.from({ length: 60 * 45 }, () => Math.floor(random() * 3));
    const { labels, patches } = findPatches(frame, values, connectivity);
    expect(patches.map((patch) => patch.cells)).toEqual(floodSizes(values, 60, 45, connectivity === 8));
    for (let i = 0; i < values.length; i++) {
      expect(labels.cells[i] === 0).toBe(values[i] === 0);
      if (values[i]) expect(patches[labels.cells[i]! - 1]!.value).toBe(values[i]);
    }
  },
);

test('small patches are dropped and centres are the mean of the cells', () => {
  const frame = testFrame(6, 3);
  const values = Uint8Array.from([1, 1, 0, 0, 0, 2, 1, 1, 0, 0, 0, 0, 0, 0, 0, 3, 3, 3]);
  const { labels, patches } = findPatches(frame, values, 4, 12);
  expect(patches.map((patch) => [patch.value, patch.area])).toEqual([
    [1, 16],
    [3, 12],
  ]);
  expect(patches[0]!.centre).toEqual([600_002, 4_299_998]);
  expect(labels.cells[5]).toBe(0);
});

const cross = (a: Point, b: Point): string => `${a[0]},${a[1]}>${b[0]},${b[1]}`;

test.each([4, 8] as const)(
  'outlines over %i neighbours enclose exactly their cells, in simple rings',
  (connectivity) => {
    const frame = testFrame(40, 30);
    const random = randomNumbers(9);
    const values = Uint8Array.from({ length: 40 * 30 }, () => (random() < 0.55 ? 1 : 0));
    const { labels, patches } = findPatches(frame, values, connectivity);
    const rings = outlines(frame, labels.cells, patches.length);
    for (const patch of patches) {
      const own = rings[patch.label - 1]!;
      const areas = own.map(ringArea);
      expect(areas.reduce((sum, area) => sum + area, 0)).toBeCloseTo(patch.area, 6);
      if (connectivity === 4) expect(areas.filter((area) => area > 0)).toHaveLength(1);
      for (const ring of own) {
        expect(ring[0]).toEqual(ring[ring.length - 1]);
        const corners = ring.slice(1).map((point) => point.join());
        expect(new Set(corners).size).toBe(corners.length);
        for (let k = 1; k < ring.length; k++) {
          const [a, b] = [ring[k - 1]!, ring[k]!];
          if (a[0] !== b[0] && a[1] !== b[1]) throw new Error(`a slanted side ${cross(a, b)}`);
        }
      }
    }
  },
);

test('a ring-shaped patch closed at a corner has an outer ring and a hole', () => {
  const frame = testFrame(4, 4, 1);
  // The gap at the upper right touches the hole by a corner only.
  const values = Uint8Array.from([1, 1, 1, 0, 1, 0, 0, 1, 1, 0, 0, 1, 1, 1, 1, 1]);
  const { labels, patches } = findPatches(frame, values, 4);
  const rings = outlines(frame, labels.cells, 1)[0]!;
  expect(patches[0]!.cells).toBe(11);
  expect(rings.map(ringArea)).toEqual([15, -4]);
});

test('straightening keeps the area within the tolerance times the length', () => {
  const frame = testFrame(80, 80, 1);
  const disc = Uint8Array.from({ length: 6400 }, (_, i) =>
    Math.hypot((i % 80) - 39.5, Math.floor(i / 80) - 39.5) < 30 ? 1 : 0,
  );
  const { labels } = findPatches(frame, disc);
  const exact = outlines(frame, labels.cells, 1)[0]![0]!;
  const simple = outlines(frame, labels.cells, 1, 1)[0]![0]!;
  expect(simple.length).toBeLessThan(exact.length / 3);
  expect(Math.abs(ringArea(simple) - ringArea(exact))).toBeLessThan(2 * Math.PI * 30);
});
