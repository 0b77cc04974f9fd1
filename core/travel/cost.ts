import type { Grid, Point } from '../grid/frame.ts';
import { cellCentre } from '../grid/frame.ts';
import { NEIGHBOURS_16 } from '../grid/neighbours.ts';
import { type Progress, silent } from '../grid/progress.ts';
import type { MoveCosts } from './edges.ts';
import { layRelief } from './lay-relief.ts';
import { settleBucket, unmark } from './settle.ts';
import { createSweep } from './sweep.ts';
import { createWaiting, enter } from './waiting.ts';

/** Least accumulated cost from a set of source cells. */
export interface CostSurface {
  /** Metres of easy ground, 64-bit; Infinity where no way leads. */
  cost: Float64Array;
  /** Move by which the least way comes in, an index into NEIGHBOURS_16 plus one; 0 at sources and unreached. */
  via: Uint8Array;
}

export interface CostOptions {
  neighbours?: 8 | 16;
  /** What moves pay for lines and relief and save on trails. */
  crossings?: MoveCosts | null;
  /** Cells beyond this cost stay unreached, m of easy ground. */
  limit?: number;
  progress?: Progress;
}

const MOST_BUCKETS = 1 << 20;

/**
 * Accumulated cost over 8 or 16 neighbours. A straight or diagonal move costs its length times the mean resistance
 * of its two cells; a knight's move spends a quarter of its length in each of the four cells it passes; each pays
 * for the lines it intersects and for relief: every metre up and down, by the way it is walked, and sidehill by what of
 * the slope lies across it; a knight's move climbs to the middle of the two cells it passes between and on from there.
 * Along a trail a move is cheaper. Cells without resistance (NaN) block. Least costs by label-correcting buckets
 * (Dial 1969; Denardo & Fox 1979; Meyer & Sanders 2003): no move costs less than one bucket, so a full one is
 * settled in any order, which is exact and several times quicker than a heap or a radix queue. Cells wait by what
 * leaving them will have cost, half of themselves included: that order is as exact, and betters fewer cells twice.
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
  const total = width * height;
  const wide = width + 4;
  const count = wide * (height + 4);
  const walked = crossings && (crossings.relief || crossings.least < Number.POSITIVE_INFINITY);
  const sweep = createSweep(neighbours, cellSize * 0.5, count, crossings?.extra.length ?? 0, !!walked);
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (let i = 0; i < total; i++) {
    const r = resistance.cells[i]!;
    if (r < least) least = r;
    if (r > most) most = r;
  }
  if (most > 0 && !(least > 0)) throw new Error(`resistance must be above zero everywhere, found ${least}`);
  let dearest = 0;
  for (const extra of crossings?.extra ?? [])
    if (extra > dearest && extra < Number.POSITIVE_INFINITY) dearest = extra;

  const { climb } = sweep;
  const climbed = climb ? layRelief(climb, crossings?.relief ?? null, resistance.frame) : 0;
  const largest = most * cellSize * (Math.sqrt(5) + 0.5) + dearest + climbed;
  const cheapest = Math.min(least * cellSize, crossings?.least ?? Number.POSITIVE_INFINITY);
  const bucketWidth = Math.max(cheapest, largest / MOST_BUCKETS);
  const perCost = most > 0 ? 1 / bucketWidth : 0;
  const waiting = createWaiting(largest * perCost + 3, perCost, wide, sweep.lengthen);
  padded(resistance.cells, sweep.resistance, width, Number.NaN);
  if (crossings && sweep.slot) padded(crossings.slot, sweep.slot, width, 0);
  sweep.extra.fill(0).set(crossings?.extra ?? []);
  sweep.cost.fill(Number.POSITIVE_INFINITY);
  sweep.via.fill(0);
  for (let row = 0, i = 0; row < height; row++) {
    for (let p = (row + 2) * wide + 2, end = p + width; p < end; p++, i++) {
      if (labels[i]! > 0 && !Number.isNaN(resistance.cells[i]!)) {
        sweep.cost[p] = 0;
        // Over relief and trails cells wait by what reaching them costs: on a trail half of a cell need not be paid.
        enter(waiting, p, climb ? 0 : sweep.half * resistance.cells[i]!);
      }
    }
  }

  const round = waiting.buckets;
  const furthest = limit + most * cellSize;
  let seen = 0;
  let told = 0;
  for (let turn = 0, empty = 0; empty < round && turn * bucketWidth <= furthest; turn++) {
    const bucket = turn & (round - 1);
    const now = settleBucket(sweep, waiting, bucket);
    empty = now > 0 ? 0 : empty + 1;
    seen += now;
    if (seen > told + 0x3ffff) {
      told = seen;
      progress(Math.min(1, seen / total));
    }
  }
  unmark(sweep.via);
  const result = {
    cost: cropped(sweep.cost, new Float64Array(total), width),
    via: cropped(sweep.via, new Uint8Array(total), width),
  };
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

/** Copies rows between two cells of nothing all round. */
function padded<A extends Float32Array | Int32Array>(cells: A, out: A, width: number, nothing: number): void {
  let end = 0;
  for (let i = 0, p = 2 * (width + 4) + 2; i < cells.length; i += width, p += width + 4) {
    out.fill(nothing, end, p);
    out.set(cells.subarray(i, i + width), p);
    end = p + width;
  }
  out.fill(nothing, end);
}

/** Copies rows out of what lies all round. */
function cropped<A extends Float64Array | Uint8Array>(cells: A, out: A, width: number): A {
  for (let i = 0, p = 2 * (width + 4) + 2; i < out.length; i += width, p += width + 4)
    out.set(cells.subarray(p, p + width), i);
  return out;
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
