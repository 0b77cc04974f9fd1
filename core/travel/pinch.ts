import { cellAt, cellCentre, type Grid, type Point } from '../grid/frame.ts';
import type { Barrier } from './barriers.ts';
import { edgeFlow, type Flow, shareAcross } from './flow.ts';

/** A short line across which flow gathers, before it is named and judged. */
export interface Pinch {
  at: Point;
  line: [Point, Point];
  /** m. */
  width: number;
  /** Share of all travel across the line. */
  share: number;
  /** Share of each pair's own travel, in the order of the flow's pairs. */
  pairs: Float64Array;
  score: number;
}

/** Choices of ours. Distances in m. */
const LONGEST_HALF = 90;
/** A line ends where the flow through it has fallen to this share of its middle. */
const EDGE_OF_FLOW = 0.4;
/** A neck of this width counts half of one of no width. */
const HALF_SCORE_WIDTH = 60;
/** Flow crowds around its ends whatever the ground; no necks are sought this near to an area. */
const CLEAR_OF_AREAS = 60;
const LEAST_SHARE = 0.02;
const TURNS = 12;

/** Rank of a pinch: much travel through little width. */
export const scoreOf = (share: number, width: number): number =>
  (share * HALF_SCORE_WIDTH) / (HALF_SCORE_WIDTH + width);

/**
 * The narrow places of a flow. Wherever passage has a local top, lines are laid across it at every bearing; each
 * reaches both ways until the flow through it has fallen well below its middle, and the one with most travel for its
 * width is kept. Openings in lines are tried at their own width, which may be less than a cell. Its share is the *net* flow over the line against all that is sent, which does not depend on
 * the size of the cells. Of pinches that are one place, or carry the same strand near by, only the best is kept.
 *
 * @param toArea m from every cell of the flow's frame to the nearest travel area
 */
export function findPinches(
  flow: Flow,
  passage: Grid,
  toArea: Grid,
  barriers: readonly Barrier[],
  most: number,
): Pinch[] {
  const { frame } = flow;
  const { cellSize } = frame;
  const clear = Math.max(CLEAR_OF_AREAS, 2 * cellSize);
  const tops = localTops(passage, (LEAST_SHARE / 2) * Math.min(1, cellSize / 10)).filter(
    (cell) => toArea.cells[cell]! > clear,
  );
  const through = vectorsOf(flow);
  const longest = Math.max(LONGEST_HALF, 4 * cellSize);
  const pinches: Pinch[] = openingPinches(flow, barriers);
  for (const cell of tops) {
    const at = cellCentre(frame, cell);
    let best: Pinch | null = null;
    for (let turn = 0; turn < TURNS; turn++) {
      const angle = (Math.PI * turn) / TURNS;
      const heading: Point = [Math.sin(angle), Math.cos(angle)];
      const middle = through(cell, heading);
      if (middle === 0) continue;
      const ends = ([1, -1] as const).map((sign): Point | null => {
        let out = cellSize / 2;
        for (; out < longest; out += cellSize / 2) {
          const x = at[0] + sign * heading[0] * out;
          const y = at[1] + sign * heading[1] * out;
          const there = cellAt(frame, x, y);
          if (there < 0 || Number.isNaN(passage.cells[there]!)) break;
          if (toArea.cells[there]! === 0) return null;
          if (through(there, heading) < EDGE_OF_FLOW * middle) break;
        }
        // Flow without an edge within reach is no neck.
        if (out >= longest) return null;
        return [at[0] + sign * heading[0] * out, at[1] + sign * heading[1] * out];
      });
      if (!ends[0] || !ends[1]) continue;
      const line: [Point, Point] = [ends[1], ends[0]];
      const width = Math.hypot(line[1][0] - line[0][0], line[1][1] - line[0][1]);
      const { share, pairs } = shareAcross(flow, line);
      const score = scoreOf(share, width);
      if (share >= LEAST_SHARE && (!best || score > best.score))
        best = { at, line, width, share, pairs, score };
    }
    if (best) pinches.push(best);
  }
  pinches.sort((a, b) => b.score - a.score || a.at[0] - b.at[0] || a.at[1] - b.at[1]);
  const kept: Pinch[] = [];
  for (const pinch of pinches) {
    if (kept.length === most) break;
    if (!kept.some((other) => isSamePlace(pinch, other, cellSize))) kept.push(pinch);
  }
  return kept;
}

