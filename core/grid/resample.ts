/**
 * Bringing a window of a source raster onto a row of target cells. Positions are pixel coordinates of the source:
 * 0 is the outer edge of its first pixel, 0.5 that pixel's centre. NaN is no data on both sides.
 */

export interface SourceWindow {
  /** Pixel coordinates of the window's first cell in the whole source. */
  x: number;
  y: number;
  width: number;
  height: number;
  /** Row-major. */
  cells: Float32Array;
}

/** Positions nearer to a pixel centre than this are taken as on it, so that aligned grids are copied bit for bit. */
const ON_CENTRE = 1e-6;

/**
 * Bilinear interpolation between the four nearest pixel centres. A cell is valid where the pixel it falls into is;
 * missing neighbours are left out and the other weights raised, as at the edge of the source.
 * @param xs, ys centre of each target cell in pixel coordinates
 */
export function bilinearRow(
  source: SourceWindow,
  xs: Float64Array,
  ys: Float64Array,
  out: Float32Array,
): void {
  const { width, height, cells } = source;
  for (let i = 0; i < out.length; i++) {
    const x = xs[i]! - source.x;
    const y = ys[i]! - source.y;
    const column = Math.floor(x);
    const row = Math.floor(y);
    if (
      !(column >= 0 && row >= 0 && column < width && row < height) ||
      Number.isNaN(cells[row * width + column]!)
    ) {
      out[i] = Number.NaN;
      continue;
    }
    const left = Math.floor(x - 0.5 + ON_CENTRE);
    const top = Math.floor(y - 0.5 + ON_CENTRE);
    let fx = x - 0.5 - left;
    let fy = y - 0.5 - top;
    if (fx < ON_CENTRE) fx = 0;
    if (fy < ON_CENTRE) fy = 0;
    let sum = 0;
    let weights = 0;
    for (let dy = 0; dy < 2; dy++) {
      const r = top + dy;
      const wy = dy === 0 ? 1 - fy : fy;
      if (r < 0 || r >= height || wy === 0) continue;
      for (let dx = 0; dx < 2; dx++) {
        const c = left + dx;
        const weight = wy * (dx === 0 ? 1 - fx : fx);
        if (c < 0 || c >= width || weight === 0) continue;
        const value = cells[r * width + c]!;
        if (Number.isNaN(value)) continue;
        sum += weight * value;
        weights += weight;
      }
    }
    out[i] = weights > 0 ? sum / weights : Number.NaN;
  }
}

/**
 * Mean of the source over each target cell, pixels on the cell's edge by the part that lies inside.
 * A cell is valid where at least half of it is. For sources at least twice as fine as the target.
 * @param spanX, spanY sides of a target cell in source pixels
 */
export function areaMeanRow(
  source: SourceWindow,
  xs: Float64Array,
  ys: Float64Array,
  spanX: number,
  spanY: number,
  out: Float32Array,
): void {
  const { width, height, cells } = source;
  for (let i = 0; i < out.length; i++) {
    const x0 = xs[i]! - source.x - spanX / 2;
    const y0 = ys[i]! - source.y - spanY / 2;
    const x1 = x0 + spanX;
    const y1 = y0 + spanY;
    let sum = 0;
    let weights = 0;
    const lastRow = Math.min(height - 1, Math.ceil(y1) - 1);
    const lastColumn = Math.min(width - 1, Math.ceil(x1) - 1);
    const firstColumn = Math.max(0, Math.floor(x0));
    for (let row = Math.max(0, Math.floor(y0)); row <= lastRow; row++) {
      const wy = Math.min(row + 1, y1) - Math.max(row, y0);
      for (let column = firstColumn; column <= lastColumn; column++) {
        const value = cells[row * width + column]!;
        if (Number.isNaN(value)) continue;
        const weight = wy * (Math.min(column + 1, x1) - Math.max(column, x0));
        sum += weight * value;
        weights += weight;
      }
    }
    out[i] = weights >= 0.5 * spanX * spanY ? sum / weights : Number.NaN;
  }
}

/** Value of the pixel each target cell's centre falls into. */
export function nearestRow(
  source: SourceWindow,
  xs: Float64Array,
  ys: Float64Array,
  out: Float32Array,
): void {
  const { width, height, cells } = source;
  for (let i = 0; i < out.length; i++) {
    const column = Math.floor(xs[i]! - source.x);
    const row = Math.floor(ys[i]! - source.y);
    const inside = column >= 0 && row >= 0 && column < width && row < height;
    out[i] = inside ? cells[row * width + column]! : Number.NaN;
  }
}

/**
 * The class that covers most of each target cell, among classes 0..255; the lower code wins a tie.
 * For class rasters at least twice as fine as the target.
 */
export function majorityRow(
  source: SourceWindow,
  xs: Float64Array,
  ys: Float64Array,
  spanX: number,
  spanY: number,
  out: Float32Array,
): void {
  const { width, height, cells } = source;
  const share = new Float64Array(256);
  const met = new Uint8Array(256);
  for (let i = 0; i < out.length; i++) {
    let kinds = 0;
    const x0 = xs[i]! - source.x - spanX / 2;
    const y0 = ys[i]! - source.y - spanY / 2;
    const x1 = x0 + spanX;
    const y1 = y0 + spanY;
    const lastRow = Math.min(height - 1, Math.ceil(y1) - 1);
    const lastColumn = Math.min(width - 1, Math.ceil(x1) - 1);
    for (let row = Math.max(0, Math.floor(y0)); row <= lastRow; row++) {
      const wy = Math.min(row + 1, y1) - Math.max(row, y0);
      for (let column = Math.max(0, Math.floor(x0)); column <= lastColumn; column++) {
        const code = cells[row * width + column]!;
        const weight = wy * (Math.min(column + 1, x1) - Math.max(column, x0));
        if (!(code >= 0 && code <= 255 && weight > 0)) continue;
        if (share[code] === 0) met[kinds++] = code;
        share[code]! += weight;
      }
    }
    let best = -1;
    for (let k = 0; k < kinds; k++) {
      const code = met[k]!;
      if (best < 0 || share[code]! > share[best]! || (share[code] === share[best] && code < best))
        best = code;
    }
    for (let k = 0; k < kinds; k++) share[met[k]!] = 0;
    out[i] = best < 0 ? Number.NaN : best;
  }
}
