import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { createQueue32 } from '../grid/monotone-queue.ts';
import { indexOffsets, NEIGHBOURS_8, oppositeDirection } from '../grid/neighbours.ts';
import { NO_RECEIVER } from './flow.ts';

/**
 * Flow directions that cross a depression along its own floor: each cell hands over to the one it was flooded
 * from, and inside a depression the lowest ground is flooded first, so the course runs from the spill down to the
 * bottom as if water had cut the sill through (the least-cost search of Ehlschlaeger 1989; Metz, Mitasova &
 * Harmon 2011). Needs no filling and knows no flats. Turned upside down it follows crests over their saddles.
 *
 * @returns codes as `flowDirections` gives them
 */
export function carvedDirections(surface: Grid): Grid<Uint8Array> {
  const { frame, cells } = surface;
  assertOnFrame(frame, surface);
  const { width, height } = frame;
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const { dx, dy } = NEIGHBOURS_8;
  const directions = new Uint8Array(cells.length);
  const queue = createQueue32(4 * (width + height));
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (Number.isNaN(cells[i]!)) continue;
      let open = x === 0 || y === 0 || x === width - 1 || y === height - 1;
      for (let k = 0; k < 8 && !open; k++) open = Number.isNaN(cells[i + offsets[k]!]!);
      if (!open) continue;
      directions[i] = NO_RECEIVER;
      queue.push(cells[i]!, i);
    }
  }

  // Cells below the flood's level, by their own elevation. Not monotone, so a plain binary heap.
  const pit: number[] = [];
  for (let i = queue.pop(); i >= 0; i = queue.pop()) {
    const level = queue.key();
    let cell = i;
    for (;;) {
      const x = cell % width;
      const y = (cell - x) / width;
      for (let k = 0; k < 8; k++) {
        const column = x + dx[k]!;
        const row = y + dy[k]!;
        if (column < 0 || row < 0 || column >= width || row >= height) continue;
        const j = cell + offsets[k]!;
        if (directions[j] !== 0 || Number.isNaN(cells[j]!)) continue;
        directions[j] = oppositeDirection(k + 1);
        if (cells[j]! <= level) pushHeap(pit, cells, j);
        else queue.push(cells[j]!, j);
      }
      if (pit.length === 0) break;
      cell = popHeap(pit, cells);
    }
  }
  return { frame, cells: directions };
}

const before = (cells: Float32Array, a: number, b: number): boolean =>
  cells[a]! < cells[b]! || (cells[a] === cells[b] && a < b);

function pushHeap(heap: number[], cells: Float32Array, item: number): void {
  let at = heap.length;
  heap.push(item);
  while (at > 0) {
    const parent = (at - 1) >> 1;
    if (!before(cells, item, heap[parent]!)) break;
    heap[at] = heap[parent]!;
    at = parent;
  }
  heap[at] = item;
}

function popHeap(heap: number[], cells: Float32Array): number {
  const top = heap[0]!;
  const item = heap.pop()!;
  const size = heap.length;
  if (size === 0) return top;
  let at = 0;
  for (;;) {
    let child = 2 * at + 1;
    if (child >= size) break;
    if (child + 1 < size && before(cells, heap[child + 1]!, heap[child]!)) child++;
    if (!before(cells, heap[child]!, item)) break;
    heap[at] = heap[child]!;
    at = child;
  }
  heap[at] = item;
  return top;
}
