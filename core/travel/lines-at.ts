import type { Point } from '../grid/frame.ts';
import { type Barrier, type BarrierKind, costAlong, footOn, type OpeningType } from './barriers.ts';

/** A line that has to be crossed near a spot. */
export interface LineAt {
  feature: string;
  name: string | null;
  kind: BarrierKind;
  /** What crossing it costs here, metres of easy ground; null where nothing passes. */
  cost: number | null;
  /** What makes it easy here. */
  opening: OpeningType | null;
}

/** The lines within reach of a spot, the dearest to cross first, each at the cheapest opening within reach. */
export function linesAt(barriers: readonly Barrier[], at: Point, reach: number): LineAt[] {
  const found = barriers.flatMap((barrier) => {
    const { feature, name, kind, path, openings } = barrier;
    const foot = footOn(path, at);
    if (!foot || foot.distance > reach) return [];
    const cost = costAlong(barrier, foot.along);
    const [easiest] = openings
      .filter((opening) => {
        const away = Math.hypot(opening.at[0] - at[0], opening.at[1] - at[1]);
        return away <= reach + opening.halfWidth && opening.cost < cost;
      })
      .sort((a, b) => a.cost - b.cost);
    return [{ feature, name, kind, cost: easiest?.cost ?? cost, opening: easiest?.type ?? null }];
  });
  return found
    .sort((a, b) => b.cost - a.cost)
    .map((line) => ({ ...line, cost: Number.isFinite(line.cost) ? line.cost : null }));
}
