import { NEIGHBOURS_16 } from '../grid/neighbours.ts';

/**
 * Cells waiting to be settled, in round buckets of arrival (Dial 1969). A bucket is a chain of blocks, so that it is
 * filled and read in memory order; a cell that found a better way waits once more, and its older places are passed
 * over when they come up.
 */
export interface Buckets {
  /**
   * Blocks of BLOCK numbers: the place after the block behind in the same bucket (0 none), then cells. Block 0 keeps
   * the first free block and how many are free.
   */
  blocks: Int32Array;
  /** Place after the last cell of each bucket; 0 empty. Their count is a power of two. */
  ends: Int32Array;
  perCost: number;
}

const BLOCK = 64;
const FIRST_FREE = 0;
const FREE = 1;
/** The most blocks the cells of one block can open: one for each of their moves. */
const MOST_OPENED = 16 * BLOCK;

export function createBuckets(count: number, perCost: number): Buckets {
  let rounded = 4;
  while (rounded < count) rounded *= 2;
  const buckets = { blocks: new Int32Array(BLOCK), ends: new Int32Array(rounded), perCost };
  makeRoom(buckets);
  return buckets;
}

function makeRoom(buckets: Buckets): void {
  if (buckets.blocks[FREE]! >= MOST_OPENED) return;
  const used = buckets.blocks.length;
  const blocks = new Int32Array(Math.max(2 * used, used + 2 * MOST_OPENED * BLOCK));
  blocks.set(buckets.blocks);
  for (let block = used; block < blocks.length; block += BLOCK) release(blocks, block);
  buckets.blocks = blocks;
}

function release(blocks: Int32Array, block: number): void {
  blocks[block] = blocks[FIRST_FREE]!;
  blocks[FIRST_FREE] = block;
  blocks[FREE]!++;
}

/** Takes a free block for what follows the place `behind`; its first place. */
function open(blocks: Int32Array, behind: number): number {
  const block = blocks[FIRST_FREE]!;
  blocks[FIRST_FREE] = blocks[block]!;
  blocks[FREE]!--;
  blocks[block] = behind;
  return block + 1;
}

export function enter(buckets: Buckets, cell: number, key: number): void {
  makeRoom(buckets);
  const { blocks, ends, perCost } = buckets;
  const bucket = (key * perCost) & (ends.length - 1);
  let place = ends[bucket]!;
  if (place % BLOCK === 0) place = open(blocks, place);
  blocks[place] = cell;
  ends[bucket] = place + 1;
}

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
  /** See `offsetsFor`. */
  offset: Int32Array;
}

const SETTLED = 32;

/** Takes the mark of settled cells off their moves. */
export function unmark(via: Uint8Array): void {
  for (let i = 0; i < via.length; i++) via[i]! &= SETTLED - 1;
}

/** Moves round a cell three times over, so that any run of them clockwise lies together. */
const ROUND = 24;
const KNIGHT = Math.sqrt(5) / 2;
const NOWHERE = new Int32Array(0);

/** Settles the cells of a bucket; how many there were. */
export function settleBucket(sweep: Sweep, buckets: Buckets, bucket: number): number {
  const { ends, perCost } = buckets;
  const { neighbours, cost, resistance, via, extra, half, offset } = sweep;
  const slot = sweep.slot ?? NOWHERE;
  let settled = 0;
  for (let end = ends[bucket]!; end !== 0; end = ends[bucket]!) {
    makeRoom(buckets);
    const { blocks } = buckets;
    const block = (end - 1) & -BLOCK;
    ends[bucket] = blocks[block]!;
    const rest = settleBlock(
      blocks,
      block + 1,
      end,
      ends,
      perCost,
      cost,
      resistance,
      via,
      slot,
      extra,
      half,
      offset,
    );
    if (neighbours === 16)
      leapBlock(blocks, block + 1, rest, ends, perCost, cost, resistance, via, slot, extra, half, offset);
    settled += rest - block - 1;
    release(blocks, block);
  }
  return settled;
}

