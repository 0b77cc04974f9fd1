import { cellCentre, type Frame, type Point } from '../grid/frame.ts';
import { seededRandom } from '../grid/random.ts';
import { simplifyPath } from '../grid/simplify.ts';
import type { Flow, PairFlow } from './flow.ts';
import { evened } from './routes.ts';

/** One line of a flow: what it stands for of all travel, and the cells of the frame it runs by. */
export interface FlowLine {
  /** Tells it from the other lines, and the same line of two flows by one name. */
  key: string;
  share: number;
  cells: number[];
}

/**
 * Lines of a flow, so many in all, more for the pairs that carry more. At every cell the next is drawn by the net flow
 * out of it, but by a lot that is the cell's own: the same line of two flows runs the same way wherever these are
 * alike, and comes back to it behind a place where they are not. What moves between two answers is what changed.
 *
 * @param count lines wanted, roughly: every pair has one at least
 */
export function flowLines(flow: Flow, count: number): FlowLine[] {
  return flow.pairs.flatMap((pairFlow) => {
    const { from, to, share } = pairFlow.pair;
    const lines = Math.max(1, Math.round(share * count));
    const starts = startsOf(pairFlow);
    return Array.from({ length: lines }, (_, k): FlowLine => {
      const seed = 7919 * from + 104729 * to + k;
      const cells = lineFrom(pairFlow, starts((k + 0.5) / lines), flow.frame.width, seed);
      return { key: `${from} ${to} ${k}`, share: share / lines, cells };
    });
  });
}

/** The stretch of a line that runs elsewhere: where it ran, where it runs, and what it stands for of all travel. */
export interface MovedLine {
  was: Point[];
  path: Point[];
  share: number;
}

/** Stretches as short as this are the net's stair-steps and nothing to look at, cells: our choice. */
const SHORT = 8;
/** What is drawn before and behind a stretch, so that it joins the rest, cells. */
const JOIN = 4;

/**
 * Lines that run elsewhere now, from where they part to where they meet again; a line that is cut off, or new, runs
 * nowhere after or before.
 */
export function movedLines(
  frame: Frame,
  before: readonly FlowLine[],
  after: readonly FlowLine[],
): MovedLine[] {
  const was = new Map(before.map((line) => [line.key, line]));
  const now = new Map(after.map((line) => [line.key, line]));
  return [...new Set([...was.keys(), ...now.keys()])].flatMap((key) => {
    const [old, next] = [was.get(key)?.cells ?? [], now.get(key)?.cells ?? []];
    let head = 0;
    while (head < old.length && head < next.length && old[head] === next[head]) head++;
    let tail = 0;
    const room = Math.min(old.length, next.length) - head;
    while (tail < room && old.at(-1 - tail) === next.at(-1 - tail)) tail++;
    if (Math.max(old.length, next.length) - head - tail <= SHORT) return [];
    const stretch = (cells: number[]): Point[] => {
      const part = cells.slice(Math.max(0, head - JOIN), Math.max(0, cells.length - tail + JOIN));
      return simplifyPath(evened(part.map((cell) => cellCentre(frame, cell))), frame.cellSize / 2);
    };
    return [{ was: stretch(old), path: stretch(next), share: (now.get(key) ?? was.get(key))!.share }];
  });
}

/** The cell of the window at which a share of a pair's travel has started, counted through it row by row. */
function startsOf({ window, east, south }: PairFlow): (share: number) => number {
  const cells: number[] = [];
  const sums: number[] = [];
  let total = 0;
  for (let k = 0; k < window.width * window.height; k++) {
    const surplus = surplusAt(k, window.width, east, south);
    if (surplus <= STRAY) continue;
    total += surplus;
    cells.push(k);
    sums.push(total);
  }
  return (share) => {
    const found = sums.findIndex((sum) => sum >= share * total);
    return cells[found < 0 ? cells.length - 1 : found] ?? -1;
  };
}

/** What starts in a cell less what ends there; less than this of a pair's travel is what the solve leaves over. */
const STRAY = 1e-6;
const surplusAt = (k: number, width: number, east: Float64Array, south: Float64Array): number =>
  east[k]! + south[k]! - (k % width > 0 ? east[k - 1]! : 0) - (k >= width ? south[k - width]! : 0);

/** Cells of the frame of one line, from a cell of its window. */
function lineFrom(
  { window, east, south }: PairFlow,
  start: number,
  frameWidth: number,
  seed: number,
): number[] {
  const { width, height, column, row } = window;
  const steps = [1, width, -1, -width] as const;
  const cells: number[] = [];
  let at = start;
  for (let step = 0; at >= 0 && step < 40 * (width + height); step++) {
    const cell = (row + Math.floor(at / width)) * frameWidth + column + (at % width);
    cells.push(cell);
    const out = [
      Math.max(0, east[at]!),
      Math.max(0, south[at]!),
      at % width > 0 ? Math.max(0, -east[at - 1]!) : 0,
      at >= width ? Math.max(0, -south[at - width]!) : 0,
    ];
    const leaving = out[0]! + out[1]! + out[2]! + out[3]!;
    const surplus = surplusAt(at, width, east, south);
    const ending = surplus < -STRAY ? -surplus : 0;
    let left = lotOf(cell, seed) * (leaving + ending);
    if (leaving === 0 || left < ending) break;
    left -= ending;
    let move = 0;
    while (move < 3 && left >= out[move]!) left -= out[move++]!;
    at += steps[move]!;
  }
  return cells;
}

/** A lot in 0..1 that is a cell's own for one line. */
const lotOf = (cell: number, seed: number): number => seededRandom(Math.imul(cell, 0x9e3779b1) ^ seed)();
