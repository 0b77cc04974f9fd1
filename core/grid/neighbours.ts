/**
 * Moves from a cell to its neighbours. The first eight run clockwise from east, so the flow-direction code of
 * a move (1..8) is its place in the list plus one; the knight's moves of the 16 follow, clockwise as well.
 */
export interface Neighbours {
  count: number;
  /** Columns east. */
  dx: Int8Array;
  /** Rows south. */
  dy: Int8Array;
  /** Length of the move in cells. */
  length: Float64Array;
}

const COLUMNS = [1, 1, 0, -1, -1, -1, 0, 1, 2, 1, -1, -2, -2, -1, 1, 2];
const ROWS = [0, 1, 1, 1, 0, -1, -1, -1, 1, 2, 2, 1, -1, -2, -2, -1];

function firstMoves(count: number): Neighbours {
  const dx = Int8Array.from(COLUMNS.slice(0, count));
  const dy = Int8Array.from(ROWS.slice(0, count));
  return { count, dx, dy, length: Float64Array.from(dx, (x, k) => Math.hypot(x, dy[k]!)) };
}

export const NEIGHBOURS_8 = firstMoves(8);
export const NEIGHBOURS_16 = firstMoves(16);

/** The code 1..8 of the opposite move: east (1) and west (5), and so on round. */
export const oppositeDirection = (direction: number): number => ((direction + 3) & 7) + 1;

/** What each move adds to a row-major index in a grid of this width. Edges are the caller's to mind. */
export const indexOffsets = (neighbours: Neighbours, width: number): Int32Array =>
  Int32Array.from(neighbours.dx, (x, k) => x + neighbours.dy[k]! * width);
