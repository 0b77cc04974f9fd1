import type { Frame, Point } from '../grid/frame.ts';
import { NEIGHBOURS_16 } from '../grid/neighbours.ts';

/** Half of the 16 moves: the other half are their opposites, at index `move ^ 4`. */
const FORWARD_MOVES = [0, 1, 2, 3, 8, 9, 10, 11] as const;
/** The moves of the 4-neighbour circuit: east and south. */
export const CIRCUIT_MOVES = [0, 2] as const;
export const COST_MOVES: readonly number[] = FORWARD_MOVES;

export const oppositeMove = (move: number): number => move ^ 4;

// A line through cell centres would touch moves without crossing them. Shifting every line by the same sliver of a
// cell, in a direction no drawn line has, makes each case plain; a closed line stays closed.
const SHIFT_X = 1.2345678e-6;
const SHIFT_Y = 2.7182818e-6;

/** Where a move meets a line. */
export interface MoveCrossing {
  cell: number;
  /** Index into NEIGHBOURS_16, one of the moves asked for. */
  move: number;
  /** Frame CRS, m. */
  x: number;
  y: number;
  /** Distance along the path, m. */
  along: number;
  /** +1 when the move goes from the path's left to its right (seen along the path on the map), else -1. */
  side: 1 | -1;
}

/**
 * Every move between cell centres that a path intersects, exactly by geometry, so that whatever is charged for
 * the crossing is charged on every way across. A move the path crosses twice is visited twice. By the Jordan curve
 * theorem no chain of moves gets out of a closed path without a visit.
 *
 * @param moves indices into NEIGHBOURS_16, each with its opposite left out
 * @param visit gets the same object every time
 */
export function visitCrossedMoves(
  frame: Frame,
  path: readonly Point[],
  moves: readonly number[],
  visit: (crossing: Readonly<MoveCrossing>) => void,
): void {
  const { width, height, cellSize } = frame;
  const { dx, dy } = NEIGHBOURS_16;
  const crossing: MoveCrossing = { cell: 0, move: 0, x: 0, y: 0, along: 0, side: 1 };
  // Work in columns and rows, where cell centres are whole numbers.
  const toX = (x: number): number => (x - frame.west) / cellSize - 0.5 + SHIFT_X;
  const toY = (y: number): number => (frame.north - y) / cellSize - 0.5 + SHIFT_Y;
  let start = 0;
  for (let k = 0; k + 1 < path.length; k++) {
    const ax = toX(path[k]![0]);
    const ay = toY(path[k]![1]);
    const bx = toX(path[k + 1]![0]);
    const by = toY(path[k + 1]![1]);
    const length = Math.hypot(bx - ax, by - ay);
    if (length === 0) continue;
    const pieces = Math.max(1, Math.ceil(length / 4));
    let px = ax;
    let py = ay;
    for (let piece = 1; piece <= pieces; piece++) {
      const qx = piece === pieces ? bx : ax + ((bx - ax) * piece) / pieces;
      const qy = piece === pieces ? by : ay + ((by - ay) * piece) / pieces;
      const column0 = Math.max(0, Math.floor(Math.min(px, qx)) - 2);
      const column1 = Math.min(width - 1, Math.ceil(Math.max(px, qx)) + 2);
      const row0 = Math.max(0, Math.floor(Math.min(py, qy)) - 2);
      const row1 = Math.min(height - 1, Math.ceil(Math.max(py, qy)));
      for (let row = row0; row <= row1; row++) {
        for (let column = column0; column <= column1; column++) {
          const from = (qx - px) * (row - py) - (qy - py) * (column - px);
          for (const move of moves) {
            const endColumn = column + dx[move]!;
            const endRow = row + dy[move]!;
            if (endColumn < 0 || endColumn >= width || endRow >= height) continue;
            const to = (qx - px) * (endRow - py) - (qy - py) * (endColumn - px);
            if (from >= 0 === to >= 0) continue;
            const p = dx[move]! * (py - row) - dy[move]! * (px - column);
            const q = dx[move]! * (qy - row) - dy[move]! * (qx - column);
            if (p >= 0 === q >= 0) continue;
            const t = from / (from - to);
            const s = p / (p - q);
            crossing.cell = row * width + column;
            crossing.move = move;
            crossing.x = frame.west + (column + t * dx[move]! + 0.5) * cellSize;
            crossing.y = frame.north - (row + t * dy[move]! + 0.5) * cellSize;
            crossing.along = start + (piece - 1 + s) * (length / pieces) * cellSize;
            // Rows run south, so a negative cross product lies to the left on the map.
            crossing.side = from < 0 ? 1 : -1;
            visit(crossing);
          }
        }
      }
      px = qx;
      py = qy;
    }
    start += length * cellSize;
  }
}
