import { distanceTo } from './distance.ts';
import type { Grid } from './frame.ts';
import { findPatches } from './patches.ts';

export interface FilledHoles {
  /** The grid with its holes filled; the input itself when there is none to fill. */
  filled: Grid;
  /** 1 where a cell was filled. */
  mask: Grid<Uint8Array>;
  holes: number;
  cells: number;
  /** Holes too wide to be filled, which stay no data. */
  left: number;
}

/** The worst change of a sweep at which a hole counts as settled, in the grid's unit (m for elevation: 0.1 mm). */
const SETTLED = 1e-4;
const MOST_SWEEPS = 2000;

/**
 * Fills holes (patches of no data that do not reach the frame's border) with the membrane through their rim: the
 * discrete Laplace equation, in which every filled cell is the mean of its four neighbours, so that the fill has no
 * summit or pit of its own. Solved by successive over-relaxation (Young 1954) from the nearest rim value.
 *
 * @param widest holes wider than this are left, m (twice the largest distance of a hole's cell to its rim)
 */
export function fillHoles(grid: Grid, widest: number): FilledHoles {
  const { frame, cells } = grid;
  const { width, height, cellSize } = frame;
  const empty = new Uint8Array(cells.length);
  let any = false;
  for (let i = 0; i < cells.length; i++)
    if (Number.isNaN(cells[i]!)) {
      empty[i] = 1;
      any = true;
    }
  const mask: Grid<Uint8Array> = { frame, cells: new Uint8Array(cells.length) };
  const none: FilledHoles = { filled: grid, mask, holes: 0, cells: 0, left: 0 };
  if (!any) return none;

  const { labels, patches } = findPatches(frame, empty, 4);
  const reachesBorder = new Uint8Array(patches.length + 1);
  for (let x = 0; x < width; x++) {
    reachesBorder[labels.cells[x]!] = 1;
    reachesBorder[labels.cells[(height - 1) * width + x]!] = 1;
  }
  for (let y = 0; y < height; y++) {
    reachesBorder[labels.cells[y * width]!] = 1;
    reachesBorder[labels.cells[y * width + width - 1]!] = 1;
  }
  const inside = patches.filter(({ label }) => !reachesBorder[label]);
  if (inside.length === 0) return none;

  const known = empty.map((value) => 1 - value);
  const toRim = distanceTo(frame, known).cells;
  const depth = new Float32Array(patches.length + 1);
  const members = new Map<number, number[]>(inside.map(({ label }) => [label, []]));
  for (let i = 0; i < cells.length; i++) {
    const hole = members.get(labels.cells[i]!);
    if (!hole) continue;
    hole.push(i);
    if (toRim[i]! > depth[labels.cells[i]!]!) depth[labels.cells[i]!] = toRim[i]!;
  }
  const filled = cells.slice();
  let [holes, count, left] = [0, 0, 0];
  for (const [label, indices] of members) {
    if (2 * depth[label]! > widest) {
      left++;
      continue;
    }
    settle(filled, width, indices, depth[label]! / cellSize);
    for (const i of indices) mask.cells[i] = 1;
    holes++;
    count += indices.length;
  }
  return { filled: { frame, cells: filled }, mask, holes, cells: count, left };
}

/** Relaxes the cells of one hole, in 64 bits on the box around it; its rim stays. */
function settle(cells: Float32Array, width: number, indices: number[], radius: number): void {
  let [west, east] = [width, 0];
  for (const i of indices) {
    west = Math.min(west, i % width);
    east = Math.max(east, i % width);
  }
  const top = Math.floor(indices[0]! / width) - 1;
  const bottom = Math.floor(indices.at(-1)! / width) + 1;
  const side = east - west + 3;
  const box = new Float64Array(side * (bottom - top + 1));
  const inBox = (i: number): number => (Math.floor(i / width) - top) * side + (i % width) - west + 1;
  let sum = 0;
  let rim = 0;
  for (const i of indices)
    for (const j of [i - 1, i + 1, i - width, i + width])
      if (!Number.isNaN(cells[j]!)) {
        box[inBox(j)] = cells[j]!;
        sum += cells[j]!;
        rim++;
      }
  const free = Int32Array.from(indices, inBox);
  for (const i of free) box[i] = sum / rim;
  // The best factor for a square of this side; near enough for any shape.
  const relaxation = 2 / (1 + Math.sin(Math.PI / Math.max(3, 2 * radius + 1)));
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    let worst = 0;
    for (const i of free) {
      const change = (box[i - 1]! + box[i + 1]! + box[i - side]! + box[i + side]!) / 4 - box[i]!;
      box[i]! += relaxation * change;
      worst = Math.max(worst, Math.abs(change));
    }
    if (worst < SETTLED) break;
  }
  indices.forEach((i, k) => {
    cells[i] = box[free[k]!]!;
  });
}
