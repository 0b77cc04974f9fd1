import { assertOnFrame, type Frame, type Grid } from '../grid/frame.ts';

/**
 * Landforms are read on cells of about this size, m: a metre grid is full of furrows and stumps that no deer
 * minds, and the forms a person walks by are tens of metres across (common practice, no source).
 */
const FORM_CELL = 6;

/** How many cells a side make one cell of the grid that landforms are read on. */
export const formFactor = (cellSize: number): number => Math.max(1, Math.round(FORM_CELL / cellSize));

/**
 * Means of `factor` x `factor` cells. A cell with less than half of its ground known is NaN; the last row and
 * column may be short, and are then the mean of what there is.
 */
export function coarsen(grid: Grid, factor: number): Grid<Float32Array> {
  assertOnFrame(grid.frame, grid);
  if (factor === 1) return { frame: grid.frame, cells: grid.cells };
  const { width, height } = grid.frame;
  const frame: Frame = {
    ...grid.frame,
    cellSize: grid.frame.cellSize * factor,
    width: Math.ceil(width / factor),
    height: Math.ceil(height / factor),
  };
  const sums = new Float64Array(frame.width * frame.height);
  const known = new Int32Array(sums.length);
  for (let y = 0, i = 0; y < height; y++) {
    const start = Math.floor(y / factor) * frame.width;
    for (let x = 0; x < width; x++, i++) {
      const z = grid.cells[i]!;
      if (Number.isNaN(z)) continue;
      const c = start + Math.floor(x / factor);
      sums[c]! += z;
      known[c]!++;
    }
  }
  const cells = new Float32Array(sums.length);
  for (let y = 0, c = 0; y < frame.height; y++) {
    const tall = Math.min(factor, height - y * factor);
    for (let x = 0; x < frame.width; x++, c++) {
      const all = tall * Math.min(factor, width - x * factor);
      cells[c] = 2 * known[c]! >= all ? sums[c]! / known[c]! : Number.NaN;
    }
  }
  return { frame, cells };
}

/** Brings class codes from a coarse grid back onto the frame it was made from. */
export function refine(codes: Grid<Uint8Array>, frame: Frame, factor: number): Grid<Uint8Array> {
  if (factor === 1) return { frame, cells: codes.cells.slice() };
  const cells = new Uint8Array(frame.width * frame.height);
  for (let y = 0, i = 0; y < frame.height; y++) {
    const start = Math.floor(y / factor) * codes.frame.width;
    for (let x = 0; x < frame.width; x++, i++) cells[i] = codes.cells[start + Math.floor(x / factor)]!;
  }
  return { frame, cells };
}
