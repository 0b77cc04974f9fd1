import { assertOnFrame, type Grid } from '../grid/frame.ts';

/**
 * Roughness: the largest difference of elevation within the 3 x 3 window, m (Wilson et al., "Multiscale terrain
 * analysis of multibeam bathymetry data for habitat mapping", Marine Geodesy 30, 2007). Missing neighbours are left
 * out; NaN where elevation is NaN.
 */
export function roughnessOf(elevation: Grid): Grid<Float32Array> {
  const { frame, cells } = elevation;
  assertOnFrame(frame, elevation);
  const { width, height } = frame;
  const roughness = new Float32Array(cells.length);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      let low = cells[i]!;
      let high = low;
      for (let row = Math.max(0, y - 1); row <= Math.min(height - 1, y + 1); row++) {
        for (let column = Math.max(0, x - 1); column <= Math.min(width - 1, x + 1); column++) {
          const z = cells[row * width + column]!;
          if (z < low) low = z;
          if (z > high) high = z;
        }
      }
      roughness[i] = high - low;
    }
  }
  return { frame, cells: roughness };
}
