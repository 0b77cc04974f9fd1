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

  // Running sums along each row: place x holds the sum of the cells before x.
  const stride = width + 1;
  const sums = new Float64Array(stride * height);
  const known = new Int32Array(stride * height);
  let base = Number.NaN;
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0, s = y * stride; x < width; x++, i++, s++) {
      const z = cells[i]!;
      const missing = Number.isNaN(z);
      if (!missing && Number.isNaN(base)) base = z;
      sums[s + 1] = sums[s]! + (missing ? 0 : z - base);
      known[s + 1] = known[s]! + (missing ? 0 : 1);
    }
  }

  const position = new Float32Array(cells.length);
  for (let y = 0, i = 0; y < height; y++) {
    if ((y & 31) === 0) progress(y / height);
    for (let x = 0; x < width; x++, i++) {
      let sum = 0;
      let count = 0;
      for (let dy = Math.max(-reach, -y), end = Math.min(reach, height - 1 - y); dy <= end; dy++) {
        const r = dy < 0 ? -dy : dy;
        const start = (y + dy) * stride;
        const half = outerHalf[r]!;
        const hole = innerHalf[r]!;
        const left = start + Math.max(x - half, 0);
        const right = start + Math.min(x + half + 1, width);
        sum += sums[right]! - sums[left]!;
        count += known[right]! - known[left]!;
        if (hole >= 0) {
          const holeLeft = start + Math.max(x - hole, 0);
          const holeRight = start + Math.min(x + hole + 1, width);
          sum -= sums[holeRight]! - sums[holeLeft]!;
          count -= known[holeRight]! - known[holeLeft]!;
        }
      }
      position[i] = count > 0 ? cells[i]! - base - sum / count : Number.NaN;
    }
  }
  return { frame, cells: position };
}
