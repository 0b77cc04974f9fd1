import { cellCount, type Frame, type Grid } from '../grid/frame.ts';

/** Air does not feel steps of the ground much shorter than the layer is deep: its cells are at least this, m. */
const AIR_CELL = 25;
/** Cells over cell size, 1/m: what a night on them costs. More makes the air cells larger. */
const MOST_WORK = 600;

/** How many cells of the property's frame make a side of an air cell. */
export function airFactor(frame: Frame): number {
  const bySize = Math.max(1, Math.round(AIR_CELL / frame.cellSize));
  const byWork = Math.ceil(Math.cbrt(cellCount(frame) / (frame.cellSize * MOST_WORK)));
  return Math.max(bySize, byWork);
}

/** A coarser frame of the same corner; its last row and column may reach past the finer one. */
export function coarserFrame(frame: Frame, factor: number): Frame {
  return {
    ...frame,
    cellSize: frame.cellSize * factor,
    width: Math.ceil(frame.width / factor),
    height: Math.ceil(frame.height / factor),
  };
}

/** Mean of the known cells in each coarse cell; NaN where none is known. */
export function blockMean(grid: Grid, coarse: Frame): Grid {
  const factor = Math.round(coarse.cellSize / grid.frame.cellSize);
  const { width, height } = grid.frame;
  const sum = new Float64Array(cellCount(coarse));
  const known = new Int32Array(sum.length);
  for (let y = 0, i = 0; y < height; y++) {
    const row = Math.floor(y / factor) * coarse.width;
    for (let x = 0; x < width; x++, i++) {
      const value = grid.cells[i]!;
      if (Number.isNaN(value)) continue;
      const j = row + Math.floor(x / factor);
      sum[j]! += value;
      known[j]!++;
    }
  }
  const cells = Float32Array.from(sum, (total, j) => (known[j]! > 0 ? total / known[j]! : Number.NaN));
  return { frame: coarse, cells };
}

/** Bilinear values of a coarse grid at the cells of a finer frame; NaN corners lend nothing, all NaN gives NaN. */
export function refine(coarse: Grid, frame: Frame): Grid {
  const factor = Math.round(coarse.frame.cellSize / frame.cellSize);
  if (factor === 1) return { frame, cells: coarse.cells.slice() };
  const { width, height } = frame;
  const across = coarse.frame.width;
  const down = coarse.frame.height;
  const cells = new Float32Array(cellCount(frame));
  for (let y = 0, i = 0; y < height; y++) {
    const v = Math.min(down - 1, Math.max(0, (y + 0.5) / factor - 0.5));
    const y0 = Math.min(down - 1, Math.floor(v));
    const y1 = Math.min(down - 1, y0 + 1);
    const fy = v - y0;
    for (let x = 0; x < width; x++, i++) {
      const u = Math.min(across - 1, Math.max(0, (x + 0.5) / factor - 0.5));
      const x0 = Math.min(across - 1, Math.floor(u));
      const x1 = Math.min(across - 1, x0 + 1);
      const fx = u - x0;
      const a = coarse.cells[y0 * across + x0]!;
      const b = coarse.cells[y0 * across + x1]!;
      const c = coarse.cells[y1 * across + x0]!;
      const d = coarse.cells[y1 * across + x1]!;
      let weight = 0;
      let sum = 0;
      if (!Number.isNaN(a)) {
        weight += (1 - fx) * (1 - fy);
        sum += (1 - fx) * (1 - fy) * a;
      }
      if (!Number.isNaN(b)) {
        weight += fx * (1 - fy);
        sum += fx * (1 - fy) * b;
      }
      if (!Number.isNaN(c)) {
        weight += (1 - fx) * fy;
        sum += (1 - fx) * fy * c;
      }
      if (!Number.isNaN(d)) {
        weight += fx * fy;
        sum += fx * fy * d;
      }
      cells[i] = weight > 0 ? sum / weight : Number.NaN;
    }
  }
  return { frame, cells };
}
