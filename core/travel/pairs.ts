import type { Weights } from './assumptions.ts';
import type { TravelPair } from './flow.ts';
import type { TravelArea } from './types.ts';

/** Two areas whose reaches meet, and the least cost between them, m of easy ground. */
interface Neighbours {
  from: number;
  to: number;
  cost: number;
}

/**
 * Neighbouring areas: those whose reaches meet when every area spreads at once over the resistance (the cost
 * Voronoi diagram). In the order of their numbers, each with what the two reaches have cost where they meet
 * cheapest: with the step from one to the other, the least way costs no more.
 *
 * @param source area every cell is reached from first, 0 none
 * @param cost of reaching it
 */
export function neighbouringAreas(source: Int32Array, cost: Float64Array, width: number): Neighbours[] {
  const found = new Map<string, Neighbours>();
  const meet = (i: number, j: number): void => {
    const [a, b] = [source[i]!, source[j]!];
    if (a === b || a === 0 || b === 0) return;
    const [from, to] = a < b ? [a, b] : [b, a];
    const known = found.get(`${from} ${to}`);
    const met = cost[i]! + cost[j]!;
    if (!known) found.set(`${from} ${to}`, { from, to, cost: met });
    else if (met < known.cost) known.cost = met;
  };
  for (let i = 0; i < source.length; i++) {
    if ((i + 1) % width !== 0 && i + 1 < source.length) meet(i, i + 1);
    if (i + width < source.length) meet(i, i + width);
  }
  return [...found.values()].sort((a, b) => a.from - b.from || a.to - b.to);
}

type Kinds = readonly (TravelArea['kind'] | undefined)[];

export const isFeeding = (kinds: Kinds): boolean =>
  kinds.includes('food') && kinds.some((kind) => kind === 'bedding' || kind === 'block');

/** How much travel runs between two kinds of areas against the cheapest pair, `dearer` m of easy ground below it. */
export const pairWeight = (kinds: Kinds, dearer: number, weights: Weights): number =>
  Math.exp(-dearer / weights.reach) * (isFeeding(kinds) ? weights.feeding : 1);

/**
 * The pairs travel is computed for and how much of all travel each carries: it falls off with cost, and travel
 * between bedding and food counts more. Weights are ours; no deer were counted. From one food area to another only
 * when nothing else is there, and between edges of the map only when one area is not an edge or all are.
 */
export function choosePairs(
  neighbours: readonly Neighbours[],
  areas: readonly TravelArea[],
  weights: Weights,
  most: number,
): (TravelPair & { cost: number })[] {
  const kind = new Map(areas.map((area) => [area.id, area.kind]));
  const onlyEdges = areas.every((area) => area.kind === 'edge');
  const onlyFood = areas.every((area) => area.kind === 'food');
  const wanted = neighbours.filter(({ from, to }) => {
    const kinds = [kind.get(from), kind.get(to)];
    if (kinds.every((k) => k === 'edge')) return onlyEdges;
    if (kinds.every((k) => k === 'food')) return onlyFood;
    return true;
  });
  // Measured from the cheapest, so that weights on a map of many miles do not all vanish.
  const cheapest = Math.min(...wanted.map(({ cost }) => cost));
  const pairs = wanted.map((touch) => {
    const kinds = [kind.get(touch.from), kind.get(touch.to)];
    const weight = pairWeight(kinds, touch.cost - cheapest, weights);
    return { ...touch, feeding: isFeeding(kinds), weight };
  });
  pairs.sort((a, b) => b.weight - a.weight || a.from - b.from || a.to - b.to);
  // Short hops to food must not crowd out travel from block to block: each side has a quarter of the places first.
  const own = Math.ceil(most / 4);
  const sides = [pairs.filter(({ feeding }) => feeding), pairs.filter(({ feeding }) => !feeding)];
  const first = sides.flatMap((side) => side.slice(0, own));
  const rest = sides.flatMap((side) => side.slice(own)).sort((a, b) => b.weight - a.weight);
  const kept = [...first, ...rest].slice(0, most).sort((a, b) => b.weight - a.weight);
  const total = kept.reduce((sum, { weight }) => sum + weight, 0);
  return kept.map(({ from, to, cost, weight }) => ({ from, to, cost, share: weight / total }));
}
