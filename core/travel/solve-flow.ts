import { cellCount } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { accumulateCost } from './cost.ts';
import type { EdgeCosts, MoveCosts } from './edges.ts';
import type { Flow, PairFlow, TravelPair, Window } from './flow.ts';
import { holds, sameWindow, windowOf } from './flow-windows.ts';
import { pairFlow } from './pair-flow.ts';

/** Ways beyond this many times the slack carry a trace (e^-5) and are left out of the window. */
const TRACE = 5;
/** With at least this part of the usual walkers still meeting, what a window leaves out is still a trace. */
const STILL_MEET = 2 / 3;

/**
 * Flow between pairs of areas, between random walk and least-cost path. Walkers spread from one area at random over
 * the net (conductance a cell's width over the edge's cost), pay for what they cross, and of those only the ones
 * that reach the other area are counted: randomised shortest paths (Saerens et al. 2009; Kivimäki et al. 2014) in
 * the form that does not depend on the size of the cells, -div(grad z / r) + theta² r z = source, whose answer
 * falls off as e^(-theta cost). The net flow is z_a grad z_b - z_b grad z_a, conserved everywhere between.
 *
 * @param focus theta times the pair's least cost: a way dearer by the share 1/focus is taken a third (1/e) as
 *   often. 0 is the electrical flow (Doyle & Snell 1984; McRae et al. 2008); large ones near the least-cost path.
 * @param accuracy of the shares; the solver's own tolerance follows from it, since only e^-focus of what starts
 *   arrives
 * @param crossings of the same lines as the edges pay for, to find each pair's least cost and window
 */
export function solveFlow(
  costs: EdgeCosts,
  areas: Int32Array,
  pairs: readonly TravelPair[],
  focus: number,
  crossings: MoveCosts,
  { accuracy = 1e-5, progress = silent }: { accuracy?: number; progress?: Progress } = {},
): Flow {
  const { resistance } = costs;
  const { frame } = resistance;
  const count = cellCount(frame);
  const reaches = new Map<number, Float64Array>();
  const labels = new Int32Array(count);
  const reachOf = (number: number): Float64Array => {
    let reach = reaches.get(number);
    if (!reach) {
      for (let i = 0; i < count; i++) labels[i] = areas[i] === number ? 1 : 0;
      reach = accumulateCost(resistance, labels, { neighbours: 8, crossings }).cost;
      reaches.set(number, reach);
    }
    return reach;
  };
  const flow: Flow = { frame, pairs: [], cutOff: [] };
  pairs.forEach((pair, k) => {
    const a = reachOf(pair.from);
    const b = reachOf(pair.to);
    const cost = leastIn(areas, pair.to, a);
    const within = focus > 0 ? cost * (1 + TRACE / focus) : Number.MAX_VALUE;
    const found =
      cost < Number.POSITIVE_INFINITY
        ? pairFlow(costs, areas, pair, cost, focus, windowOf(frame, a, b, within), accuracy)
        : null;
    if (found) flow.pairs.push(found);
    else flow.cutOff.push(pair);
    progress((k + 1) / pairs.length);
  });
  return flow;
}

/** Least cost between the areas of every pair, by their numbers as `from to`, m of easy ground; none is solved. */
export function leastCosts(
  { resistance }: EdgeCosts,
  areas: Int32Array,
  pairs: readonly TravelPair[],
  crossings: MoveCosts,
): Map<string, number> {
  const reaches = new Map<number, Float64Array>();
  const reachOf = (number: number): Float64Array => {
    const labels = areas.map((area) => (area === number ? 1 : 0));
    const reach =
      reaches.get(number) ?? accumulateCost(resistance, labels, { neighbours: 8, crossings }).cost;
    reaches.set(number, reach);
    return reach;
  };
  return new Map(pairs.map(({ from, to }) => [`${from} ${to}`, leastIn(areas, to, reachOf(from))]));
}

/** Least cost at the cells of an area. */
function leastIn(areas: Int32Array, number: number, cost: Float64Array): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < areas.length; i++) if (areas[i] === number && cost[i]! < least) least = cost[i]!;
  return least;
}

/**
 * The same flow after some edges changed: only pairs whose walkers visit them are solved again, from where they
 * were. Theta stays what it was, so that before and after weigh a detour alike; a warm start ends at the answer of a
 * cold one, whatever it set out from: the tolerance is tight, and windows follow from `windows` alone.
 *
 * @param before solved on `old` with the same areas and focus (above 0)
 * @param crossings of the lines as they are now; asked for only where a window has to be found anew
 * @param windows the flow whose windows are kept where they are large enough; `before` itself, or what it came from
 */
