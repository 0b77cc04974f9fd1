import type { Frame, Grid } from '../../../core/grid/frame.ts';

export const airFrame = (width: number, height: number, cellSize: number): Frame => ({
  epsg: 26917,
  west: 400_000,
  north: 4_200_000,
  cellSize,
  width,
  height,
  longitude: -82,
  latitude: 38,
  convergence: 0,
});

/** Elevations from a function of metres east and south of the frame's corner. */
export function groundOf(frame: Frame, height: (x: number, y: number) => number): Grid {
  const cells = new Float32Array(frame.width * frame.height);
  for (let r = 0, i = 0; r < frame.height; r++)
    for (let c = 0; c < frame.width; c++, i++)
      cells[i] = height((c + 0.5) * frame.cellSize, (r + 0.5) * frame.cellSize);
  return { frame, cells };
}

export const same = (grid: Grid, value: number): Float32Array =>
  new Float32Array(grid.cells.length).fill(value);

export const total = (cells: ArrayLike<number>): number => Array.from(cells).reduce((a, b) => a + b, 0);
