import { type Code, f64, get, i32, moduleOf, select, set, VALUE, when } from '../grid/wasm.ts';
import {
  COMMON,
  costOf,
  eachOfBlock,
  extra,
  float,
  half,
  halfOf,
  number,
  reach,
  resistance,
  slot,
  sum,
  table,
  times,
  via,
} from './sweep-code.ts';
import { LEAPS, MOVES, SETTLED } from './waiting.ts';

// Further parameters: addresses of heights, squared slopes and the moves' numbers of `Climb`, 1 with the knight's
// moves; cost of a metre up or down by their mean, and what a metre of rise adds to it.
const [heights, slopes, perMove, knights, mean, more] = [10, 11, 12, 13, 14, 15];
const [cell, from, lines, to, first, second, bucket, place, block] = [16, 17, 18, 19, 20, 21, 22, 23, 24];
const [reached, own, arrival, known, floor] = [25, 26, 27, 28, 29];
const [low, slope, rise, climbed, middle] = [30, 31, 32, 33, 34];

const KNIGHT = f64.const(Math.sqrt(5) / 2);
const beside = (place: number): Code => sum(get(cell), i32.load(get(table), 4 * place));

/** One of the sixteen moves. */
function moveOn(k: number): Code {
  const knight = k >= 8;
  // The knight's moves follow the eight, which stand there three times.
  const at = knight ? LEAPS - 8 + k : MOVES + k;
  const halves = f64.add(get(own), halfOf(to));
  const both = (array: number): Code => f64.add(float(array, get(first)), float(array, get(second)));
  const through = knight
    ? f64.mul(f64.add(halves, f64.mul(both(resistance), get(half))), KNIGHT)
    : k % 2 === 1
      ? f64.mul(halves, f64.const(Math.SQRT2))
      : halves;
  const across = f64.load(get(perMove), 8 * k);
  const risen = f64.load(get(perMove), 8 * (16 + k));
  const sidehill = f64.sub(
    f64.mul(f64.add(get(slope), float(slopes, get(to))), across),
    f64.mul(f64.mul(get(rise), get(rise)), risen),
  );
  const relief = f64.add(f64.mul(get(climbed), get(mean)), f64.mul(get(rise), get(more)));
  return [
    ...set(to, beside(at)),
    ...set(known, f64.load(costOf(get(to)))),
    ...when(f64.less(get(floor), get(known)), [
      ...(knight ? [...set(first, beside(at + 8)), ...set(second, beside(at + 16))] : []),
      ...set(arrival, f64.add(get(reached), through)),
      ...when(
        get(lines),
        set(arrival, f64.add(get(arrival), f64.load(sum(get(extra), times(get(lines), 3)), 8 * k))),
      ),
      // NaN and Infinity never pass this test; relief only adds.
      ...when(f64.less(get(arrival), get(known)), [
        ...set(rise, f64.sub(float(heights, get(to)), get(low))),
        ...(knight
          ? [
              ...set(middle, f64.sub(f64.mul(both(heights), f64.const(0.5)), get(low))),
              ...set(climbed, f64.add(f64.abs(get(middle)), f64.abs(f64.sub(get(rise), get(middle))))),
            ]
          : set(climbed, f64.abs(get(rise)))),
        ...set(arrival, f64.add(get(arrival), f64.add(relief, f64.most(f64.const(0), sidehill)))),
        ...when(
          f64.less(get(arrival), get(known)),
          reach({ to, arrival, bucket, place, block }, number(k + 1), get(arrival)),
        ),
      ]),
    ]),
  ];
}

const moves = (first: number): Code => Array.from({ length: 8 }, (_, k) => moveOn(first + k));

const settle: Code = [
  ...i32.storeByte(sum(get(via), get(cell)), i32.add(get(from), number(SETTLED))),
  ...set(reached, f64.load(costOf(get(cell)))),
  ...set(own, halfOf(cell)),
  ...set(lines, number(0)),
  ...when(get(slot), set(lines, times(i32.load(sum(get(slot), times(get(cell), 2))), 4))),
  ...set(floor, select(get(reached), f64.add(get(reached), get(own)), get(lines))),
  ...set(low, float(heights, get(cell))),
  ...set(slope, float(slopes, get(cell))),
  ...moves(0),
  ...when(get(knights), moves(8)),
];

const program = eachOfBlock(cell, from, settle);

/** Settles the cells of a block by all their moves over relief and trails. */
export const reliefCode = (): Uint8Array<ArrayBuffer> =>
  moduleOf(
    [
      ...new Array<number>(COMMON - 2).fill(VALUE.i32),
      VALUE.f64,
      VALUE.f64,
      ...new Array<number>(4).fill(VALUE.i32),
      VALUE.f64,
      VALUE.f64,
    ],
    [...new Array<number>(9).fill(VALUE.i32), ...new Array<number>(10).fill(VALUE.f64)],
    program,
  );
