import type { Grid } from '../grid/frame.ts';

/**
 * Maximum upwind slope: the steepest angle from a spot up to any ground (or canopy top) upwind of it within
 * `reach`, degrees, after Winstral, Elder & Davis, "Spatial snow modeling of wind-redistributed snow using
 * terrain-based parameters", J. Hydrometeorology 3 (2002). Positive is sheltered, negative exposed.
 *
 * @param top what stands in the wind, m: ground, or ground and canopy; NaN no data
 * @param from bearing the wind blows from, degrees clockwise from grid north
 * @param reach m
 * @param spot ground the slope is taken from; `top` when left out
 * @returns NaN where the spot has no data or nothing lies upwind within the map
 */
export function upwindSlope(top: Grid, from: number, reach: number, spot: Grid = top): Grid {
  const { frame, cells } = top;
  const { width, height, cellSize } = frame;
  const bearing = (from * Math.PI) / 180;
  const dx = Math.sin(bearing);
  const dy = -Math.cos(bearing);
  const steps = Math.max(1, Math.floor(reach / cellSize));
  const out = new Float32Array(cells.length).fill(Number.NaN);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const here = spot.cells[i]!;
      if (Number.isNaN(here)) continue;
      let steepest = Number.NEGATIVE_INFINITY;
      for (let n = 1; n <= steps; n++) {
        // Bilinear height of the point n cells upwind.
        const px = x + n * dx;
        const py = y + n * dy;
        const cx = Math.floor(px);
        const cy = Math.floor(py);
        if (px < 0 || py < 0 || px > width - 1 || py > height - 1) break;
        const fx = px - cx;
        const fy = py - cy;
        const j = cy * width + cx;
        const right = fx > 0 ? 1 : 0;
        const down = fy > 0 ? width : 0;
        const level =
          (cells[j]! * (1 - fx) + cells[j + right]! * fx) * (1 - fy) +
          (cells[j + down]! * (1 - fx) + cells[j + down + right]! * fx) * fy;
        const slope = (level - here) / (n * cellSize);
        if (slope > steepest) steepest = slope;
      }
      if (steepest > Number.NEGATIVE_INFINITY) out[i] = (Math.atan(steepest) * 180) / Math.PI;
    }
  }
  return { frame, cells: out };
}
