import type { Grid, Point } from '../grid/frame.ts';
import { cellCentre } from '../grid/frame.ts';
import { NEIGHBOURS_16 } from '../grid/neighbours.ts';
import { type Progress, silent } from '../grid/progress.ts';
import type { MoveCosts } from './edges.ts';

/** Least accumulated cost from a set of source cells. */
export interface CostSurface {
  /** Metres of easy ground, 64-bit; Infinity where no way leads. */
  cost: Float64Array;
  /** Move by which the least way comes in, an index into NEIGHBOURS_16 plus one; 0 at sources and unreached. */
  via: Uint8Array;
}

export interface CostOptions {
  neighbours?: 8 | 16;
  /** What moves pay for lines. */
  crossings?: MoveCosts | null;
  /** Cells beyond this cost stay unreached, m of easy ground. */
  limit?: number;
  progress?: Progress;
}

const MOST_BUCKETS = 1 << 20;

/**
 * Accumulated cost over 8 or 16 neighbours. A straight or diagonal move costs its length times the mean resistance
 * of its two cells; a knight's move spends a quarter of its length in each of the four cells it passes; each pays
 * for the lines it intersects. Cells without resistance (NaN) block. Least costs by label-correcting buckets
 * (Dial 1969; Denardo & Fox 1979; Meyer & Sanders 2003): no move costs less than one bucket, so a full one is
 * settled in any order, which is exact and several times quicker than a heap or a radix queue.
 *
 * @param labels above 0 marks the source cells and names them; same cells as the grid
 */
