import { NEIGHBOURS_16 } from '../grid/neighbours.ts';
import type { Relief } from './relief.ts';
import type { Sweep } from './sweep.ts';
import { BLOCK, ENDS, LEAPS, MOVES, makeRoom, open, release, SETTLED, type Waiting } from './waiting.ts';

/** Relief on padded cells, and what it makes of each of the 16 moves. */
export interface Climb {
  /** m; 0 all round. */
  heights: Float32Array;
  /** Squared tangents of the slope. */
  slopes: Float32Array;
  /** Cost of a metre up or down by their mean, and what a metre of rise adds to it. */
  mean: number;
  more: number;
  /** What the slopes at both ends of a move add up to as sidehill, and what the square of its rise takes off. */
  across: Float64Array;
  risen: Float64Array;
  /** No move pays more for relief than this. */
  dearest: number;
}

/** @param relief null for the level, where only trails are minded */
export function climbOf(relief: Relief | null, width: number, height: number, cellSize: number): Climb {
  const wide = width + 4;
  const heights = new Float32Array(wide * (height + 4));
  const slopes = new Float32Array(heights.length);
  const { up, down, sidehill } = relief ?? { up: 0, down: 0, sidehill: 0 };
  let highestStep = 0;
  let steepest = 0;
  if (relief) {
    const { heights: z, east, south } = relief.ground;
    for (let row = 0, i = 0; row < height; row++)
      for (let p = (row + 2) * wide + 2, end = p + width; p < end; p++, i++) {
        heights[p] = z[i]!;
        slopes[p] = east[i]! * east[i]! + south[i]! * south[i]!;
        if (slopes[p]! > steepest) steepest = slopes[p]!;
        const fromWest = end - p < width ? Math.abs(z[i]! - z[i - 1]!) : 0;
        const fromNorth = row > 0 ? Math.abs(z[i]! - z[i - width]!) : 0;
        if (fromWest > highestStep) highestStep = fromWest;
        if (fromNorth > highestStep) highestStep = fromNorth;
      }
  }
  const lengths = NEIGHBOURS_16.length.map((cells) => cells * cellSize);
  return {
    heights,
    slopes,
    mean: (up + down) / 2,
    more: (up - down) / 2,
    across: lengths.map((length) => (sidehill * length) / 2),
    risen: lengths.map((length) => sidehill / length),
    // A knight's move climbs no more than three steps.
    dearest: 3 * highestStep * Math.max(up, down) + sidehill * steepest * cellSize * Math.sqrt(5),
  };
}

/**
 * Settles the cells of a bucket over relief and trails, by all their moves; how many waited. Cells wait by what
 * reaching them costs, since on a trail half of a cell need not be paid.
 */
export function settleOverRelief(
  sweep: Sweep,
  { heights, slopes, mean, more, across, risen }: Climb,
  waiting: Waiting,
  bucket: number,
): number {
  const { buckets, perCost } = waiting;
  const mask = buckets - 1;
  const knight = Math.sqrt(5) / 2;
  let seen = 0;
  for (let end = waiting.table[ENDS + bucket]!; end !== 0; end = waiting.table[ENDS + bucket]!) {
    makeRoom(waiting);
    const { table } = waiting;
    const { neighbours, cost, resistance, via, extra, half, slot } = sweep;
    const block = (end - 1) & -BLOCK;
    table[ENDS + bucket] = table[block]!;
    seen += end - block - 1;
    for (let at = block + 1; at < end; at++) {
      const cell = table[at]!;
      if (via[cell]! >= SETTLED) continue;
      via[cell]! += SETTLED;
      const reached = cost[cell]!;
      const own = resistance[cell]! * half;
      const lines = slot === null ? 0 : slot[cell]! * 16;
      const floor = lines === 0 ? reached + own : reached;
      const from = heights[cell]!;
      const slope = slopes[cell]!;
      for (let k = 0; k < neighbours; k++) {
        // The knight's moves follow the eight, which stand there three times.
        const place = k < 8 ? MOVES + k : LEAPS - 8 + k;
        const next = cell + table[place]!;
        const known = cost[next]!;
        if (known <= floor) continue;
        let through = own + resistance[next]! * half;
        if (k >= 8)
          through =
            (through +
              (resistance[cell + table[place + 8]!]! + resistance[cell + table[place + 16]!]!) * half) *
            knight;
        else if (k & 1) through *= Math.SQRT2;
        let arrival = reached + through;
        if (lines !== 0) arrival += extra[lines + k]!;
        // NaN and Infinity never pass this test; relief only adds.
        if (!(arrival < known)) continue;
        const rise = heights[next]! - from;
        let climbed = Math.abs(rise);
        if (k >= 8) {
          const middle =
            (heights[cell + table[place + 8]!]! + heights[cell + table[place + 16]!]!) * 0.5 - from;
          climbed = Math.abs(middle) + Math.abs(rise - middle);
        }
        const sidehill = (slope + slopes[next]!) * across[k]! - rise * rise * risen[k]!;
        arrival += climbed * mean + rise * more + Math.max(0, sidehill);
        if (!(arrival < known)) continue;
        cost[next] = arrival;
        via[next] = k + 1;
        const later = ENDS + ((arrival * perCost) & mask);
        let last = table[later]!;
        if ((last & (BLOCK - 1)) === 0) last = open(table, last);
        table[last] = next;
        table[later] = last + 1;
      }
    }
    release(table, block);
  }
  return seen;
}