/** What each move adds to a padded index: the eight three times over, the knight's, then the two cells they pass. */
export function offsetsFor(wide: number): Int32Array {
  const { dx, dy } = NEIGHBOURS_16;
  const offset = new Int32Array(ROUND + 24);
  for (let k = 0; k < ROUND; k++) offset[k] = dx[k & 7]! + dy[k & 7]! * wide;
  for (let k = 8; k < 16; k++) {
    const [x, y] = [dx[k]!, dy[k]!];
    const at = ROUND + k - 8;
    offset[at] = x + y * wide;
    offset[at + 8] = Math.abs(x) === 2 ? Math.sign(x) : Math.sign(y) * wide;
    offset[at + 16] = Math.sign(x) + Math.sign(y) * wide;
  }
  return offset;
}

/**
 * Settles the cells of a block by the eight moves round them, and leaves those not settled before at its front; the
 * place after the last of these. All it works on comes in by itself, and the knight's moves are apart: in one loop
 * with them, or out of an object, the engine takes a fifth longer.
 */
function settleBlock(
  blocks: Int32Array,
  begin: number,
  end: number,
  ends: Int32Array,
  perCost: number,
  cost: Float64Array,
  resistance: Float32Array,
  via: Uint8Array,
  slot: Int32Array,
  extra: Float64Array,
  half: number,
  offset: Int32Array,
): number {
  const mask = ends.length - 1;
  const lined = slot.length > 0;
  let kept = begin;
  for (let at = begin; at < end; at++) {
    const cell = blocks[at]!;
    const from = via[cell]!;
    if (from >= SETTLED) continue;
    via[cell] = from + SETTLED;
    blocks[kept++] = cell;
    const reached = cost[cell]!;
    const own = resistance[cell]! * half;
    const lines = lined ? slot[cell]! * 16 : 0;
    let first = 8;
    let last = 15;
    // Where no line is near, the cell before reached its own neighbours at less cost: only five moves lead on.
    if (from > 0 && from <= 8 && lines === 0 && (!lined || slot[cell - offset[from - 1]!] === 0)) {
      first = from + 5;
      last = from + 9;
    }
    const floor = reached + own;
    for (let k = first; k <= last; k++) {
      const to = cell + offset[k]!;
      const known = cost[to]!;
      // Whatever lies ahead, the half of this cell is paid.
      if (known <= floor) continue;
      const beyond = resistance[to]! * half;
      let through = own + beyond;
      if (k & 1) through *= Math.SQRT2;
      let arrival = reached + through;
      if (lines !== 0) arrival += extra[lines + (k & 7)]!;
      // NaN and Infinity never pass this test.
      if (arrival < known) {
        cost[to] = arrival;
        via[to] = (k & 7) + 1;
        const bucket = ((arrival + beyond) * perCost) & mask;
        let place = ends[bucket]!;
        if ((place & (BLOCK - 1)) === 0) place = open(blocks, place);
        blocks[place] = to;
        ends[bucket] = place + 1;
      }
    }
  }
  return kept;
}

/** The knight's moves of the cells of a block. */
function leapBlock(
  blocks: Int32Array,
  begin: number,
  end: number,
  ends: Int32Array,
  perCost: number,
  cost: Float64Array,
  resistance: Float32Array,
  via: Uint8Array,
  slot: Int32Array,
  extra: Float64Array,
  half: number,
  offset: Int32Array,
): void {
  const mask = ends.length - 1;
  const lined = slot.length > 0;
  for (let at = begin; at < end; at++) {
    const cell = blocks[at]!;
    const reached = cost[cell]!;
    const own = resistance[cell]! * half;
    const lines = lined ? slot[cell]! * 16 : 0;
    const floor = reached + own;
    for (let k = 0; k < 8; k++) {
      const to = cell + offset[ROUND + k]!;
      const known = cost[to]!;
      if (known <= floor) continue;
      const beyond = resistance[to]! * half;
      const passed = resistance[cell + offset[ROUND + 8 + k]!]! * half;
      const next = resistance[cell + offset[ROUND + 16 + k]!]! * half;
      let arrival = reached + (own + beyond + passed + next) * KNIGHT;
      if (lines !== 0) arrival += extra[lines + 8 + k]!;
      if (arrival < known) {
        cost[to] = arrival;
        via[to] = k + 9;
        const bucket = ((arrival + beyond) * perCost) & mask;
        let place = ends[bucket]!;
        if ((place & (BLOCK - 1)) === 0) place = open(blocks, place);
        blocks[place] = to;
        ends[bucket] = place + 1;
      }
    }
  }
}