export function updateFlow(
  before: Flow,
  old: EdgeCosts,
  costs: EdgeCosts,
  areas: Int32Array,
  focus: number,
  crossings: () => MoveCosts,
  accuracy = 1e-5,
  windows: Flow = before,
): { flow: Flow; solved: TravelPair[] } {
  const { frame } = before;
  const touched = changedCells(old, costs);
  const affected = before.pairs.filter((was) => was.spread && visits(was, touched, frame.width, accuracy));
  const usual = new Map(windows.pairs.map((was) => [`${was.pair.from} ${was.pair.to}`, was]));
  // A closed way may send travel beyond the old window, so its reach is measured again: near at hand first, a little
  // farther than would do if nothing had changed.
  const near = new Map<number, number>();
  for (const { pair, cost } of affected)
    for (const area of [pair.from, pair.to])
      near.set(area, Math.max(near.get(area) ?? 0, cost * (1 + (1.2 * TRACE) / focus)));
  const reaches = new Map<number, { cost: Float64Array; limit: number }>();
  const reachOf = (number: number, within: number): Float64Array => {
    const former = reaches.get(number);
    if (former && former.limit >= within) return former.cost;
    const labels = areas.map((area) => (area === number ? 1 : 0));
    const limit = Math.max(within, near.get(number)!);
    const { cost } = accumulateCost(costs.resistance, labels, {
      neighbours: 8,
      crossings: crossings(),
      limit,
    });
    reaches.set(number, { cost, limit });
    return cost;
  };
  const leastOf = ({ from, to }: TravelPair): number => {
    const least = leastIn(areas, to, reachOf(from, 0));
    return least < Number.POSITIVE_INFINITY
      ? least
      : leastIn(areas, to, reachOf(from, Number.POSITIVE_INFINITY));
  };
  const solveAgain = (was: PairFlow): PairFlow | null => {
    const { pair, cost } = was;
    const kept = usual.get(`${pair.from} ${pair.to}`);
    const on = (window: Window): PairFlow | null => {
      const start = [was, kept].find((former) => former && sameWindow(window, former.window));
      return pairFlow(costs, areas, pair, cost, focus, window, accuracy, start?.spread);
    };
    // Ways outside the usual window weigh what they did, and against fewer who meet they weigh more.
    const still = kept ? on(kept.window) : null;
    if (still && still.spread!.met >= STILL_MEET * kept!.spread!.met) return still;
    const least = leastOf(pair);
    if (least === Number.POSITIVE_INFINITY) return null;
    const within = least + (TRACE * cost) / focus;
    const wanted = windowOf(frame, reachOf(pair.from, within), reachOf(pair.to, within), within);
    return kept && holds(kept.window, wanted) ? (still ?? on(kept.window)) : on(wanted);
  };
  const flow: Flow = { frame, pairs: [], cutOff: [...before.cutOff] };
  const solved: TravelPair[] = [];
  for (const was of before.pairs) {
    if (!affected.includes(was)) {
      flow.pairs.push(was);
      continue;
    }
    solved.push(was.pair);
    const now = solveAgain(was);
    if (now) flow.pairs.push(now);
    else flow.cutOff.push(was.pair);
  }
  return { flow, solved };
}

/** Pairs of a flow whose walkers visit none of the edges that changed since: they stand as they are. */
export function pairsStanding(before: Flow, old: EdgeCosts, costs: EdgeCosts, accuracy: number): PairFlow[] {
  const touched = changedCells(old, costs);
  return before.pairs.filter((was) => was.spread && !visits(was, touched, before.frame.width, accuracy));
}

/** Cells at either end of an edge whose cost changed. */
function changedCells(old: EdgeCosts, now: EdgeCosts): Int32Array {
  const { width } = now.resistance.frame;
  const cells: number[] = [];
  for (let i = 0; i < now.east.length; i++) {
    if (old.east[i] !== now.east[i]) cells.push(i, i + 1);
    if (old.south[i] !== now.south[i]) cells.push(i, i + width);
  }
  return Int32Array.from(cells);
}

/** Whether a pair's walkers visit any of the cells more often than `least`. */
function visits({ window, spread }: PairFlow, cells: Int32Array, frameWidth: number, least: number): boolean {
  const { a, b, met } = spread!;
  for (const cell of cells) {
    const x = (cell % frameWidth) - window.column;
    const y = Math.floor(cell / frameWidth) - window.row;
    if (x < 0 || y < 0 || x >= window.width || y >= window.height) continue;
    const k = y * window.width + x;
    if (a[k]! * b[k]! > least * met) return true;
  }
  return false;
}
