import { COVER } from '../cover/types.ts';
import { cellAt, cellCentre, cellCount, type Grid, type Point } from '../grid/frame.ts';
import { pathLength, simplifyPath } from '../grid/simplify.ts';
import type { Barrier } from './barriers.ts';
import { accumulateCost } from './cost.ts';
import { CIRCUIT_MOVES, visitCrossedMoves } from './crossed-moves.ts';
import { type EdgeCosts, type MoveCosts, moveCosts } from './edges.ts';
import { type Flow, type PairFlow, shareAcross, shareOf } from './flow.ts';
import { effectOn, type Goals } from './goals.ts';
import { minCut } from './min-cut.ts';
import { isInside, ownerOf } from './owner.ts';
import { closureOf } from './redundancy.ts';
import { passing, type Region } from './region.ts';
import { updateFlow } from './solve-flow.ts';
import type { Closure, Owner } from './types.ts';

export interface ClosureInputs {
  flow: Flow;
  costs: EdgeCosts;
  /** Area numbers on the flow's frame. */
  areas: Int32Array;
  barriers: readonly Barrier[];
  focus: number;
  cover: Grid<Uint8Array>;
  boundary: readonly Point[][];
  /** What each closure's effect is told on. */
  goals: Goals | null;
}

/** Where travel is to be gathered: a neck's line, or the cells around a spot. */
export type Target = { line: readonly [Point, Point] } | { region: Region };

/** Share of all travel, and of each pair's own, that passes a target. */
function through(flow: Flow, target: Target): { share: number; pairs: Float64Array } {
  if ('line' in target) return shareAcross(flow, target.line);
  const pairs = passing(flow, target.region);
  return { share: shareOf(flow, pairs), pairs };
}

/** Metres of barricade on plain timbered ground that a metre takes as much work as. Our assumption. */
const WORK: Record<number, number> = {
  [COVER.open]: 4,
  [COVER.brush]: 1.5,
  [COVER.deciduous]: 1,
  [COVER.evergreen]: 1,
  [COVER.wet]: 3,
  [COVER.water]: 20,
  [COVER.built]: 50,
};
/** On a neighbour's ground nothing can be built; the cut goes there only when nothing else parts the areas. */
const NEIGHBOUR = 200;
/** A line this many slacks dear is as good as closed. */
const CLOSED = 3;
/** Ways this many slacks dearer than the cheapest are not worth closing. */
const WORTH = 2;
const MOST = 3;
/** Pieces of a cut that catch less than this share of all travel are left out. */
const LEAST_LEAK = 0.005;

/**
 * The next closures that would gather travel at a neck or spot: for the pair that passes it in part, the cheapest set of
 * edges that parts its two areas once the neck itself is taken out (minimum cut; capacities are the work of closing each
 * edge), split into connected pieces, ranked by what slips through each against its work. Each one's gain is then
 * taken from a new solve with that piece alone closed.
 */
export function proposeClosures(target: Target, inputs: ClosureInputs): Closure[] {
  const { flow, costs, boundary, focus, goals } = inputs;
  const now = through(flow, target);
  // The pair with most travel that could still be gathered: it passes the neck in part.
  let pair = -1;
  let most = 0;
  flow.pairs.forEach(({ pair: { share } }, p) => {
    const own = now.pairs[p]!;
    const missing = share * Math.min(own, 1 - own);
    if (own > 0.05 && missing > most) {
      most = missing;
      pair = p;
    }
  });
  if (pair < 0) return [];
  const { cellSize } = flow.frame;
  const crossings = moveCosts(flow.frame, inputs.barriers, costs);
  const pieces = cutPieces(target, flow.pairs[pair]!, inputs, crossings)
    .map((edges) => {
      const path = pathThrough(edges, cellSize);
      const own = shareAcross(flow, path);
      return {
        path,
        work: edges.reduce((sum, { work }) => sum + work, 0),
        owner: ownerOf(boundary, [path[0]!, path[Math.floor(path.length / 2)]!, path.at(-1)!], cellSize / 2),
        leak: own.share,
      };
    })
    .filter(({ leak, owner }) => leak >= LEAST_LEAK && owner !== 'neighbour')
    .sort((a, b) => b.leak / b.work - a.leak / a.work)
    .slice(0, MOST);
  return pieces
    .map(({ path, work, owner, leak }) => {
      const barriers = [...inputs.barriers, asBarrier(path)];
      const closed = closeEdges(costs, path);
      const after = updateFlow(
        flow,
        costs,
        closed,
        inputs.areas,
        focus,
        () => moveCosts(flow.frame, barriers, costs),
        1e-3,
      );
      return {
        path,
        work,
        owner,
        leak,
        neckAfter: through(after.flow, target).share,
        effect: goals && effectOn(goals, flow, after.flow, focus),
      };
    })
    .filter(({ neckAfter }) => neckAfter > now.share + 0.001)
    .map((found) => ({ ...found, worth: (found.neckAfter - now.share - pushedIn(found)) / found.work }))
    .sort((a, b) => b.worth - a.worth)
    .map(({ worth: _, ...found }, k) => ({
      id: `closure-${k + 1}`,
      ...found,
      length: pathLength(found.path),
      neckBefore: now.share,
      reasons: reasonsFor(found, now.share),
    }));
}

