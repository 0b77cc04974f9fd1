import type { Grid, TypedArray } from '../../core/grid/frame.ts';

/** A grid at one size. */
export interface Level {
  width: number;
  height: number;
  cells: TypedArray;
}

/** An overview that fits into so many cells a side needs no smaller one. */
const SMALLEST = 256;

/** The grid itself and its overviews, each half as wide and high as the one before. */
export function levelsOf({ frame, cells }: Grid<TypedArray>): Level[] {
  const levels: Level[] = [{ width: frame.width, height: frame.height, cells }];
  for (let level = levels[0]!; Math.max(level.width, level.height) > SMALLEST; level = levels.at(-1)!)
    levels.push(halved(level));
  return levels;
}

/**
 * Two by two cells become one: the mean of what is known of floats, the commonest class of whole numbers, the first of
 * those that tie.
 */
function halved({ width, height, cells }: Level): Level {
  const [wide, high] = [Math.ceil(width / 2), Math.ceil(height / 2)];
  const out = new (cells.constructor as new (length: number) => TypedArray)(wide * high);
  const floats = cells instanceof Float32Array || cells instanceof Float64Array;
  for (let row = 0; row < high; row++) {
    const above = 2 * row * width;
    const below = Math.min(2 * row + 1, height - 1) * width;
    for (let column = 0; column < wide; column++) {
      const left = 2 * column;
      const right = Math.min(left + 1, width - 1);
      const [a, b, c, d] = [
        cells[above + left]!,
        cells[above + right]!,
        cells[below + left]!,
        cells[below + right]!,
      ];
      out[row * wide + column] = floats ? mean(a, b, c, d) : commonest(a, b, c, d);
    }
  }
  return { width: wide, height: high, cells: out };
}

function mean(a: number, b: number, c: number, d: number): number {
  const whole = (a + b + c + d) / 4;
  if (!Number.isNaN(whole)) return whole;
  let sum = 0;
  let count = 0;
  for (const value of [a, b, c, d])
    if (!Number.isNaN(value)) {
      sum += value;
      count += 1;
    }
  return count > 0 ? sum / count : Number.NaN;
}

function commonest(a: number, b: number, c: number, d: number): number {
  if (a === b || a === c || a === d) return a;
  if (b === c || b === d) return b;
  return c === d ? c : a;
}
