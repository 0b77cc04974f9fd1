import type { Frame } from '../grid/frame.ts';
import type { Window } from './flow.ts';

/** The smallest window with all cells that lie on a way of at most the given cost, and one cell more all round. */
export function windowOf({ width, height }: Frame, a: Float64Array, b: Float64Array, within: number): Window {
  let [left, right, top, bottom] = [width, -1, height, -1];
  for (let row = 0, i = 0; row < height; row++) {
    for (let column = 0; column < width; column++, i++) {
      if (a[i]! + b[i]! > within) continue;
      if (column < left) left = column;
      if (column > right) right = column;
      if (row < top) top = row;
      bottom = row;
    }
  }
  left = Math.max(0, left - 1);
  top = Math.max(0, top - 1);
  return {
    column: left,
    row: top,
    width: Math.min(width, right + 2) - left,
    height: Math.min(height, bottom + 2) - top,
  };
}

export const sameWindow = (a: Window, b: Window): boolean => holds(a, b) && holds(b, a);

export const holds = (outer: Window, inner: Window): boolean =>
  outer.column <= inner.column &&
  outer.row <= inner.row &&
  outer.column + outer.width >= inner.column + inner.width &&
  outer.row + outer.height >= inner.row + inner.height;
