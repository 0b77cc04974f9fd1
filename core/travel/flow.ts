import { cellCount, type Frame, type Grid, type Point } from '../grid/frame.ts';
import { CIRCUIT_MOVES, visitCrossedMoves } from './crossed-moves.ts';

/** Two areas that travel runs between, and how much of all travel is between them. */
export interface TravelPair {
  from: number;
  to: number;
  /** 0..1. */
  share: number;
}

/** Net flow of one pair, one unit in all, on the window of the frame that holds all but a trace of it. */
export interface PairFlow {
  pair: TravelPair;
  /** Least cost between the two areas on this grid, m of easy ground. */
  cost: number;
  window: Window;
  /** From every cell of the window to its neighbour east, and south; share of the pair's travel, signed. */
  east: Float64Array;
  south: Float64Array;
  /**
   * How the walkers of both areas spread over the window, and how many meet: a visit to a cell is worth about
   * a times b over met. For a later solve to start from; none at focus 0.
   */
  spread: { a: Float64Array; b: Float64Array; met: number } | null;
}

export interface Window {
  column: number;
  row: number;
  width: number;
  height: number;
}

export interface Flow {
  frame: Frame;
  pairs: PairFlow[];
  /** Pairs whose areas are cut off from each other; they carry nothing. */
  cutOff: TravelPair[];
}

/** Net flow of every pair across a path, from its left to its right, of one unit sent; in the order of the pairs. */
export function netAcross(flow: Flow, path: readonly Point[]): Float64Array {
  const across = new Float64Array(flow.pairs.length);
  visitCrossedMoves(flow.frame, path, CIRCUIT_MOVES, ({ cell, move, side }) => {
    for (let p = 0; p < across.length; p++) across[p]! += side * edgeFlow(flow, p, cell, move);
  });
  return across;
}

/** Net flow of a pair from a cell of the frame by a circuit move (0 east, 2 south). */
export function edgeFlow({ frame, pairs }: Flow, pair: number, cell: number, move: number): number {
  const { window, east, south } = pairs[pair]!;
  const y = Math.floor(cell / frame.width);
  const x = cell - y * frame.width - window.column;
  const row = y - window.row;
  if (x < 0 || row < 0 || x >= window.width || row >= window.height) return 0;
  return (move === 0 ? east : south)[row * window.width + x]!;
}

/** Share of all travel that crosses a path on balance, and of each pair's own: 0..1. */
export function shareAcross(flow: Flow, path: readonly Point[]): { share: number; pairs: Float64Array } {
  const pairs = netAcross(flow, path).map((value) => Math.min(1, Math.abs(value)));
  return { share: shareOf(flow, pairs), pairs };
}

/** Share of all travel from shares of each pair's own. */
export function shareOf(flow: Flow, pairs: Float64Array): number {
  let share = 0;
  for (let p = 0; p < pairs.length; p++)
    share += flow.pairs[p]!.pair.share * Math.min(1, Math.abs(pairs[p]!));
  return Math.min(1, share);
}

/**
 * Share of all travel through every cell: half of the net flow on its four edges and of what starts or ends there,
 * summed over the pairs. NaN where the resistance is.
 */
export function passageOf(flow: Flow, resistance: Grid): Grid {
  const { frame } = flow;
  const sum = new Float64Array(cellCount(frame));
  for (const { pair, window, east, south } of flow.pairs) {
    const { width, height, column, row } = window;
    const half = pair.share / 2;
    for (let y = 0, k = 0; y < height; y++) {
      for (let x = 0, i = (row + y) * frame.width + column; x < width; x++, i++, k++) {
        const west = x > 0 ? east[k - 1]! : 0;
        const north = y > 0 ? south[k - width]! : 0;
        const ends = Math.abs(east[k]! + south[k]! - west - north);
        sum[i]! +=
          half * (Math.abs(east[k]!) + Math.abs(south[k]!) + Math.abs(west) + Math.abs(north) + ends);
      }
    }
  }
  const cells = Float32Array.from(sum, (value, i) =>
    Number.isNaN(resistance.cells[i]!) ? Number.NaN : value,
  );
  return { frame, cells };
}
