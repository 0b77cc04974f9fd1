import type { Frame } from './frame.ts';

/** Visits every cell of the square that reaches `distance` m to each side of a cell, in row order. */
export function visitAround(
  { width, height, cellSize }: Frame,
  column: number,
  row: number,
  distance: number,
  visit: (index: number, column: number, row: number) => void,
): void {
  const out = Math.ceil(distance / cellSize);
  const [west, east] = [Math.max(0, column - out), Math.min(width - 1, column + out)];
  const south = Math.min(height - 1, row + out);
  for (let v = Math.max(0, row - out); v <= south; v++)
    for (let u = west; u <= east; u++) visit(v * width + u, u, v);
}
