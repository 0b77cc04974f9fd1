import { cellCount, type Frame, type Grid } from '../grid/frame.ts';
import { NEIGHBOURS_16 } from '../grid/neighbours.ts';
import type { Barrier } from './barriers.ts';
import {
  CIRCUIT_MOVES,
  COST_MOVES,
  type MoveCrossing,
  oppositeMove,
  visitCrossedMoves,
} from './crossed-moves.ts';

/** Extra cost of moves, for the cells near a line only. */
export interface MoveCosts {
  /** Row of a cell in `extra`; 0 where no move of the cell crosses a line. */
  slot: Int32Array;
  /** 16 costs a row, in metres of easy ground, in the order of NEIGHBOURS_16. Row 0 is all zeros. */
  extra: Float64Array;
}

/**
 * What every one of the 16 moves pays for the lines it intersects. A crossing within an opening, or within reach
 * of the nearest move where the opening is narrower than a cell, pays the opening's cost instead.
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
    visitCrossedMoves(frame, barrier.path, COST_MOVES, (crossing) => {
      const cost = costAt(barrier, crossing, frame.cellSize);
      const { cell, move } = crossing;
      const other = cell + NEIGHBOURS_16.dx[move]! + NEIGHBOURS_16.dy[move]! * frame.width;
      extra[rowOf(cell) + move]! += cost;
      extra[rowOf(other) + oppositeMove(move)]! += cost;
    });
  }
  return { slot, extra: extra.subarray(0, rows * 16) };
}

function costAt(barrier: Barrier, crossing: MoveCrossing, cellSize: number): number {
  let cost = barrier.cost;
  for (const opening of barrier.openings) {
    const distance = Math.hypot(crossing.x - opening.at[0], crossing.y - opening.at[1]);
    // No line has its crossings with the straight moves farther apart than the square root of two cells.
    if (distance <= Math.max(opening.halfWidth, 0.71 * cellSize)) cost = Math.min(cost, opening.cost);
  }
  return cost;
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

/** Crossing an opening costs at least this, m: no edge becomes a perfect conductor. */
const LEAST_OPENING = 0.5;

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
    visitCrossedMoves(frame, barrier.path, CIRCUIT_MOVES, (crossing) => {
      const costs = crossing.move === 0 ? east : south;
      costs[crossing.cell]! += faceCost(frame, barrier, crossing);
    });
  return { resistance, east, south };
}

/** Cost of crossing a barrier through the face between two cells, open and closed shares side by side. */
function faceCost(frame: Frame, barrier: Barrier, crossing: MoveCrossing): number {
  if (barrier.cost === 0) return 0;
  const { cellSize } = frame;
  const vertical = crossing.move === 0;
  // Centre of the face along its own axis.
  const centre = vertical ? crossing.y : crossing.x;
  let closed = 1;
  let passing = 0;
  for (const opening of barrier.openings) {
    const away = Math.hypot(crossing.x - opening.at[0], crossing.y - opening.at[1]);
    if (away > opening.halfWidth + 2 * cellSize) continue;
    const along = vertical ? opening.at[1] : opening.at[0];
    const half = opening.halfWidth * Math.abs(vertical ? opening.heading[1] : opening.heading[0]);
    const overlap =
      Math.min(centre + cellSize / 2, along + half) - Math.max(centre - cellSize / 2, along - half);
    const share = Math.min(closed, Math.max(0, overlap / cellSize));
    closed -= share;
    passing += share / Math.max(LEAST_OPENING, opening.cost);
  }
  return 1 / (passing + closed / barrier.cost);
}
