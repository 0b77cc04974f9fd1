import { type Feature, numberOr, ofKind } from '../features/feature.ts';
import { pathsOf } from '../features/shapes.ts';
import type { Point } from '../grid/frame.ts';
import { travelAssumptions, type Weights, weightsOf } from '../travel/assumptions.ts';
import { type Barrier, barriersOf, type OpeningType } from '../travel/barriers.ts';

/** Seconds a person takes over a line beyond the walk itself: our assumption throughout. */
const RAILROAD = 20;
const HIGHWAY = 30;
const BARRICADE = 60;
/** Fences: stepped over, climbed, or more than anyone climbs. */
const FENCE = { low: 15, climbed: 40, lowTo: 1, climbedTo: 1.6 };
const CREEK = { banks: 10, perWidth: 4, perDepth: 40 };
const OPENING: Record<OpeningType, number> = {
  gate: 10,
  lowered: 8,
  culvert: Number.POSITIVE_INFINITY,
  underpass: 0,
  ford: 20,
};
/** A road or track carries a person over a creek on this much to both sides of its middle, m. */
const BRIDGE = 4;

/**
 * The lines a person on foot must cross, each with the seconds that takes (Infinity where nobody gets over) and its
 * openings. Roads and tracks pass over creeks; lanes, tracks and county roads themselves take no time to cross.
 */
export function walkLines(features: readonly Feature[]): Barrier[] {
  const byId = new Map(features.map((feature) => [feature.id, feature]));
  const roads = ofKind(features, 'road').flatMap((road) =>
    pathsOf(road.geometry).map((path) => ({ road, path })),
  );
  return barriersOf(features, deerWeights())
    .map((barrier) => ({
      ...barrier,
      cost: secondsOver(byId.get(barrier.feature)!),
      profile: null,
      openings: barrier.openings.map((opening) => ({ ...opening, cost: OPENING[opening.type] })),
    }))
    .filter(({ cost }) => cost > 0)
    .map((barrier) =>
      barrier.kind === 'creek'
        ? {
            ...barrier,
            openings: [
              ...barrier.openings,
              ...roads.flatMap(({ road, path }) =>
                meetingsOf(path, barrier.path)
                  .filter(
                    (at) => !barrier.openings.some((known) => near(known.at, at, known.halfWidth + BRIDGE)),
                  )
                  .map((at) => ({
                    feature: road.id,
                    type: 'ford' as const,
                    at,
                    halfWidth: BRIDGE,
                    cost: 0,
                    heading: [1, 0] as Point,
                  })),
              ),
            ],
          }
        : barrier,
    );
}

/** Only the openings of the barriers deer meet are wanted; their costs are replaced. */
const deerWeights = (): Weights => weightsOf(travelAssumptions({}));

function secondsOver({ kind, attributes }: Feature): number {
  switch (kind) {
    case 'railroad':
      return RAILROAD;
    case 'road':
      return attributes.class === 'highway' ? HIGHWAY : 0;
    case 'barricade':
      return BARRICADE;
    case 'creek':
      return (
        CREEK.banks +
        CREEK.perWidth * numberOr(attributes.width, 2) +
        CREEK.perDepth * numberOr(attributes.depth, 0.3)
      );
    case 'fence': {
      const height = numberOr(attributes.height, 1.2);
      if (height <= FENCE.lowTo) return FENCE.low;
      return height <= FENCE.climbedTo ? FENCE.climbed : Number.POSITIVE_INFINITY;
    }
    default:
      return 0;
  }
}

/** Where a way meets a line that takes time to cross, in the order of the way. */
export interface LineCrossed {
  barrier: Barrier;
  /** The opening it goes through, else null. */
  opening: Barrier['openings'][number] | null;
  at: Point;
  seconds: number;
}

export function linesCrossed(path: readonly Point[], lines: readonly Barrier[]): LineCrossed[] {
  const found: (LineCrossed & { along: number })[] = [];
  for (const barrier of lines) {
    for (const { at, along } of crossingsOf(path, barrier.path)) {
      const opening =
        barrier.openings.find((each) => near(each.at, at, Math.max(each.halfWidth, BRIDGE))) ?? null;
      found.push({ barrier, opening, at, seconds: opening?.cost ?? barrier.cost, along });
    }
  }
  return found.sort((a, b) => a.along - b.along).map(({ along: _, ...crossed }) => crossed);
}

const near = (a: Point, b: Point, within: number): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) <= within;

const meetingsOf = (a: readonly Point[], b: readonly Point[]): Point[] =>
  crossingsOf(a, b).map(({ at }) => at);

/** Where two paths cross, with how far along the first that is, m. */
export function crossingsOf(a: readonly Point[], b: readonly Point[]): { at: Point; along: number }[] {
  const found: { at: Point; along: number }[] = [];
  let start = 0;
  for (let i = 1; i < a.length; i++) {
    const [px, py] = a[i - 1]!;
    const [rx, ry] = [a[i]![0] - px, a[i]![1] - py];
    const length = Math.hypot(rx, ry);
    for (let j = 1; j < b.length; j++) {
      const [qx, qy] = b[j - 1]!;
      const [sx, sy] = [b[j]![0] - qx, b[j]![1] - qy];
      const cross = rx * sy - ry * sx;
      if (cross === 0) continue;
      const t = ((qx - px) * sy - (qy - py) * sx) / cross;
      const u = ((qx - px) * ry - (qy - py) * rx) / cross;
      // Half-open, so that a corner on the line counts once.
      if (t >= 0 && t < 1 && u >= 0 && u < 1)
        found.push({ at: [px + t * rx, py + t * ry], along: start + t * length });
    }
    start += length;
  }
  return found;
}
