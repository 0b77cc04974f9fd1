import { BLOCK, ENDS, LEAPS, MOVES, makeRoom, open, release, type Waiting } from './waiting.ts';

/** What a sweep over padded cells works on: two cells of nothing all round save every test of the border. */
export interface Sweep {
  neighbours: 8 | 16;
  /** Half of a cell's side, m: a move costs this times the resistance of the cells it joins. */
  half: number;
  /** NaN blocks. */
  resistance: Float32Array;
  /** Infinity where not reached; 0 at the sources. */
  cost: Float64Array;
  /** Move by which the least way comes in plus one; SETTLED is added once nothing can better it. */
  via: Uint8Array;
  /** Row of `extra` by cell; null without lines. */
  slot: Int32Array | null;
  extra: Float64Array;
}

export const SETTLED = 32;
const KNIGHT = Math.sqrt(5) / 2;
const NO_LINES = new Int32Array(0);

/** Takes the mark of settled cells off their moves. */
export function unmark(via: Uint8Array): void {
  // Four moves a word.
  const words = new Uint32Array(via.buffer, via.byteOffset, via.length >> 2);
  for (let i = 0; i < words.length; i++) words[i]! &= 0x01010101 * (SETTLED - 1);
  for (let i = via.length & -4; i < via.length; i++) via[i]! &= SETTLED - 1;
}

/** Settles the cells of a bucket; how many waited in it, those passed over included. */
export function settleBucket(sweep: Sweep, waiting: Waiting, bucket: number): number {
  const { neighbours, cost, resistance, via, extra, half } = sweep;
  const slot = sweep.slot ?? NO_LINES;
  const { buckets, perCost } = waiting;
  let seen = 0;
  for (let end = waiting.table[ENDS + bucket]!; end !== 0; end = waiting.table[ENDS + bucket]!) {
    makeRoom(waiting);
    const { table } = waiting;
    const block = (end - 1) & -BLOCK;
    table[ENDS + bucket] = table[block]!;
    const first = block + 1;
    step(table, first, end, buckets, perCost, cost, resistance, via, slot, extra, half);
    if (neighbours === 16)
      leap(table, first, end, buckets, perCost, cost, resistance, via, slot, extra, half);
    seen += end - first;
    release(table, block);
  }
  return seen;
}

/**
 * Settles the cells of a block by the eight moves round them, and writes 0, a cell of the border, for those settled
 * before. All it works on comes in by itself, and the knight's moves are apart: in one loop with them, or out of an
 * object, the engine takes a fifth longer.
 */
function step(
  table: Int32Array,
  begin: number,
  end: number,
  buckets: number,
  perCost: number,
  cost: Float64Array,
  resistance: Float32Array,
  via: Uint8Array,
  slot: Int32Array,
  extra: Float64Array,
  half: number,
): void {
  const mask = buckets - 1;
  const lined = slot.length > 0;
  for (let at = begin; at < end; at++) {
    const cell = table[at]!;
    const from = via[cell]!;
    if (from >= SETTLED) {
      table[at] = 0;
      continue;
    }
    via[cell] = from + SETTLED;
    const reached = cost[cell]!;
    const own = resistance[cell]! * half;
    const lines = lined ? slot[cell]! * 16 : 0;
    let first = MOVES + 8;
    let last = MOVES + 15;
    // Where no line is near, the cell before reached its own neighbours at less cost: only five moves lead on.
    if (from > 0 && from <= 8 && lines === 0 && (!lined || slot[cell - table[MOVES + from - 1]!] === 0)) {
      first = MOVES + from + 5;
      last = MOVES + from + 9;
    }
    for (let k = first; k <= last; k++) {
      const to = cell + table[k]!;
      const known = cost[to]!;
      const beyond = resistance[to]! * half;
      let through = own + beyond;
      if (k & 1) through *= Math.SQRT2;
      let arrival = reached + through;
      if (lines !== 0) arrival += extra[lines + (k & 7)]!;
      // NaN and Infinity never pass this test.
      if (arrival < known) {
        cost[to] = arrival;
        via[to] = (k & 7) + 1;
        const bucket = ENDS + (((arrival + beyond) * perCost) & mask);
        let place = table[bucket]!;
        if ((place & (BLOCK - 1)) === 0) place = open(table, place);
        table[place] = to;
        table[bucket] = place + 1;
      }
    }
  }
}

/** The knight's moves of the cells of a block. */
function leap(
  table: Int32Array,
  begin: number,
  end: number,
  buckets: number,
  perCost: number,
  cost: Float64Array,
  resistance: Float32Array,
  via: Uint8Array,
  slot: Int32Array,
  extra: Float64Array,
  half: number,
): void {
  const mask = buckets - 1;
  const lined = slot.length > 0;
  for (let at = begin; at < end; at++) {
    const cell = table[at]!;
    if (cell === 0) continue;
    const reached = cost[cell]!;
    const own = resistance[cell]! * half;
    const lines = lined ? slot[cell]! * 16 : 0;
    const floor = reached + own;
    for (let k = LEAPS; k < LEAPS + 8; k++) {
      const to = cell + table[k]!;
      const known = cost[to]!;
      if (known <= floor) continue;
      const beyond = resistance[to]! * half;
      const passed = resistance[cell + table[k + 8]!]! * half;
      const next = resistance[cell + table[k + 16]!]! * half;
      let arrival = reached + (own + beyond + passed + next) * KNIGHT;
      if (lines !== 0) arrival += extra[lines + 8 + k - LEAPS]!;
      if (arrival < known) {
        cost[to] = arrival;
        via[to] = k - LEAPS + 9;
        const bucket = ENDS + (((arrival + beyond) * perCost) & mask);
        let place = table[bucket]!;
        if ((place & (BLOCK - 1)) === 0) place = open(table, place);
        table[place] = to;
        table[bucket] = place + 1;
      }
    }
  }
}
