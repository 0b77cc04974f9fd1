import type { Grid } from '../grid/frame.ts';

/** Value between cell centres, bilinear; NaN outside the grid or where one of the four cells has no data. */
export function sampleAt(grid: Grid, x: number, y: number): number {
  const { frame, cells } = grid;
  const column = (x - frame.west) / frame.cellSize - 0.5;
  const row = (frame.north - y) / frame.cellSize - 0.5;
  const c = Math.min(Math.floor(column), frame.width - 2);
  const r = Math.min(Math.floor(row), frame.height - 2);
  if (!(column >= 0 && row >= 0 && column <= frame.width - 1 && row <= frame.height - 1) || c < 0 || r < 0)
    return Number.NaN;
  const u = column - c;
  const v = row - r;
  const i = r * frame.width + c;
  const top = cells[i]! * (1 - u) + cells[i + 1]! * u;
  const bottom = cells[i + frame.width]! * (1 - u) + cells[i + frame.width + 1]! * u;
  return top * (1 - v) + bottom * v;
}
