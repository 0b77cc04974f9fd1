import { NEIGHBOURS_16 } from '../grid/neighbours.ts';

/**
 * Cells waiting to be settled, in round buckets (Dial 1969), beside what the moves add to an index: all in one
 * array, which the engine keeps at hand where it would fetch several anew for every move. A bucket is a chain of
 * blocks, filled and read in memory order. A cell that found a better way waits once more; its older places are
 * passed over when they come up.
 */
export interface Waiting {
  /**
   * FIRST_FREE and FREE; from MOVES on, what each move adds to a padded index; from ENDS on, the place after the
   * last cell of each bucket, 0 when empty; then blocks of BLOCK numbers: the place after the block behind in the
   * same bucket (0 none), and the cells.
   */
  table: Int32Array;
  /** A power of two. */
  buckets: number;
  /** Buckets a metre of easy ground. */
  perCost: number;
  /** Makes the table longer, which keeps what it held. */
  lengthen: (numbers: number) => Int32Array;
}

/** Added to the move into a cell once nothing can better it. */
export const SETTLED = 32;
export const BLOCK = 64;
export const FIRST_FREE = 0;
export const FREE = 1;
/** The eight moves three times over, so that any run of them clockwise lies together. */
export const MOVES = 8;
/** The knight's moves, then the first cell each passes, then the second. */
export const LEAPS = MOVES + 24;
/** Blocks after it begin at multiples of BLOCK. */
export const ENDS = 64;
/** The most blocks the cells of one block can open: one for each of their moves. */
const MOST_OPENED = 16 * BLOCK;

/**
 * @param count the most buckets in use at once
 * @param wide cells a padded row
 */
export function createWaiting(
  count: number,
  perCost: number,
  wide: number,
  lengthen: Waiting['lengthen'],
): Waiting {
  let buckets = BLOCK;
  while (buckets < count) buckets *= 2;
  const table = lengthen(ENDS + buckets).fill(0);
  const { dx, dy } = NEIGHBOURS_16;
  for (let k = 0; k < 24; k++) table[MOVES + k] = dx[k & 7]! + dy[k & 7]! * wide;
  for (let k = 0; k < 8; k++) {
    const [x, y] = [dx[8 + k]!, dy[8 + k]!];
    table[LEAPS + k] = x + y * wide;
    table[LEAPS + 8 + k] = Math.abs(x) === 2 ? Math.sign(x) : Math.sign(y) * wide;
    table[LEAPS + 16 + k] = Math.sign(x) + Math.sign(y) * wide;
  }
  return { table, buckets, perCost, lengthen };
}

/** Sees to it that the cells of one block can be settled. */
export function makeRoom(waiting: Waiting): void {
  const { table } = waiting;
  if (table[FREE]! >= MOST_OPENED) return;
  const used = table.length;
  const larger = waiting.lengthen(Math.max(2 * used, used + 2 * MOST_OPENED * BLOCK));
  for (let block = used; block < larger.length; block += BLOCK) release(larger, block);
  waiting.table = larger;
}

export function release(table: Int32Array, block: number): void {
  table[block] = table[FIRST_FREE]!;
  table[FIRST_FREE] = block;
  table[FREE]!++;
}

/** Takes a free block for what follows the place `behind`; its first place. */
export function open(table: Int32Array, behind: number): number {
  const block = table[FIRST_FREE]!;
  table[FIRST_FREE] = table[block]!;
  table[FREE]!--;
  table[block] = behind;
  return block + 1;
}

export function enter(waiting: Waiting, cell: number, key: number): void {
  makeRoom(waiting);
  const { table, buckets, perCost } = waiting;
  const bucket = ENDS + ((key * perCost) & (buckets - 1));
  let place = table[bucket]!;
  if (place % BLOCK === 0) place = open(table, place);
  table[place] = cell;
  table[bucket] = place + 1;
}