/** Each opening, with its share over the faces it lies on. */
function openingPinches(flow: Flow, barriers: readonly Barrier[]): Pinch[] {
  return barriers.flatMap(({ openings }) =>
    openings.flatMap(({ at, halfWidth, heading }): Pinch[] => {
      // The faces an opening lies on reach up to a cell beyond it.
      const half = halfWidth + flow.frame.cellSize;
      const line: [Point, Point] = [
        [at[0] - heading[0] * half, at[1] - heading[1] * half],
        [at[0] + heading[0] * half, at[1] + heading[1] * half],
      ];
      const { share, pairs } = shareAcross(flow, line);
      if (share < LEAST_SHARE) return [];
      return [{ at, line, width: 2 * halfWidth, share, pairs, score: scoreOf(share, 2 * halfWidth) }];
    }),
  );
}

/** Cells of most passage within two cells' reach, above a floor. */
export function localTops(passage: Grid, floor: number): number[] {
  const { width, height } = passage.frame;
  const { cells } = passage;
  const tops: number[] = [];
  for (let row = 1; row + 1 < height; row++) {
    next: for (let column = 1, i = row * width + 1; column + 1 < width; column++, i++) {
      const here = cells[i]!;
      if (!(here >= floor)) continue;
      let beaten = 0;
      for (let dy = -1; dy <= 1; dy++) {
        for (let dx = -1; dx <= 1; dx++) {
          const there = cells[i + dy * width + dx]!;
          // Along the strand a neighbour may carry as much; a top loses to at most two cells.
          if (there > here && ++beaten > 2) continue next;
        }
      }
      tops.push(i);
    }
  }
  return tops;
}

const NEAR = 60;
const SAME_STRAND = 200;
/** … when this part of their travel is the same. */
const SAME_TRAVEL = 0.6;

/** Two pinches are one place when close, or when near and of nearly the same travel. */
function isSamePlace(a: Pinch, b: Pinch, cellSize: number): boolean {
  const distance = Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]);
  if (distance < Math.max(NEAR, 3 * cellSize, (a.width + b.width) / 2)) return true;
  if (distance > Math.max(SAME_STRAND, 6 * cellSize)) return false;
  if (!liesAhead(a, b) && !liesAhead(b, a)) return false;
  let both = 0;
  let either = 0;
  for (let p = 0; p < a.pairs.length; p++) {
    both += Math.min(a.pairs[p]!, b.pairs[p]!);
    either += Math.max(a.pairs[p]!, b.pairs[p]!);
  }
  return both > SAME_TRAVEL * either;
}

/**
 * A function for the share of all travel per cell's width that passes a cell across a line of a given heading
 * (unit vector along the line; net for each pair, summed over the pairs).
 */
function vectorsOf(flow: Flow): (cell: number, heading: Point) => number {
  const { width } = flow.frame;
  return (cell, heading) => {
    let sum = 0;
    for (let p = 0; p < flow.pairs.length; p++) {
      // Mean of the flow in and out, eastward and northward.
      const x = (edgeFlow(flow, p, cell, 0) + edgeFlow(flow, p, cell - 1, 0)) / 2;
      const y = -(edgeFlow(flow, p, cell, 2) + edgeFlow(flow, p, cell - width, 2)) / 2;
      sum += flow.pairs[p]!.pair.share * Math.abs(x * heading[1] - y * heading[0]);
    }
    return sum;
  };
}

/** Whether b lies ahead of or behind a's line rather than beside it, where another strand may run. */
function liesAhead({ at, line: [from, to] }: Pinch, b: Pinch): boolean {
  const [dx, dy] = [b.at[0] - at[0], b.at[1] - at[1]];
  const [lx, ly] = [to[0] - from[0], to[1] - from[1]];
  return Math.abs(dx * ly - dy * lx) > Math.abs(dx * lx + dy * ly);
}
