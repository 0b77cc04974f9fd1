import { cellsAlong } from '../features/cells.ts';
import type { Grid, Point } from '../grid/frame.ts';
import { footOn } from './barriers.ts';
import type { Neck } from './types.ts';

export interface BlindTrial {
  /** For every mark the nearest neck within reach and how far it is, m; null where none is. */
  marks: { at: Point; neck: string | null; distance: number | null }[];
  /** Marks with a neck within reach, and necks with a mark. */
  found: number;
  necksFound: number;
  /** Chance that a spot drawn at random from the passable ground lies as near to a neck. */
  chance: number;
  /** Chance that as many marks drawn at random would do as well or better. */
  byLuck: number;
}

/**
 * How well necks agree with places marked by someone who has not seen them. Luck is a binomial count of independent
 * spots spread evenly over the ground deer can walk; marks that crowd together are less telling than that.
 *
 * @param resistance NaN where no deer can walk
 * @param reach a mark this near to a neck's line finds it, m
 */
export function blindTrial(
  marks: readonly Point[],
  necks: readonly Neck[],
  resistance: Grid,
  reach: number,
): BlindTrial {
  const { frame, cells } = resistance;
  const near = new Uint8Array(cells.length);
  for (const { line } of necks) {
    cellsAlong(frame, { type: 'LineString', coordinates: line }, reach, (cell) => {
      near[cell] = 1;
    });
  }
  let passable = 0;
  let close = 0;
  for (let i = 0; i < cells.length; i++) {
    if (Number.isNaN(cells[i]!)) continue;
    passable++;
    close += near[i]!;
  }
  const chance = passable > 0 ? close / passable : 0;
  const hit = new Set<string>();
  const found = marks.map((at) => {
    let nearest: { neck: string | null; distance: number | null } = { neck: null, distance: null };
    for (const { id, line } of necks) {
      const distance = footOn(line, at)?.distance ?? Number.POSITIVE_INFINITY;
      if (distance <= Math.min(reach, nearest.distance ?? reach)) nearest = { neck: id, distance };
    }
    if (nearest.neck !== null) hit.add(nearest.neck);
    return { at, ...nearest };
  });
  const count = found.filter(({ neck }) => neck !== null).length;
  return {
    marks: found,
    found: count,
    necksFound: hit.size,
    chance,
    byLuck: atLeast(count, marks.length, chance),
  };
}

/** Chance of at least k hits in n independent tries (upper tail of the binomial distribution). */
export function atLeast(k: number, n: number, p: number): number {
  if (k <= 0) return 1;
  if (p <= 0) return 0;
  if (p >= 1) return 1;
  let log = 0;
  let sum = 0;
  for (let i = 0; i <= n; i++) {
    if (i > 0) log += Math.log(n - i + 1) - Math.log(i);
    if (i >= k) sum += Math.exp(log + i * Math.log(p) + (n - i) * Math.log1p(-p));
  }
  return Math.min(1, sum);
}