export function accumulateCost(
  resistance: Grid,
  labels: Int32Array,
  {
    neighbours = 16,
    crossings = null,
    limit = Number.POSITIVE_INFINITY,
    progress = silent,
  }: CostOptions = {},
): CostSurface {
  const { width, height, cellSize } = resistance.frame;
  // Two cells of nothing all round save every test of the border.
  const wide = width + 4;
  const count = wide * (height + 4);
  const half = new Float64Array(count).fill(Number.NaN);
  const slot = crossings ? new Int32Array(count) : null;
  const extra = crossings?.extra ?? new Float64Array(16);
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (let row = 0, i = 0; row < height; row++) {
    for (let p = (row + 2) * wide + 2, end = p + width; p < end; p++, i++) {
      const r = resistance.cells[i]!;
      if (Number.isNaN(r)) continue;
      half[p] = r * cellSize * 0.5;
      if (r < least) least = r;
      if (r > most) most = r;
      if (slot) slot[p] = crossings!.slot[i]!;
    }
  }
  if (most > 0 && !(least > 0)) throw new Error(`resistance must be above zero everywhere, found ${least}`);
  let dearest = 0;
  for (const cost of extra) if (cost > dearest && cost < Number.POSITIVE_INFINITY) dearest = cost;

  const largest = most * cellSize * Math.sqrt(5) + dearest;
  const bucketWidth = Math.max(least * cellSize, largest / MOST_BUCKETS);
  const perCost = most > 0 ? 1 / bucketWidth : 0;
  // A power of two, so that the round of buckets closes with a mask.
  let buckets = 4;
  while (buckets < largest * perCost + 3) buckets *= 2;
  const mask = buckets - 1;

  const cost = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const via = new Uint8Array(count);
  const heads = new Int32Array(buckets).fill(-1);
  const next = new Int32Array(count);
  // The cell before in its bucket, or minus two minus the bucket for the first; 0 when not waiting (a border cell).
  const before = new Int32Array(count);
  let waiting = 0;

  const enter = (cell: number, bucket: number): void => {
    const head = heads[bucket]!;
    next[cell] = head;
    before[cell] = -2 - bucket;
    if (head >= 0) before[head] = cell;
    heads[bucket] = cell;
  };
  const leave = (cell: number): void => {
    const b = before[cell]!;
    const n = next[cell]!;
    if (b < 0) heads[-2 - b] = n;
    else next[b] = n;
    if (n >= 0) before[n] = b;
    before[cell] = 0;
  };

  for (let row = 0, i = 0; row < height; row++) {
    for (let p = (row + 2) * wide + 2, end = p + width; p < end; p++, i++) {
      if (labels[i]! > 0 && !Number.isNaN(half[p]!)) {
        cost[p] = 0;
        enter(p, 0);
        waiting++;
      }
    }
  }

  const { dx, dy } = NEIGHBOURS_16;
  const offset = Int32Array.from(dx, (x, k) => x + dy[k]! * wide);
  // The two cells a knight's move passes on its way.
  const passA = new Int32Array(16);
  const passB = new Int32Array(16);
  for (let k = 8; k < 16; k++) {
    const sx = Math.sign(dx[k]!);
    const sy = Math.sign(dy[k]!);
    passA[k] = Math.abs(dx[k]!) === 2 ? sx : sy * wide;
    passB[k] = sx + sy * wide;
  }
  const knight = Math.sqrt(5) / 2;

  const total = width * height;
  let settled = 0;
  for (let turn = 0; waiting > 0; turn++) {
    if (turn * bucketWidth > limit) break;
    const bucket = turn & mask;
    for (let cell = heads[bucket]!; cell >= 0; cell = heads[bucket]!) {
      leave(cell);
      waiting--;
      const reached = cost[cell]!;
      if ((++settled & 0x3ffff) === 0) progress(Math.min(1, settled / total));
      const own = half[cell]!;
      const floor = reached + own;
      const lines = slot === null ? 0 : slot[cell]! * 16;
      // One loop for all moves: unrolled, it grows too large for the engine to inline and runs at half the speed.
      for (let k = 0; k < neighbours; k++) {
        const to = cell + offset[k]!;
        // Whatever lies ahead, the half of this cell is paid.
        const known = cost[to]!;
        if (known <= floor) continue;
        let through = own + half[to]!;
        if (k >= 8) through = (through + half[cell + passA[k]!]! + half[cell + passB[k]!]!) * knight;
        else if (k & 1) through *= Math.SQRT2;
        let arrival = reached + through;
        if (lines !== 0) arrival += extra[lines + k]!;
        // NaN and Infinity never pass this test.
        if (arrival < known) {
          if (before[to] !== 0) leave(to);
          else waiting++;
          cost[to] = arrival;
          via[to] = k + 1;
          enter(to, Math.floor(arrival * perCost) & mask);
        }
      }
    }
  }

  const crop = <A extends Float64Array | Uint8Array>(padded: A, out: A): A => {
    for (let row = 0; row < height; row++)
      out.set(padded.subarray((row + 2) * wide + 2, (row + 2) * wide + 2 + width), row * width);
    return out;
  };
  const result = { cost: crop(cost, new Float64Array(total)), via: crop(via, new Uint8Array(total)) };
  if (limit < Number.POSITIVE_INFINITY) {
    // What still waited at the limit is not settled.
    for (let i = 0; i < total; i++) {
      if (result.cost[i]! > limit) {
        result.cost[i] = Number.POSITIVE_INFINITY;
        result.via[i] = 0;
      }
    }
  }
  return result;
}

/** The source label every least way starts from; 0 unreached. */
export function sourcesOf(surface: CostSurface, labels: Int32Array, width: number): Int32Array {
  const source = labels.map((label, i) => (label > 0 && surface.cost[i] === 0 ? label : 0));
  const chain: number[] = [];
  for (let i = 0; i < source.length; i++) {
    let at = i;
    while (source[at] === 0 && surface.via[at]! > 0) {
      chain.push(at);
      const move = surface.via[at]! - 1;
      at -= NEIGHBOURS_16.dx[move]! + NEIGHBOURS_16.dy[move]! * width;
    }
    const label = source[at]!;
    for (const cell of chain) source[cell] = label;
    chain.length = 0;
  }
  return source;
}

/** Cells of the least way from a source to a cell, the source first; empty when unreached. */
export function traceCells(surface: CostSurface, width: number, cell: number): number[] {
  if (surface.cost[cell] === Number.POSITIVE_INFINITY) return [];
  const cells = [cell];
  for (let at = cell; surface.via[at]! > 0; ) {
    const move = surface.via[at]! - 1;
    at -= NEIGHBOURS_16.dx[move]! + NEIGHBOURS_16.dy[move]! * width;
    cells.push(at);
  }
  return cells.reverse();
}

export const pathOfCells = (frame: Grid['frame'], cells: readonly number[]): Point[] =>
  cells.map((cell) => cellCentre(frame, cell));
