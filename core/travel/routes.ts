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
 */
export function sampleRoutes(
  flow: Flow,
  areas: readonly TravelArea[],
  seed: number,
  eachWay = EACH_WAY,
): Route[] {
  const byId = new Map(areas.map((area) => [area.id, area]));
  return flow.pairs.flatMap((pairFlow, p) => {
    const { from, to, share } = pairFlow.pair;
    const [a, b] = [byId.get(from)!, byId.get(to)!];
    const random = seededRandom(seed + 7919 * p);
    return [false, true].flatMap((back) => {
      const [start, end] = back ? [b, a] : [a, b];
      return Array.from({ length: eachWay }, (_, k): Route => {
        const cells = walk(pairFlow, flow.frame.width, random);
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

/** Cells of the frame of one walk from the first area of a pair to the second. */
function walk({ window, east, south }: PairFlow, frameWidth: number, random: () => number): number[] {
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
  const surplus = (k: number): number =>
    east[k]! + south[k]! - (k % width > 0 ? east[k - 1]! : 0) - (k >= width ? south[k - width]! : 0);

  let at = pick(width * height, surplus, random());
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

/** An index drawn by its weight (weights below zero count as none). */
function pick(count: number, weight: (k: number) => number, draw: number): number {
  let total = 0;
  for (let k = 0; k < count; k++) total += Math.max(0, weight(k));
  let left = draw * total;
  let last = 0;
  for (let k = 0; k < count; k++) {
    const w = weight(k);
    if (w <= 0) continue;
    last = k;
    left -= w;
    if (left < 0) return k;
  }
  return last;
}

function evened(path: readonly Point[]): Point[] {
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
