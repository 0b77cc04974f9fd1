import type { Frame } from '../grid/frame.ts';

/**
 * Sums over every rectangle of a grid in constant time: the summed-area table of Crow, "Summed-area tables for
 * texture mapping", SIGGRAPH (1984). One row and column larger than the grid; NaN counts as nothing.
 */
interface Sums {
  sum: Float64Array;
  squares: Float64Array;
  count: Int32Array;
  stride: number;
}

function summedArea(frame: Frame, values: ArrayLike<number>, withSquares: boolean): Sums {
  const { width, height } = frame;
  const stride = width + 1;
  const sum = new Float64Array(stride * (height + 1));
  const squares = new Float64Array(withSquares ? sum.length : 0);
  const count = new Int32Array(sum.length);
  for (let y = 0, i = 0; y < height; y++) {
    let row = 0;
    let rowSquares = 0;
    let rowCount = 0;
    for (let x = 0, j = (y + 1) * stride + 1; x < width; x++, i++, j++) {
      const value = values[i]!;
      if (!Number.isNaN(value)) {
        row += value;
        rowSquares += value * value;
        rowCount++;
      }
      sum[j] = sum[j - stride]! + row;
      if (withSquares) squares[j] = squares[j - stride]! + rowSquares;
      count[j] = count[j - stride]! + rowCount;
    }
  }
  return { sum, squares, count, stride };
}

/** Mean over the square window of `radius` cells each way around every cell, over its known cells; NaN where none is. */
export function windowMean(frame: Frame, values: ArrayLike<number>, radius: number): Float32Array {
  const { width, height } = frame;
  const { sum, count, stride } = summedArea(frame, values, false);
  const mean = new Float32Array(width * height);
  for (let y = 0, i = 0; y < height; y++) {
    const top = Math.max(0, y - radius) * stride;
    const bottom = Math.min(height, y + radius + 1) * stride;
    for (let x = 0; x < width; x++, i++) {
      const left = Math.max(0, x - radius);
      const right = Math.min(width, x + radius + 1);
      const n = count[bottom + right]! - count[bottom + left]! - count[top + right]! + count[top + left]!;
      mean[i] =
        n === 0
          ? Number.NaN
          : (sum[bottom + right]! - sum[bottom + left]! - sum[top + right]! + sum[top + left]!) / n;
    }
  }
  return mean;
}

/** Counts of light that sensor noise amounts to in the dark, so that it does not look like texture there. */
const DARK = 10;

/**
 * Local texture that does not smear over edges: standard deviation over mean in each of the four square windows
 * that have the cell in a corner, the least of them (Kuwahara et al. 1976 choose the smoothest quarter the same
 * way). Relative, since a dark crown casts its shade in proportion.
 *
 * @param values counts 0..255; NaN no data
 * @param radius cells from the cell to the far side of a quarter, at least 1
 * @returns 0 and up; NaN where no quarter holds at least four known cells
 */
export function windowTexture(frame: Frame, values: ArrayLike<number>, radius: number): Float32Array {
  const { width, height } = frame;
  const { sum, squares, count, stride } = summedArea(frame, values, true);
  const texture = new Float32Array(width * height);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      let least = Number.NaN;
      for (let quarter = 0; quarter < 4; quarter++) {
        const x0 = quarter & 1 ? x : Math.max(0, x - radius);
        const x1 = quarter & 1 ? Math.min(width, x + radius + 1) : x + 1;
        const y0 = (quarter & 2 ? y : Math.max(0, y - radius)) * stride;
        const y1 = (quarter & 2 ? Math.min(height, y + radius + 1) : y + 1) * stride;
        const n = count[y1 + x1]! - count[y1 + x0]! - count[y0 + x1]! + count[y0 + x0]!;
        if (n < 4) continue;
        const mean = (sum[y1 + x1]! - sum[y1 + x0]! - sum[y0 + x1]! + sum[y0 + x0]!) / n;
        const square = (squares[y1 + x1]! - squares[y1 + x0]! - squares[y0 + x1]! + squares[y0 + x0]!) / n;
        const rough = Math.sqrt(Math.max(0, square - mean * mean)) / (mean + DARK);
        if (!(rough >= least)) least = rough;
      }
      texture[i] = least;
    }
  }
  return texture;
}
