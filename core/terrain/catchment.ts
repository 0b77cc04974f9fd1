import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { indexOffsets, NEIGHBOURS_8, oppositeDirection } from '../grid/neighbours.ts';

/**
 * What drains to a cell: 1 in its catchment, itself included, 0 elsewhere. Walks up from the cell, so it costs what
 * the catchment costs and not the map.
 */
export function catchmentOf(directions: Grid<Uint8Array>, outlet: number): Grid<Uint8Array> {
  const { frame, cells } = directions;
  assertOnFrame(frame, directions);
  const { width, height } = frame;
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const inside = new Uint8Array(cells.length);
  if (cells[outlet] === 0) return { frame, cells: inside };
  inside[outlet] = 1;
  const open = [outlet];
  for (let i = open.pop(); i !== undefined; i = open.pop()) {
    const x = i % width;
    const y = Math.floor(i / width);
    for (let k = 0; k < 8; k++) {
      const column = x + NEIGHBOURS_8.dx[k]!;
      const row = y + NEIGHBOURS_8.dy[k]!;
      if (column < 0 || row < 0 || column >= width || row >= height) continue;
      const j = i + offsets[k]!;
      if (cells[j] !== oppositeDirection(k + 1) || inside[j] === 1) continue;
      inside[j] = 1;
      open.push(j);
    }
  }
  return { frame, cells: inside };
}
