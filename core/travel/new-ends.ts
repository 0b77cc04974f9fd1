import { type Feature, ofKind } from '../features/feature.ts';
import type { Grid } from '../grid/frame.ts';
import { cellsOf, middleCell } from './areas.ts';
import type { Weights } from './assumptions.ts';
import { coarseLabels } from './coarsen.ts';
import { accumulateCost, sourcesOf } from './cost.ts';
import type { MoveCosts } from './edges.ts';
import type { TravelPair } from './flow.ts';
import { neighbouringAreas, pairWeight } from './pairs.ts';
import type { Corridor, TravelArea } from './types.ts';

/** Ends of travel, and how all travel is shared out between them. */
export interface Ending {
  /** Area numbers on the flow's frame. */
  areas: Int32Array;
  pairs: TravelPair[];
  /** Areas that were not there before. */
  added: TravelArea[];
}

/** From and to one new area at most this many pairs are reckoned: our choice. */
const MOST_PAIRS = 4;

/**
 * Ends of travel with bedding and food that were not there before. New ones take their ground from the areas they lie
 * on, which keep the rest; pairs that were reckoned stay, pairs with new ends join them, and all travel is shared out
 * anew by the same weighing of cost and feeding. An area that loses all its ground is an end no more.
 *
 * @param ground and `crossings` on the flow's frame, as they are with everything built; the latter asked for only when
 *   there are new ends
 */
export function withNewEnds(
  given: { areas: Grid<Int32Array>; travelAreas: readonly TravelArea[]; corridors: readonly Corridor[] },
  former: Omit<Ending, 'added'>,
  added: readonly Feature[],
  fine: Grid,
  factor: number,
  ground: Grid,
  crossings: () => MoveCosts,
  weights: Weights,
): Ending {
  const { frame } = given.areas;
  const cells = given.areas.cells.slice();
  const table: TravelArea[] = [];
  let next = Math.max(0, ...given.travelAreas.map(({ id }) => id));
  for (const feature of ofKind(added, 'bedding', 'food')) {
    const own = cellsOf(frame, feature).filter((cell) => !Number.isNaN(fine.cells[cell]!));
    if (own.length === 0) continue;
    const id = ++next;
    for (const cell of own) cells[cell] = id;
    const kind = feature.kind as 'bedding' | 'food';
    table.push({
      id,
      kind,
      name: feature.name ?? (kind === 'bedding' ? 'New bedding' : 'New food'),
      source: 'drawn',
      feature: feature.id,
      centre: middleCell(frame, own),
      area: own.length * frame.cellSize ** 2,
    });
  }
  if (table.length === 0) return { ...former, added: [] };

  const areas = coarseLabels({ frame, cells }, factor).cells;
  const left = new Set(areas);
  const kinds = new Map([...given.travelAreas, ...table].map((area) => [area.id, area.kind]));
  const fresh = new Set(table.map(({ id }) => id));
  const together = accumulateCost(ground, areas, { crossings: crossings() });
  const { width } = ground.frame;
  const meeting = neighbouringAreas(sourcesOf(together, areas, width), together.cost, width).filter(
    ({ from, to }) => fresh.has(from) || fresh.has(to),
  );
  const surfaces = new Map(
    [...fresh].map((id) => [
      id,
      accumulateCost(
        ground,
        areas.map((area) => (area === id ? 1 : 0)),
        { crossings: crossings() },
      ).cost,
    ]),
  );
  const costed = meeting.flatMap(({ from, to }) => {
    const [start, end] = fresh.has(from) ? [from, to] : [to, from];
    const surface = surfaces.get(start)!;
    let cost = Number.POSITIVE_INFINITY;
    for (let i = 0; i < areas.length; i++) if (areas[i] === end && surface[i]! < cost) cost = surface[i]!;
    // Nothing drives deer from one field to another.
    const food = kinds.get(from) === 'food' && kinds.get(to) === 'food';
    return cost < Number.POSITIVE_INFINITY && !food ? [{ from, to, cost }] : [];
  });
  const old = given.corridors.filter(({ from, to }) => left.has(from) && left.has(to));
  const cheapest = Math.min(...[...old, ...costed].map(({ cost }) => cost));
  const weigh = ({ from, to, cost }: { from: number; to: number; cost: number }) => ({
    from,
    to,
    weight: pairWeight([kinds.get(from), kinds.get(to)], cost - cheapest, weights),
  });
  const joined = costed.map(weigh).sort((a, b) => b.weight - a.weight || a.from - b.from || a.to - b.to);
  const kept = joined.filter((pair, k) =>
    [pair.from, pair.to].some(
      (end) =>
        fresh.has(end) &&
        joined.slice(0, k).filter(({ from, to }) => from === end || to === end).length < MOST_PAIRS,
    ),
  );
  const all = [...old.map(weigh), ...kept];
  const total = all.reduce((sum, { weight }) => sum + weight, 0);
  return {
    areas,
    pairs: all.map(({ from, to, weight }) => ({ from, to, share: weight / total })),
    added: table,
  };
}
