import { type Code, f32, f64, get, i32, i64, repeatWhile, set, when } from '../grid/wasm.ts';
import { BLOCK, ENDS, FIRST_FREE, FREE, SETTLED } from './waiting.ts';

/*
 * What `settle-code.ts` and `relief-code.ts` have in common. Both are written as WebAssembly because an engine makes of
 * the same loops in TypeScript three quarters of the cells a second or less (a check of bounds at each look-up).
 * `sweep.ts` lays out the memory, with the least costs at its beginning.
 */

/**
 * Parameters of both. Addresses of the table of `waiting.ts`, of resistances, moves in, rows of extra cost by cell
 * (0 without lines) and extra costs; first place and place after the last of the block's cells; buckets less one;
 * buckets a metre; half of a cell's side.
 */
export const [table, resistance, via, slot, extra, at] = [0, 1, 2, 3, 4, 5];
const [end, mask, perCost] = [6, 7, 8];
export const half = 9;
export const COMMON = 10;

export const number = i32.const;
export const sum = (...parts: Code[]): Code => parts.reduce((a, b) => i32.add(a, b));
export const times = (code: Code, shift: number): Code => i32.shiftLeft(code, number(shift));
/** Address of a place of the table. */
export const word = (place: Code): Code => sum(get(table), times(place, 2));
export const costOf = (cell: Code): Code => times(cell, 3);
/** A number of 32 bits of a cell. */
export const float = (array: number, cell: Code): Code =>
  f64.promote(f32.load(sum(get(array), times(cell, 2))));

/** What a move pays for its part in a cell at the index in a local. */
export const halfOf = (cell: number): Code => f64.mul(float(resistance, get(cell)), get(half));

/** Takes the cells of a block one by one into the locals `cell` and `from`, and settles those that are not yet. */
export const eachOfBlock = (cell: number, from: number, settle: Code, otherwise: Code = []): Code =>
  repeatWhile(
    i32.less(get(at), get(end)),
    set(cell, i32.load(word(get(at)))),
    set(from, i32.loadByte(sum(get(via), get(cell)))),
    when(i32.less(get(from), number(SETTLED)), settle, otherwise),
    set(at, i32.add(get(at), number(1))),
  );

/** Locals of `reach`. */
export interface Reaching {
  to: number;
  arrival: number;
  bucket: number;
  place: number;
  block: number;
}

/** Takes down that the cell `to` is reached at the cost `arrival` by a move, plus one, and lets it wait by a key. */
export function reach({ to, arrival, bucket, place, block }: Reaching, move: Code, key: Code): Code {
  /** A free block after a full one. */
  const open: Code = [
    ...set(block, i32.load(get(table), 4 * FIRST_FREE)),
    ...i32.store(get(table), i32.load(word(get(block))), 4 * FIRST_FREE),
    ...i32.store(get(table), i32.sub(i32.load(get(table), 4 * FREE), number(1)), 4 * FREE),
    ...i32.store(word(get(block)), get(place)),
    ...set(place, i32.add(get(block), number(1))),
  ];
  const turn = i32.and(i64.wrap(i64.truncate(f64.mul(key, get(perCost)))), get(mask));
  return [
    ...f64.store(costOf(get(to)), get(arrival)),
    ...i32.storeByte(sum(get(via), get(to)), move),
    ...set(bucket, word(i32.add(number(ENDS), turn))),
    ...set(place, i32.load(get(bucket))),
    ...when(i32.isZero(i32.and(get(place), number(BLOCK - 1))), open),
    ...i32.store(word(get(place)), get(to)),
    ...i32.store(get(bucket), i32.add(get(place), number(1))),
  ];
}
