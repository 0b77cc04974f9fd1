import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { completeWindow } from './slope.ts';

/**
 * Profile and plan curvature by the partial quartic of Zevenbergen & Thorne, "Quantitative analysis of land
 * surface topography", Earth Surface Processes and Landforms 12 (1987), in 1/m.
 *
 * Signs follow the ground: `profile` is positive where the slope steepens downhill (a brow) and negative where
 * it eases (a foot); `plan` is positive where flow spreads (a nose) and negative where it gathers (a draw).
 * Both are 0 on level ground and NaN where elevation is NaN; missing neighbours as in `surfaceOf`.
 */
export function curvatureOf(elevation: Grid): { profile: Grid; plan: Grid } {
  const { frame, cells } = elevation;
  assertOnFrame(frame, elevation);
  const { width, height, cellSize } = frame;
  const profile = new Float32Array(cells.length);
  const plan = new Float32Array(cells.length);
  const z = new Float64Array(9);
  const square = cellSize * cellSize;
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (Number.isNaN(cells[i]!)) {
        profile[i] = Number.NaN;
        plan[i] = Number.NaN;
        continue;
      }
      completeWindow(cells, width, height, x, y, z);
      const d = ((z[3]! + z[5]!) / 2 - z[4]!) / square;
      const e = ((z[1]! + z[7]!) / 2 - z[4]!) / square;
      const f = (z[2]! + z[6]! - z[0]! - z[8]!) / (4 * square);
      const g = (z[5]! - z[3]!) / (2 * cellSize);
      const h = (z[1]! - z[7]!) / (2 * cellSize);
      const squared = g * g + h * h;
      if (squared === 0) continue;
      profile[i] = (-2 * (d * g * g + e * h * h + f * g * h)) / squared;
      plan[i] = (-2 * (d * h * h + e * g * g - f * g * h)) / squared;
    }
  }
  return { profile: { frame, cells: profile }, plan: { frame, cells: plan } };
}
