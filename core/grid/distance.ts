import type { Frame, Grid, TypedArray } from './frame.ts';

/**
 * Exact Euclidean distance from every cell centre to the nearest feature cell centre, and which cell that is.
 * The lower envelope of parabolas of Felzenszwalb & Huttenlocher, "Distance Transforms of Sampled Functions",
 * Theory of Computing 8 (2012), over column distances found in two row-order sweeps. Linear in the cells.
 *
 * @param features any value but 0 (or NaN) marks a feature cell
 * @returns metres (0 on a feature, Infinity where there is none) and the row-major index of the nearest feature
 *   cell (-1 where there is none)
 */
export function nearestTo(
  frame: Frame,
  features: TypedArray,
): { distance: Grid<Float32Array>; nearest: Grid<Int32Array> } {
  const { width, height, cellSize } = frame;
  const count = width * height;
  // Row of the nearest feature in the same column; a row far outside stands for none.
  const none = -(1 << 28);
  const rows = new Int32Array(count).fill(none);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const value = features[i]!;
      if (value !== 0 && !Number.isNaN(value)) rows[i] = y;
      else if (y > 0) rows[i] = rows[i - width]!;
    }
  }
  for (let y = height - 2, i = count - width - 1; y >= 0; y--) {
    for (let x = width - 1; x >= 0; x--, i--) {
      const below = rows[i + width]!;
      if (below !== none && below - y < y - rows[i]!) rows[i] = below;
    }
  }

  const distance = new Float32Array(count);
  const nearest = new Int32Array(count);
  const vertex = new Int32Array(width); // columns whose parabolas make the envelope
  const from = new Float64Array(width); // where each starts to be the lowest
  for (let y = 0; y < height; y++) {
    const start = y * width;
    let top = -1;
    for (let q = 0; q < width; q++) {
      const row = rows[start + q]!;
      if (row === none) continue;
      const fq = (row - y) * (row - y) + q * q;
      let s = Number.NEGATIVE_INFINITY;
      while (top >= 0) {
        const v = vertex[top]!;
        const rise = rows[start + v]! - y;
        s = (fq - (rise * rise + v * v)) / (2 * (q - v));
        if (s > from[top]!) break;
        top--;
      }
      top++;
      vertex[top] = q;
      from[top] = top === 0 ? Number.NEGATIVE_INFINITY : s;
    }
    if (top < 0) {
      distance.fill(Number.POSITIVE_INFINITY, start, start + width);
      nearest.fill(-1, start, start + width);
      continue;
    }
    for (let x = 0, k = 0; x < width; x++) {
      while (k < top && from[k + 1]! < x) k++;
      const v = vertex[k]!;
      const row = rows[start + v]!;
      const dx = x - v;
      const dy = row - y;
      distance[start + x] = Math.sqrt(dx * dx + dy * dy) * cellSize;
      nearest[start + x] = row * width + v;
    }
  }
  return { distance: { frame, cells: distance }, nearest: { frame, cells: nearest } };
}

/** Metres from every cell centre to the nearest feature cell centre; see `nearestTo`. */
export const distanceTo = (frame: Frame, features: TypedArray): Grid<Float32Array> =>
  nearestTo(frame, features).distance;