/** What a closure sends into the side that is to be left alone. */
const pushedIn = ({ effect }: Pick<Closure, 'effect'>): number =>
  effect?.keepOut ? effect.keepOut.after - effect.keepOut.before : 0;

function reasonsFor(
  { leak, neckAfter, owner }: { leak: number; neckAfter: number; owner: Owner },
  before: number,
): string[] {
  const percent = (share: number): string => `${(share * 100).toFixed(1)}%`;
  const reasons = [
    `${percent(leak)} of all travel slips through here.`,
    `Closed, it brings what passes from ${percent(before)} to ${percent(neckAfter)} of all travel.`,
  ];
  if (owner === 'on the line')
    reasons.push('It meets the ownership line: agree on it with the neighbour first.');
  return reasons;
}

interface CutEdge {
  at: Point;
  work: number;
}

/** The connected pieces of the cheapest cut between a pair's areas with the neck taken out; none when there is none. */
function cutPieces(
  target: Target,
  { pair, cost }: PairFlow,
  { costs, areas, cover, boundary, focus }: ClosureInputs,
  crossings: MoveCosts,
): CutEdge[][] {
  const { resistance } = costs;
  const { frame } = resistance;
  const { width, cellSize } = frame;
  const count = cellCount(frame);
  const slack = cost / focus;
  const [a, b] = [pair.from, pair.to].map(
    (number) =>
      accumulateCost(
        resistance,
        areas.map((area) => (area === number ? 1 : 0)),
        {
          neighbours: 8,
          crossings,
          limit: cost + WORTH * slack,
        },
      ).cost,
  ) as [Float64Array, Float64Array];
  const near = (i: number): boolean => a[i]! + b[i]! <= cost + WORTH * slack;

  // How dear a metre of closure is at a cell.
  const work = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    if (!near(i)) continue;
    const at = cellCentre(frame, i);
    const code = cover.cells[cellAt(cover.frame, ...at)] ?? 0;
    const mine = boundary.length === 0 || isInside(boundary, at);
    work[i] = (WORK[code] ?? 1) * (mine ? 1 : NEIGHBOUR);
  }
  const east = new Float64Array(count);
  const south = new Float64Array(count);
  const capacity = (i: number, j: number, edge: number): number => {
    if (!near(i) || !near(j)) return 0;
    const plain = ((costs.plain[i]! + costs.plain[j]!) * cellSize) / 2;
    if (edge - plain > CLOSED * slack) return 0;
    // Nothing is closed within an area itself.
    if (areas[i] === areas[j] && (areas[i] === pair.from || areas[i] === pair.to)) return Infinity;
    return (cellSize * (work[i]! + work[j]!)) / 2;
  };
  for (let i = 0; i < count; i++) {
    if (costs.east[i]! < Infinity) east[i] = capacity(i, i + 1, costs.east[i]!);
    if (costs.south[i]! < Infinity) south[i] = capacity(i, i + width, costs.south[i]!);
  }
  if ('line' in target)
    visitCrossedMoves(frame, closureOf(target.line, cellSize).path, CIRCUIT_MOVES, ({ cell, move }) => {
      (move === 0 ? east : south)[cell] = 0;
    });
  else
    for (const cell of target.region) {
      east[cell] = 0;
      south[cell] = 0;
      if (cell % width > 0) east[cell - 1] = 0;
      if (cell >= width) south[cell - width] = 0;
    }
  const mask = (number: number): Uint8Array =>
    Uint8Array.from(areas, (area, i) => (area === number && near(i) ? 1 : 0));
  const cut = minCut({ width, height: frame.height, east, south }, mask(pair.from), mask(pair.to));
  if (cut.value === 0 || cut.value === Infinity) return [];

  const edges: CutEdge[] = [];
  for (let i = 0; i < count; i++) {
    const [x, y] = cellCentre(frame, i);
    if (east[i]! > 0 && cut.side[i] !== cut.side[i + 1])
      edges.push({ at: [x + cellSize / 2, y], work: east[i]! });
    if (south[i]! > 0 && cut.side[i] !== cut.side[i + width])
      edges.push({ at: [x, y - cellSize / 2], work: south[i]! });
  }
  return pieces(edges, 1.6 * cellSize);
}

