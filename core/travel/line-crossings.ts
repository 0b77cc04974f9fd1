import type { Frame, Point } from '../grid/frame.ts';
import { pathLength } from '../grid/simplify.ts';
import { type Barrier, costAlong, costBetween, footOn } from './barriers.ts';
import { CIRCUIT_MOVES, visitCrossedMoves } from './crossed-moves.ts';

/** Crossing an opening costs at least this, m: no edge becomes a perfect conductor. */
const LEAST_OPENING = 0.5;
/** A line that comes back over a move within this many cells of its length only wavers, as one walked with a phone. */
const WAVERS = 3;

/** A move that a line parts, once, however the line wavers about it. */
interface Crossing {
  cell: number;
  move: number;
  /** Where along the line, m. */
  along: number;
  /** Where it crosses, every time. */
  at: Point[];
}

/**
 * The moves a line parts. One crossed an odd number of times within a few cells is crossed once, one crossed an even
 * number of times not at all: whatever a line closes in stays closed, since going out changes sides an odd number of
 * times in all, and a line drawn unsteadily costs no more than a straight one.
 */
function partedMoves(frame: Frame, path: readonly Point[], moves: readonly number[]): Crossing[] {
  const found: (Crossing | null)[] = [];
  const last = new Map<number, { place: number; along: number; at: Point[] }>();
  // A piece of the line crosses a move once at most, and pieces come in their order.
  visitCrossedMoves(frame, path, moves, ({ cell, move, x, y, along }) => {
    const key = cell * 16 + move;
    const before = last.get(key);
    const wavers = before !== undefined && along - before.along <= WAVERS * frame.cellSize;
    const at: Point[] = wavers ? before.at : [];
    at.push([x, y]);
    if (wavers && at.length % 2 === 0) {
      found[before.place] = null;
      last.set(key, { place: -1, along, at });
      return;
    }
    last.set(key, { place: found.length, along, at });
    found.push({ cell, move, along, at });
  });
  return found.filter((crossing) => crossing !== null);
}

/**
 * What each move pays for a barrier. A crossing within an opening pays the opening's cost instead; so does the nearest
 * straight move where an opening falls between all of them.
 */
export function visitCrossingCosts(
  frame: Frame,
  barrier: Barrier,
  moves: readonly number[],
  visit: (cell: number, move: number, cost: number) => void,
): void {
  const crossings = partedMoves(frame, barrier.path, moves);
  const straight = crossings.filter(({ move }) => (CIRCUIT_MOVES as readonly number[]).includes(move));
  const away = ({ at }: Crossing, spot: Point): number =>
    at.reduce((least, [x, y]) => Math.min(least, Math.hypot(x - spot[0], y - spot[1])), Infinity);
  const openings = barrier.openings.map(({ at, halfWidth, cost }) => {
    const nearest = straight.reduce((least, crossing) => Math.min(least, away(crossing, at)), Infinity);
    return { at, cost, reach: Math.max(halfWidth, nearest) };
  });
  for (const crossing of crossings) {
    let cost = costAlong(barrier, crossing.along);
    for (const opening of openings)
      if (away(crossing, opening.at) <= opening.reach) cost = Math.min(cost, opening.cost);
    visit(crossing.cell, crossing.move, cost);
  }
}

/**
 * What each edge of the circuit pays for a barrier. Every crossing stands for the stretch of the line that is nearer to
 * it, along the line, than to the next; where openings cover a part of that, open and closed parts stand side by side
 * as conductors do. So an opening narrower than a cell counts with its own width, wherever it falls.
 */
export function visitEdgeCosts(
  frame: Frame,
  barrier: Barrier,
  visit: (cell: number, move: number, cost: number) => void,
): void {
  if (barrier.cost === 0) return;
  const crossings = partedMoves(frame, barrier.path, CIRCUIT_MOVES);
  if (barrier.openings.length === 0 && !barrier.profile) {
    for (const { cell, move } of crossings) visit(cell, move, barrier.cost);
    return;
  }
  crossings.sort((a, b) => a.along - b.along);
  const { path } = barrier;
  const length = pathLength(path);
  const [first, end] = [path[0]!, path.at(-1)!];
  const isRing = Math.hypot(first[0] - end[0], first[1] - end[1]) < 1e-6 * frame.cellSize;
  const openings = barrier.openings.flatMap(({ at, halfWidth, cost }) => {
    const { along } = footOn(path, at)!;
    // On a ring an opening may lie across where the line begins.
    const turns = isRing ? [-length, 0, length] : [0];
    return turns.map((turn) => ({
      from: along + turn - halfWidth,
      to: along + turn + halfWidth,
      cost: Math.max(LEAST_OPENING, cost),
    }));
  });
  crossings.forEach(({ cell, move, along }, k) => {
    const before = crossings[k - 1]?.along ?? (isRing ? crossings.at(-1)!.along - length : null);
    const after = crossings[k + 1]?.along ?? (isRing ? crossings[0]!.along + length : null);
    // Beyond the outermost crossings the line ends.
    const from = before === null ? Math.max(0, along - frame.cellSize) : (before + along) / 2;
    const to = after === null ? Math.min(length, along + frame.cellSize) : (along + after) / 2;
    let closed = 1;
    let passing = 0;
    for (const opening of openings) {
      const overlap = Math.min(to, opening.to) - Math.max(from, opening.from);
      const share = to > from ? Math.min(closed, Math.max(0, overlap / (to - from))) : 0;
      closed -= share;
      passing += share / opening.cost;
    }
    visit(cell, move, 1 / (passing + closed / costBetween(barrier, from, to)));
  });
}
