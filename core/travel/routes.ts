import { cellCentre, type Point } from '../grid/frame.ts';
import { seededRandom } from '../grid/random.ts';
import { pathLength, simplifyPath } from '../grid/simplify.ts';
import type { Flow, PairFlow } from './flow.ts';
import type { Route, TravelArea } from './types.ts';

/** A deer that is not pushed walks about this fast, m/s: our assumption. */
export const PACE = 0.7;
/** Routes drawn each way for every pair of areas: few enough to be looked at on a map. */
const EACH_WAY = 4;
/** Steps over which the stair-steps of the net are evened out, each way. */
const EVEN = 3;

/**
 * Routes drawn from the flow, some for every pair and direction: at each cell the next is chosen by the net flow
 * out of it, so that many routes together pass every line as the flow does. Net flow runs in no circles, so each
 * route ends. The same for the same seed.
 *
 * @param eachWay routes for every pair and direction
 * @param apart draws every route from a seed of its own, so that where the flow changes in one place, routes that do
 *   not come there stay as they were; for comparing
 */
export function sampleRoutes(
  flow: Flow,
  areas: readonly TravelArea[],
  seed: number,
  eachWay = EACH_WAY,
  apart = false,
): Route[] {
  const byId = new Map(areas.map((area) => [area.id, area]));
  return flow.pairs.flatMap((pairFlow, p) => {
    const { from, to, share } = pairFlow.pair;
    const [a, b] = [byId.get(from)!, byId.get(to)!];
    const random = seededRandom(seed + 7919 * p);
    const starts = startsOf(pairFlow);
    return [false, true].flatMap((back) => {
      const [start, end] = back ? [b, a] : [a, b];
      return Array.from({ length: eachWay }, (_, k): Route => {
        const own = apart ? seededRandom(seedOfRoute(seed, from, to, 2 * k + Number(back))) : random;
        const cells = walk(pairFlow, starts, flow.frame.width, own);
        const stairs = cells.map((cell) => cellCentre(flow.frame, cell));
        const path = simplifyPath(evened(back ? stairs.reverse() : stairs), flow.frame.cellSize / 3);
        const length = pathLength(path);
        return {
          id: `route-${start.id}-${end.id}-${k + 1}`,
          from: start.name,
          to: end.name,
          when: end.kind === 'food' ? 'dusk' : start.kind === 'food' ? 'dawn' : 'any',
          path,
          length,
          minutes: length / PACE / 60,
          share: share / (2 * eachWay),
        };
      });
    });
  });
}

/** One seed a route; the factors are primes, so that no two of a map share theirs in practice. */
const seedOfRoute = (seed: number, from: number, to: number, route: number): number =>
  seed + 7919 * from + 104_729 * to + 1_299_709 * route;

/** What leaves each cell of a window over what comes in. */
const surplusIn =
  ({ window: { width }, east, south }: PairFlow) =>
  (k: number): number =>
    east[k]! + south[k]! - (k % width > 0 ? east[k - 1]! : 0) - (k >= width ? south[k - width]! : 0);

/** Cells of a window that travel sets out from, and how much from each. */
interface Starts {
  cells: number[];
  weights: number[];
  total: number;
}

function startsOf(flow: PairFlow): Starts {
  const surplus = surplusIn(flow);
  const starts: Starts = { cells: [], weights: [], total: 0 };
  for (let k = 0; k < flow.window.width * flow.window.height; k++) {
    const weight = surplus(k);
    if (!(weight > 0)) continue;
    starts.cells.push(k);
    starts.weights.push(weight);
    starts.total += weight;
  }
  return starts;
}

/** Cells of the frame of one walk from the first area of a pair to the second. */
function walk(flow: PairFlow, starts: Starts, frameWidth: number, random: () => number): number[] {
  const { window, east, south } = flow;
  const { width, height, column, row } = window;
  const out = new Float64Array(4);
  const steps = [1, width, -1, -width] as const;
  const fill = (k: number): number => {
    out[0] = Math.max(0, east[k]!);
    out[1] = Math.max(0, south[k]!);
    out[2] = k % width > 0 ? Math.max(0, -east[k - 1]!) : 0;
    out[3] = k >= width ? Math.max(0, -south[k - width]!) : 0;
    return out[0] + out[1] + out[2] + out[3];
  };
  const surplus = surplusIn(flow);

  let at = pick(starts, random());
  const cells: number[] = [];
  for (let step = 0; step < 40 * (width + height); step++) {
    cells.push((row + Math.floor(at / width)) * frameWidth + column + (at % width));
    const leaving = fill(at);
    const ending = Math.max(0, -surplus(at));
    let draw = random() * (leaving + ending);
    if (draw < ending || leaving === 0) break;
    draw -= ending;
    let move = 0;
    while (move < 3 && draw >= out[move]!) draw -= out[move++]!;
    at += steps[move]!;
  }
  return cells;
}

/** A cell drawn by its weight. */
function pick({ cells, weights, total }: Starts, draw: number): number {
  let left = draw * total;
  for (let k = 0; k < cells.length; k++) {
    left -= weights[k]!;
    if (left < 0) return cells[k]!;
  }
  return cells.at(-1) ?? 0;
}

/** Stair-steps of the net evened out. */
export function evened(path: readonly Point[]): Point[] {
  return path.map((point, k) => {
    const reach = Math.min(EVEN, k, path.length - 1 - k);
    let [x, y] = [0, 0];
    for (let j = k - reach; j <= k + reach; j++) {
      x += path[j]![0];
      y += path[j]![1];
    }
    return reach === 0 ? point : [x / (2 * reach + 1), y / (2 * reach + 1)];
  });
}
