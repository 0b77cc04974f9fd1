import type { Grid } from '../grid/frame.ts';
import type { Weights } from './assumptions.ts';
import { type CostSurface, sourcesOf } from './cost.ts';
import type { MoveCosts } from './edges.ts';
import type { TravelPair } from './flow.ts';
import type { TravelArea } from './types.ts';

interface Touch {
  from: number;
  to: number;
  /** Least cost between the two over the line where their reaches meet, m of easy ground. */
  cost: number;
}

/**
 * Neighbouring areas: those whose reaches meet when every area spreads at once over the resistance (the cost
 * Voronoi diagram), with the least cost over the meeting line, cheapest first.
 */
export function neighbouringAreas(
  resistance: Grid,
  surface: CostSurface,
  areas: Int32Array,
  crossings: MoveCosts | null = null,
): Touch[] {
  const { width, height, cellSize } = resistance.frame;
  const { cost } = surface;
  const source = sourcesOf(surface, areas, width);
  const least = new Map<string, Touch>();
  const meet = (i: number, j: number, move: number): void => {
    const [a, b] = [source[i]!, source[j]!];
    if (a === b || a === 0 || b === 0) return;
    const line = crossings ? crossings.extra[crossings.slot[i]! * 16 + move]! : 0;
    const step = (cellSize * (resistance.cells[i]! + resistance.cells[j]!)) / 2 + line;
    const total = cost[i]! + cost[j]! + step;
    if (total === Number.POSITIVE_INFINITY) return;
    const [from, to] = a < b ? [a, b] : [b, a];
    const key = `${from} ${to}`;
    const known = least.get(key);
    if (!known || total < known.cost) least.set(key, { from, to, cost: total });
  };
  for (let row = 0, i = 0; row < height; row++) {
    for (let column = 0; column < width; column++, i++) {
      if (column + 1 < width) meet(i, i + 1, 0);
      if (row + 1 < height) meet(i, i + width, 2);
    }
  }
  return [...least.values()].sort((a, b) => a.cost - b.cost || a.from - b.from || a.to - b.to);
}

/**
 * The pairs travel is computed for and how much of all travel each carries: it falls off with cost, and travel
 * between bedding and food counts more. Weights are ours; no deer were counted. From one food area to another only
 * when nothing else is there, and between edges of the map only when one area is not an edge or all are.
 */
export function choosePairs(
  touches: readonly Touch[],
  areas: readonly TravelArea[],
  weights: Weights,
  most: number,
): (TravelPair & { cost: number })[] {
  const kind = new Map(areas.map((area) => [area.id, area.kind]));
  const onlyEdges = areas.every((area) => area.kind === 'edge');
  const onlyFood = areas.every((area) => area.kind === 'food');
  const wanted = touches.filter(({ from, to }) => {
    const kinds = [kind.get(from), kind.get(to)];
    if (kinds.every((k) => k === 'edge')) return onlyEdges;
    if (kinds.every((k) => k === 'food')) return onlyFood;
    return true;
  });
  // Measured from the cheapest, so that weights on a map of many miles do not all vanish.
  const cheapest = wanted[0]?.cost ?? 0;
  const pairs = wanted.map((touch) => {
    const kinds = [kind.get(touch.from), kind.get(touch.to)];
    const feeding = kinds.includes('food') && kinds.some((k) => k === 'bedding' || k === 'block');
    const weight = Math.exp((cheapest - touch.cost) / weights.reach) * (feeding ? weights.feeding : 1);
    return { ...touch, feeding, weight };
  });
  pairs.sort((a, b) => b.weight - a.weight || a.from - b.from || a.to - b.to);
  // Short hops to food must not crowd out travel from block to block: each side has half the places first.
  const half = Math.ceil(most / 2);
  const sides = [pairs.filter(({ feeding }) => feeding), pairs.filter(({ feeding }) => !feeding)];
  const first = sides.flatMap((side) => side.slice(0, half));
  const rest = sides.flatMap((side) => side.slice(half)).sort((a, b) => b.weight - a.weight);
  const kept = [...first, ...rest].slice(0, most).sort((a, b) => b.weight - a.weight);
  const total = kept.reduce((sum, { weight }) => sum + weight, 0);
  return kept.map(({ from, to, cost, weight }) => ({ from, to, cost, share: weight / total }));
}
