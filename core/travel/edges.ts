import { cellCount, type Frame, type Grid } from '../grid/frame.ts';
import { NEIGHBOURS_16 } from '../grid/neighbours.ts';
import type { Barrier } from './barriers.ts';
import { COST_MOVES, oppositeMove } from './crossed-moves.ts';
import { visitCrossingCosts, visitEdgeCosts } from './line-crossings.ts';

/** Extra cost of moves, for the cells near a line only. */
export interface MoveCosts {
  /** Row of a cell in `extra`; 0 where no move of the cell crosses a line. */
  slot: Int32Array;
  /** 16 costs a row, in metres of easy ground, in the order of NEIGHBOURS_16. Row 0 is all zeros. */
  extra: Float64Array;
}

/**
 * What every one of the 16 moves pays for the lines it intersects, and at their openings.
 */
export function moveCosts(frame: Frame, barriers: readonly Barrier[]): MoveCosts {
  const slot = new Int32Array(cellCount(frame));
  let extra = new Float64Array(16 * 1024);
  let rows = 1;
  const rowOf = (cell: number): number => {
    if (slot[cell] === 0) {
      slot[cell] = rows++;
      if (rows * 16 > extra.length) {
        const bigger = new Float64Array(extra.length * 2);
        bigger.set(extra);
        extra = bigger;
      }
    }
    return slot[cell]! * 16;
  };
  for (const barrier of barriers) {
    visitCrossingCosts(frame, barrier, COST_MOVES, (cell, move, cost) => {
      const other = cell + NEIGHBOURS_16.dx[move]! + NEIGHBOURS_16.dy[move]! * frame.width;
      extra[rowOf(cell) + move]! += cost;
      extra[rowOf(other) + oppositeMove(move)]! += cost;
    });
  }
  return { slot, extra: extra.subarray(0, rows * 16) };
}

/**
 * Cost of the way from every cell to its 4-neighbours to the east and south, metres of easy ground; Infinity where
 * no way leads. Four neighbours keep every edge a single exact crossing test, and a uniform sheet of such edges is
 * isotropic at distances of many cells.
 */
export interface EdgeCosts {
  resistance: Grid;
  east: Float64Array;
  south: Float64Array;
}

/**
 * Edge costs from a resistance grid and the lines across it: the mean resistance of the way between centres plus
 * what its lines cost. Where an opening covers a share of the face between two cells, open and closed parts stand
 * side by side (as conductors do), so an opening narrower than a cell counts with its true width.
 */
export function edgeCosts(resistance: Grid, barriers: readonly Barrier[]): EdgeCosts {
  const { frame, cells } = resistance;
  const { width, height, cellSize } = frame;
  const east = new Float64Array(width * height).fill(Number.POSITIVE_INFINITY);
  const south = new Float64Array(width * height).fill(Number.POSITIVE_INFINITY);
  for (let row = 0, i = 0; row < height; row++) {
    for (let column = 0; column < width; column++, i++) {
      const here = cells[i]!;
      if (Number.isNaN(here)) continue;
      if (column + 1 < width) {
        const there = cells[i + 1]!;
        if (!Number.isNaN(there)) east[i] = ((here + there) * cellSize) / 2;
      }
      if (row + 1 < height) {
        const there = cells[i + width]!;
        if (!Number.isNaN(there)) south[i] = ((here + there) * cellSize) / 2;
      }
    }
  }
  for (const barrier of barriers)
    visitEdgeCosts(frame, barrier, (cell, move, cost) => {
      (move === 0 ? east : south)[cell]! += cost;
    });
  return { resistance, east, south };
}
