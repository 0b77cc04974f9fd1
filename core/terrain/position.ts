import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';

/**
 * Topographic position: elevation minus the mean elevation of a ring around the cell (Weiss, "Topographic
 * Position and Landforms Analysis", 2001), m. Positive on high ground, negative on low, near zero on level
 * ground and even slopes.
 *
 * Missing cells count for nothing; NaN elevation, or a ring with no data in it, gives NaN.
 *
 * @param inner radius below which cells are left out, in cells; 0 takes all but the cell itself
 * @param outer radius up to which cells count, in cells
 */
export function positionOf(
  elevation: Grid,
  inner: number,
  outer: number,
  progress: Progress = silent,
): Grid<Float32Array> {
  const { frame, cells } = elevation;
  assertOnFrame(frame, elevation);
  const { width, height } = frame;
  const reach = Math.floor(outer);
  // Half the width of the ring's outer and inner disc in each row; -1 where the row misses the disc.
  const outerHalf = new Int32Array(reach + 1);
  const innerHalf = new Int32Array(reach + 1).fill(-1);
  for (let r = 0; r <= reach; r++) {
    outerHalf[r] = Math.floor(Math.sqrt(outer * outer - r * r));
    const hole = inner * inner - r * r;
    // The ring starts at the inner radius, so the hole holds what is strictly nearer.
    if (hole > 0) innerHalf[r] = Math.ceil(Math.sqrt(hole)) - 1;
  }
  if (inner === 0) innerHalf[0] = 0;

  // Running sums along each row, carried on level beyond both ends so that no disc needs cutting off: place
  // x + reach holds the sum of the cells before x.
  const stride = width + 2 * reach + 1;
  const sums = new Float64Array(stride * height);
  const known = new Int32Array(stride * height);
  let base = Number.NaN;
  for (let y = 0, i = 0; y < height; y++) {
    let s = y * stride + reach;
    for (let x = 0; x < width; x++, i++, s++) {
      const z = cells[i]!;
      const missing = Number.isNaN(z);
      if (!missing && Number.isNaN(base)) base = z;
      sums[s + 1] = sums[s]! + (missing ? 0 : z - base);
      known[s + 1] = known[s]! + (missing ? 0 : 1);
    }
    sums.fill(sums[s]!, s + 1, s + 1 + reach);
    known.fill(known[s]!, s + 1, s + 1 + reach);
  }

  const position = new Float32Array(cells.length);
  const total = new Float64Array(width);
  const count = new Int32Array(width);
  /** Adds the cells of a row from `half` west to `half` east of each place, or takes them away. */
  const addRow = (row: number, half: number, sign: 1 | -1): void => {
    const west = row * stride + reach - half;
    const east = row * stride + reach + half + 1;
    for (let x = 0; x < width; x++) {
      total[x]! += sign * (sums[east + x]! - sums[west + x]!);
      count[x]! += sign * (known[east + x]! - known[west + x]!);
    }
  };
  for (let y = 0, i = 0; y < height; y++) {
    if ((y & 31) === 0) progress(y / height);
    total.fill(0);
    count.fill(0);
    for (let row = Math.max(0, y - reach); row <= Math.min(height - 1, y + reach); row++) {
      const r = Math.abs(row - y);
      addRow(row, outerHalf[r]!, 1);
      if (innerHalf[r]! >= 0) addRow(row, innerHalf[r]!, -1);
    }
    for (let x = 0; x < width; x++, i++)
      position[i] = count[x]! > 0 ? cells[i]! - base - total[x]! / count[x]! : Number.NaN;
  }
  return { frame, cells: position };
}