/** Groups edges whose middles lie within reach of one another. */
function pieces(edges: readonly CutEdge[], reach: number): CutEdge[][] {
  const left = new Set(edges);
  const groups: CutEdge[][] = [];
  for (const first of edges) {
    if (!left.delete(first)) continue;
    const group = [first];
    for (let k = 0; k < group.length; k++)
      for (const other of left) {
        const [dx, dy] = [other.at[0] - group[k]!.at[0], other.at[1] - group[k]!.at[1]];
        if (Math.hypot(dx, dy) <= reach) {
          left.delete(other);
          group.push(other);
        }
      }
    groups.push(group);
  }
  return groups;
}

/** A path along a piece of a cut: its edges' middles from one far end to the other, drawn out by half a cell. */
function pathThrough(edges: readonly CutEdge[], cellSize: number): Point[] {
  const points = edges.map(({ at }) => at);
  const farthest = (from: Point): Point =>
    points.reduce((best, p) =>
      Math.hypot(p[0] - from[0], p[1] - from[1]) > Math.hypot(best[0] - from[0], best[1] - from[1])
        ? p
        : best,
    );
  let at = farthest(points[0]!);
  const path: Point[] = [at];
  const left = new Set(points);
  left.delete(at);
  while (left.size > 0) {
    let next: Point | null = null;
    let least = Number.POSITIVE_INFINITY;
    for (const point of left) {
      const distance = Math.hypot(point[0] - at[0], point[1] - at[1]);
      if (distance < least) {
        least = distance;
        next = point;
      }
    }
    path.push(next!);
    left.delete(next!);
    at = next!;
  }
  const straight = simplifyPath(path, cellSize);
  if (straight.length === 1) straight.push([straight[0]![0] + 0.1, straight[0]![1] + 0.1]);
  const drawnOut = (end: Point, inner: Point): Point => {
    const length = Math.hypot(end[0] - inner[0], end[1] - inner[1]);
    return [
      end[0] + ((end[0] - inner[0]) / length) * cellSize,
      end[1] + ((end[1] - inner[1]) / length) * cellSize,
    ];
  };
  return [
    drawnOut(straight[0]!, straight[1]!),
    ...straight.slice(1, -1),
    drawnOut(straight.at(-1)!, straight.at(-2)!),
  ];
}

const asBarrier = (path: Point[]): Barrier => ({
  feature: 'closure',
  name: null,
  kind: 'barricade',
  path,
  cost: Number.POSITIVE_INFINITY,
  openings: [],
});

/** The same costs with every edge that a path crosses shut. */
function closeEdges(costs: EdgeCosts, path: readonly Point[]): EdgeCosts {
  const { resistance, east, south } = costs;
  const closed = { ...costs, east: east.slice(), south: south.slice() };
  visitCrossedMoves(resistance.frame, path, CIRCUIT_MOVES, ({ cell, move }) => {
    (move === 0 ? closed.east : closed.south)[cell] = Number.POSITIVE_INFINITY;
  });
  return closed;
}
