import { type Code, f64, get, i32, moduleOf, select, set, VALUE, when } from '../grid/wasm.ts';
import {
  at,
  COMMON,
  costOf,
  eachOfBlock,
  extra,
  halfOf,
  number,
  reach,
  slot,
  sum,
  table,
  times,
  via,
  word,
} from './sweep-code.ts';
import { MOVES, SETTLED } from './waiting.ts';

const [cell, from, lines, fewer, move, to, bucket, place, block] = [10, 11, 12, 13, 14, 15, 16, 17, 18];
const [reached, own, beyond, arrival, even, odd] = [19, 20, 21, 22, 23, 24];

/** The move k places after that at `move`, an address in the table; its length is the factor `even` or `odd`. */
function moveOn(k: number, lined: boolean): Code {
  const turn = i32.and(
    sum(i32.shiftRight(i32.sub(get(move), get(table)), number(2)), number(k - MOVES)),
    number(7),
  );
  return [
    ...set(to, sum(get(cell), i32.load(get(move), 4 * k))),
    ...set(beyond, halfOf(to)),
    ...set(
      arrival,
      f64.add(get(reached), f64.mul(f64.add(get(own), get(beyond)), get(k % 2 === 0 ? even : odd))),
    ),
    ...(lined
      ? set(arrival, f64.add(get(arrival), f64.load(sum(get(extra), times(sum(get(lines), turn), 3)))))
      : []),
    // NaN and Infinity never pass this test.
    ...when(
      f64.less(get(arrival), f64.load(costOf(get(to)))),
      reach(
        { to, arrival, bucket, place, block },
        i32.add(turn, number(1)),
        f64.add(get(arrival), get(beyond)),
      ),
    ),
  ];
}

const moves = (count: number, lined: boolean): Code =>
  Array.from({ length: count }, (_, k) => moveOn(k, lined));

/** Whether the cell came from one of its eight neighbours. */
const stepped = i32.lessUnsigned(i32.sub(get(from), number(1)), number(8));
/** Row of extra cost of the cell that a move came from. */
const near = (moveIn: Code): Code => i32.load(sum(get(slot), times(i32.sub(get(cell), moveIn), 2)));

const settle: Code = [
  ...i32.storeByte(sum(get(via), get(cell)), i32.add(get(from), number(SETTLED))),
  ...set(reached, f64.load(costOf(get(cell)))),
  ...set(own, halfOf(cell)),
  ...set(lines, number(0)),
  ...set(fewer, stepped),
  ...when(get(slot), [
    ...set(lines, times(near(number(0)), 4)),
    ...when(
      get(fewer),
      set(fewer, i32.isZero(i32.or(get(lines), near(i32.load(word(i32.add(get(from), number(MOVES - 1)))))))),
    ),
  ]),
  // Where no line is near, the cell before reached its own neighbours at less cost: only five moves lead on.
  ...when(
    get(fewer),
    [
      ...set(move, word(i32.add(get(from), number(MOVES + 5)))),
      ...set(even, select(f64.const(1), f64.const(Math.SQRT2), i32.and(get(from), number(1)))),
      ...set(odd, select(f64.const(Math.SQRT2), f64.const(1), i32.and(get(from), number(1)))),
      ...moves(5, false),
    ],
    [
      ...set(move, word(number(MOVES))),
      ...set(even, f64.const(1)),
      ...set(odd, f64.const(Math.SQRT2)),
      ...moves(8, true),
    ],
  ),
];

const program = eachOfBlock(cell, from, settle, i32.store(word(get(at)), number(0)));

/** Settles the cells of a block by their eight moves, and writes 0, a cell of the border, for those settled before. */
export const settleCode = (): Uint8Array<ArrayBuffer> =>
  moduleOf(
    [...new Array<number>(COMMON - 2).fill(VALUE.i32), VALUE.f64, VALUE.f64],
    [...new Array<number>(9).fill(VALUE.i32), ...new Array<number>(6).fill(VALUE.f64)],
    program,
  );
