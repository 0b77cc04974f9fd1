import type { Sweep } from './sweep.ts';
import { BLOCK, ENDS, LEAPS, makeRoom, open, release, SETTLED, type Waiting } from './waiting.ts';

const KNIGHT = Math.sqrt(5) / 2;
const NO_LINES = new Int32Array(0);

/** Takes the mark of settled cells off their moves. */
export function unmark(via: Uint8Array): void {
  // Four moves a word.
  const words = new Uint32Array(via.buffer, via.byteOffset, via.length >> 2);
  for (let i = 0; i < words.length; i++) words[i]! &= 0x01010101 * (SETTLED - 1);
  for (let i = via.length & -4; i < via.length; i++) via[i]! &= SETTLED - 1;
}

/**
 * Settles the cells of a bucket; how many waited in it, those passed over included. The knight's moves on the level are
 * apart from the eight: for them there is less to win outside of TypeScript.
 */
export function settleBucket(sweep: Sweep, waiting: Waiting, bucket: number): number {
  const { buckets, perCost } = waiting;
  let seen = 0;
  for (let end = waiting.table[ENDS + bucket]!; end !== 0; end = waiting.table[ENDS + bucket]!) {
    makeRoom(waiting);
    const { table } = waiting;
    const block = (end - 1) & -BLOCK;
    table[ENDS + bucket] = table[block]!;
    sweep.run(block + 1, end, buckets - 1, perCost);
    if (sweep.neighbours === 16 && !sweep.climb) {
      const { cost, resistance, via, extra, half } = sweep;
      const slot = sweep.slot ?? NO_LINES;
      leap(table, block + 1, end, buckets, perCost, cost, resistance, via, slot, extra, half);
    }
    seen += end - block - 1;
    release(table, block);
  }
  return seen;
}

/** The knight's moves of the cells of a block. All it works on comes in by itself: out of an object it takes longer. */
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
