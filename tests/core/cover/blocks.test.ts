import { expect, test } from 'vitest';
import { coverBlocks, distanceToEdge } from '../../../core/cover/blocks.ts';
import { COVER } from '../../../core/cover/types.ts';
import { outside } from '../../outside.ts';
import { testFrame } from './scene.ts';

const frame = testFrame(120, 80, 5);
const paint = (fill: (x: number, y: number) => boolean) => ({
  frame,
  cells: Uint8Array.from({ length: 120 * 80 }, (_, i) =>
    fill(i % 120, Math.floor(i / 120)) ? COVER.deciduous : COVER.open,
  ),
});

test('a strip narrower than the neck does not merge two blocks, a wide one does', () => {
  const two = (x: number, y: number) => y >= 20 && y < 60 && ((x >= 10 && x < 50) || (x >= 70 && x < 110));
  const strip = (half: number) => (x: number, y: number) =>
    two(x, y) || (x >= 50 && x < 70 && Math.abs(y - 40) < half);
  expect(coverBlocks(paint(two)).table).toHaveLength(2);
  expect(coverBlocks(paint(strip(1))).table).toHaveLength(2); // one cell
  expect(coverBlocks(paint(strip(2))).table).toHaveLength(2); // three cells, 15 m
  expect(coverBlocks(paint(strip(6))).table).toHaveLength(1); // eleven cells, 55 m
});

test('blocks are numbered from the largest, hold their cells and come with outlines', () => {
  const cover = paint((x, y) => (x < 30 && y < 30) || (x >= 60 && x < 110 && y >= 20 && y < 70));
  const { blocks, table } = coverBlocks(cover);
  expect(table.map(({ id }) => id)).toEqual([1, 2]);
  // Opening with a disc rounds the free corners: one cell each for squares of this size.
  expect(table[0]!.area).toBe((50 * 50 - 4) * 25);
  expect(table[1]!.area).toBe((30 * 30 - 1) * 25); // three of its corners lie on the map's edge
  expect(blocks.cells[40 * 120 + 80]).toBe(1);
  expect(blocks.cells[10 * 120 + 10]).toBe(2);
  expect(blocks.cells[0 * 120 + 119]).toBe(0);
  expect(table[0]!.outline[0]!.length).toBeGreaterThanOrEqual(5);
});

test('patches under the least area are no blocks', () => {
  const cover = paint((x, y) => x >= 50 && x < 60 && y >= 30 && y < 40); // 2500 m2
  expect(coverBlocks(cover).table).toHaveLength(0);
  expect(coverBlocks(cover, { minArea: 2000 }).table).toHaveLength(1);
});

test('distance to the edge: closed form beside a straight edge, positive in the open', () => {
  const { cells } = distanceToEdge(paint((x) => x < 60));
  const check = outside({
    room: 'cover',
    method: 'Distance to an edge of cover',
    source: 'closed form beside a straight edge',
    unit: 'm',
    allowed: 1e-4,
  });
  for (const x of [0, 30, 59, 60, 61, 119]) check.compare(cells[40 * 120 + x]!, (x + 0.5 - 60) * 5);
  check.done();
});

test('no edge, no distance', () => {
  expect(distanceToEdge(paint(() => true)).cells.every(Number.isNaN)).toBe(true);
  expect(distanceToEdge({ frame, cells: new Uint8Array(120 * 80) }).cells.every(Number.isNaN)).toBe(true);
});
