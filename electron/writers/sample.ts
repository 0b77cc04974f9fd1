import type { Grid, TypedArray } from '../../core/grid/frame.ts';

/** North-up window of the map: its north-west corner in the frame's CRS, metres a pixel, size in pixels. */
export interface PaintWindow {
  west: number;
  north: number;
  resolution: number;
  width: number;
  height: number;
}

/** How the cells under a pixel become one value. */
export type Sampling = 'nearest' | 'mean' | 'largest';

/**
 * At most this many cells a side are looked at for one pixel: a tile must come within a blink at any zoom. A mean is
 * near enough from a few cells; the largest would lose lines one cell wide.
 */
const MOST = { mean: 4, largest: 16 };

/**
 * Values of a grid at the pixels of a window; NaN outside the frame and where there is no data (0 of whole-number
 * grids, unless `valid` says otherwise). A pixel larger than a cell takes the mean of cells spread
 * over it or the largest; a pixel smaller than a cell of a `mean` layer is interpolated between the four centres around.
 */
export function sample(
  grid: Grid<TypedArray>,
  window: PaintWindow,
  sampling: Sampling,
  valid?: Uint8Array,
): Float32Array {
  const { frame, cells } = grid;
  const { width, height } = window;
  const values = new Float32Array(width * height).fill(Number.NaN);
  const scale = window.resolution / frame.cellSize;
  const left = (window.west - frame.west) / frame.cellSize;
  const topEdge = (frame.north - window.north) / frame.cellSize;
  const whole = !(cells instanceof Float32Array || cells instanceof Float64Array);
  const missing = (index: number): boolean =>
    valid ? valid[index] === 0 : whole ? cells[index] === 0 : Number.isNaN(cells[index]);

  if (sampling === 'mean' && scale < 1) {
    for (let y = 0; y < height; y++) {
      const v = topEdge + (y + 0.5) * scale - 0.5;
      if (v < -0.5 || v >= frame.height - 0.5) continue;
      const v0 = Math.max(0, Math.floor(v));
      const v1 = Math.min(frame.height - 1, Math.floor(v) + 1);
      const dv = v - Math.floor(v);
      for (let x = 0; x < width; x++) {
        const u = left + (x + 0.5) * scale - 0.5;
        if (u < -0.5 || u >= frame.width - 0.5) continue;
        const u0 = Math.max(0, Math.floor(u));
        const u1 = Math.min(frame.width - 1, Math.floor(u) + 1);
        const du = u - Math.floor(u);
        const a = v0 * frame.width + u0;
        const b = v0 * frame.width + u1;
        const c = v1 * frame.width + u0;
        const d = v1 * frame.width + u1;
        if (missing(a) || missing(b) || missing(c) || missing(d)) {
          const near = Math.round(v) * frame.width + Math.round(u);
          if (!missing(near)) values[y * width + x] = cells[near]!;
          continue;
        }
        values[y * width + x] =
          (cells[a]! * (1 - du) + cells[b]! * du) * (1 - dv) + (cells[c]! * (1 - du) + cells[d]! * du) * dv;
      }
    }
    return values;
  }

  if (sampling === 'largest' && scale > 1) {
    takeLargest(grid, window, values);
    return values;
  }
  const steps = sampling === 'mean' ? Math.max(1, Math.min(MOST.mean, Math.round(scale))) : 1;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let sum = 0;
      let count = 0;
      for (let j = 0; j < steps; j++) {
        const row = Math.floor(topEdge + (y + (j + 0.5) / steps) * scale);
        if (row < 0 || row >= frame.height) continue;
        for (let i = 0; i < steps; i++) {
          const column = Math.floor(left + (x + (i + 0.5) / steps) * scale);
          if (column < 0 || column >= frame.width) continue;
          const index = row * frame.width + column;
          if (missing(index)) continue;
          sum += cells[index]!;
          count++;
        }
      }
      if (count > 0) values[y * width + x] = sum / count;
    }
  }
  return values;
}

/** Every cell goes to the pixel its centre lies in, row by row as the cells lie in memory. */
function takeLargest({ frame, cells }: Grid<TypedArray>, window: PaintWindow, values: Float32Array): void {
  const { width, height, resolution } = window;
  const scale = resolution / frame.cellSize;
  const left = (window.west - frame.west) / frame.cellSize;
  const top = (frame.north - window.north) / frame.cellSize;
  const stride = Math.max(1, Math.floor(scale / MOST.largest));
  const whole = !(cells instanceof Float32Array || cells instanceof Float64Array);
  const floor = whole ? 0 : Number.NEGATIVE_INFINITY;
  const from = Math.max(0, Math.ceil(left - 0.5));
  const to = Math.min(frame.width, Math.ceil(left + width * scale - 0.5));
  const best = new Float64Array(width);
  for (let y = 0; y < height; y++) {
    best.fill(floor);
    const last = Math.min(frame.height, Math.ceil(top + (y + 1) * scale - 0.5));
    for (let row = Math.max(0, Math.ceil(top + y * scale - 0.5)); row < last; row += stride) {
      const start = row * frame.width;
      for (let column = from; column < to; column += stride) {
        const x = Math.floor((column + 0.5 - left) / scale);
        // A comparison with NaN is false, so no data is passed over.
        if (cells[start + column]! > best[x]!) best[x] = cells[start + column]!;
      }
    }
    for (let x = 0; x < width; x++) if (best[x]! > floor) values[y * width + x] = best[x]!;
  }
}
