import { compassWord } from '../features/units.ts';
import { bearingOf } from '../grid/bearing.ts';
import { cellAt, cellCentre, type Frame, type Point } from '../grid/frame.ts';
import { cropTo, windowAt } from '../grid/window.ts';
import type { Barrier } from './barriers.ts';
import { accumulateCost, type CostSurface, traceCells } from './cost.ts';
import { CIRCUIT_MOVES, visitCrossedMoves } from './crossed-moves.ts';
import { type EdgeCosts, moveCosts } from './edges.ts';
import { edgeFlow, type Flow, shareOf } from './flow.ts';

/** Ground to walk on: resistance with its relief and trails. */
type Walked = Pick<EdgeCosts, 'resistance' | 'underfoot'>;

/** Cells on each side of a spot that ways are sought over first. */
const NEAR = 50;

/**
 * From where most travel met a barricade: what the way round adds, m of easy ground (Infinity when none leads round),
 * and by which end it goes.
 *
 * @param barriers all there are, this one among them
 * @param before travel without the barricade, on the frame of `ground`
 */
export function wayRound(
  barrier: Barrier,
  barriers: readonly Barrier[],
  before: Flow,
  ground: Walked,
): { at: Point; detour: number; round: string } {
  const { frame } = ground.resistance;
  const { path } = barrier;
  let most = -1;
  let meet = { cell: -1, other: -1, at: path[0]! };
  const flows = new Float64Array(before.pairs.length);
  visitCrossedMoves(frame, path, CIRCUIT_MOVES, ({ cell, move, x, y }) => {
    for (let p = 0; p < flows.length; p++) flows[p] = edgeFlow(before, p, cell, move);
    const share = shareOf(before, flows);
    if (share > most) {
      most = share;
      meet = { cell, other: move === 0 ? cell + 1 : cell + frame.width, at: [x, y] };
    }
  });
  if (meet.cell < 0) return { at: meet.at, detour: 0, round: 'near' };
  const from = cellCentre(frame, meet.cell);
  const to = cellCentre(frame, meet.other);
  const others = barriers.filter(({ feature }) => feature !== barrier.feature);
  const walled = [...others, { ...barrier, cost: Number.POSITIVE_INFINITY, openings: [] }];
  const open = leastWay(from, to, others, ground);
  const around = leastWay(from, to, walled, ground);
  const nearestTo = (end: Point): number =>
    around.path.reduce(
      (least, [x, y]) => Math.min(least, Math.hypot(x - end[0], y - end[1])),
      Number.POSITIVE_INFINITY,
    );
  const first = nearestTo(path[0]!) <= nearestTo(path.at(-1)!);
  const [end, inner] = first ? [path[0]!, path[1]!] : [path.at(-1)!, path.at(-2)!];
  return {
    at: meet.at,
    detour: around.cost - open.cost,
    round: compassWord(bearingOf(end[0] - inner[0], end[1] - inner[1])),
  };
}

/**
 * The least-cost way between two spots. Most are short and the map is large, so it is sought near at hand: a way found
 * there is the least of all once no way leads out of the window at less cost.
 */
function leastWay(
  from: Point,
  to: Point,
  barriers: readonly Barrier[],
  ground: Walked,
): { cost: number; path: Point[] } {
  const { frame } = ground.resistance;
  let limit = Number.POSITIVE_INFINITY;
  for (let reach = NEAR * frame.cellSize; ; reach *= 2) {
    const window = windowAt(frame, from, reach);
    const near = cropped(ground, window);
    const crossings = moveCosts(window, barriers, near);
    const labels = new Int32Array(near.resistance.cells.length);
    labels[cellAt(window, ...from)] = 1;
    const surface = accumulateCost(near.resistance, labels, { crossings, limit });
    const goal = cellAt(window, ...to);
    const cost = goal < 0 ? Number.POSITIVE_INFINITY : surface.cost[goal]!;
    if (cost > wayOut(surface, window, frame)) {
      limit = cost;
      continue;
    }
    const cells = goal < 0 ? [] : traceCells(surface, window.width, goal);
    return { cost, path: cells.map((cell) => cellCentre(window, cell)) };
  }
}

/** Least cost at the cells from which one move of the sixteen leaves a window for the rest of the frame. */
function wayOut(
  { cost }: CostSurface,
  { width, height, west, north, cellSize }: Frame,
  frame: Frame,
): number {
  const left = Math.round((west - frame.west) / cellSize);
  const top = Math.round((frame.north - north) / cellSize);
  let least = Number.POSITIVE_INFINITY;
  for (let row = 0, i = 0; row < height; row++)
    for (let column = 0; column < width; column++, i++) {
      const leaves =
        (column < 2 && left > 0) ||
        (row < 2 && top > 0) ||
        (column >= width - 2 && left + width < frame.width) ||
        (row >= height - 2 && top + height < frame.height);
      if (leaves && cost[i]! < least) least = cost[i]!;
    }
  return least;
}

/** The ground under a window. */
function cropped({ resistance, underfoot }: Walked, window: Frame): Walked {
  const { relief } = underfoot;
  const of = (cells: Float32Array) => cropTo({ frame: resistance.frame, cells }, window).cells;
  return {
    resistance: cropTo(resistance, window) as Walked['resistance'],
    underfoot: {
      ...underfoot,
      relief: relief && {
        ...relief,
        ground: {
          frame: window,
          heights: of(relief.ground.heights),
          east: of(relief.ground.east),
          south: of(relief.ground.south),
        },
      },
    },
  };
}
