import { distanceTo } from '../../core/grid/distance.ts';
import { cellCount, type Frame } from '../../core/grid/frame.ts';

/** Cells over which one tile gives way to the next towards its edge. */
const FEATHER_CELLS = 20;

/** What two tiles say of the ground they both cover. */
export interface Overlap {
  cells: number;
  /** Median of the later tile less the joined earlier ones, m. */
  median: number;
}

export interface Mosaic {
  cells: Float32Array;
  /** Takes the next tile; the order is the rank. @returns null where it overlaps nothing before it */
  add(tile: Float32Array): Overlap | null;
}

/**
 * Joins tiles with a feathered seam. A tile counts fully where it is more than `FEATHER_CELLS` from the edge of
 * what it knows (its border, its holes); nearer, its weight falls linearly to the edge and tiles of lower rank take
 * over what it leaves, by their own weight. So the surface is continuous where tiles disagree, and a finer tile
 * is not blurred by a coarser one below it.
 */
export function startMosaic(frame: Frame): Mosaic {
  const cells = new Float32Array(cellCount(frame)).fill(Number.NaN);
  // Sum of weights given so far, and the share of a cell that higher tiles left to those below.
  const given = new Float32Array(cells.length);
  const remaining = new Float32Array(cells.length).fill(1);
  const feather = FEATHER_CELLS * frame.cellSize;

  const add = (tile: Float32Array): Overlap | null => {
    const unknown = new Uint8Array(tile.length);
    for (let i = 0; i < tile.length; i++) unknown[i] = Number.isNaN(tile[i]!) ? 1 : 0;
    const toEdge = distanceTo(frame, unknown).cells;
    const differences: number[] = [];
    const every = Math.max(1, Math.floor(tile.length / 1e6));
    let common = 0;
    for (let i = 0; i < tile.length; i++) {
      if (unknown[i]) continue;
      const value = tile[i]!;
      const inside = Math.min(1, toEdge[i]! / feather);
      const before = given[i]!;
      if (before > 0 && common++ % every === 0) differences.push(value - cells[i]!);
      const weight = inside * remaining[i]!;
      cells[i] = before > 0 ? cells[i]! + ((value - cells[i]!) * weight) / (before + weight) : value;
      given[i] = before + weight;
      remaining[i] = remaining[i]! * (1 - inside);
    }
    if (common === 0) return null;
    differences.sort((a, b) => a - b);
    return { cells: common, median: differences[differences.length >> 1]! };
  };
  return { cells, add };
}
