import { type Feature, ofKind } from '../features/feature.ts';
import { middleOf, pathsOf } from '../features/shapes.ts';
import type { Grid, Point } from '../grid/frame.ts';
import type { Weights } from './assumptions.ts';
import { bankSlopes } from './banks.ts';
import { barricadeWays } from './barricade-ways.ts';

export type BarrierKind = 'road' | 'railroad' | 'creek' | 'fence' | 'barricade';
export type OpeningType = 'gate' | 'lowered' | 'culvert' | 'underpass' | 'ford';

/** A span of a barrier that is easy to pass. */
export interface Opening {
  feature: string;
  type: OpeningType;
  at: Point;
  halfWidth: number;
  /** Metres of easy ground. */
  cost: number;
  /** Unit direction of the barrier there. */
  heading: Point;
}

/** A line that hinders: a cost for every crossing, less at its openings. */
export interface Barrier {
  feature: string;
  name: string | null;
  kind: BarrierKind;
  path: Point[];
  /** Metres of easy ground; Infinity where nothing passes. */
  cost: number;
  /** Where the cost changes along the line: at places `every` m from its head on; none where it is the same all along. */
  profile?: { every: number; costs: Float64Array } | null;
  openings: Opening[];
}

const KINDS: readonly BarrierKind[] = ['road', 'railroad', 'creek', 'fence', 'barricade'];

/** Which barriers an opening opens, and its width where none is stated, m. */
const OPENINGS: Record<OpeningType, { opens: readonly BarrierKind[]; width: number }> = {
  gate: { opens: ['fence', 'barricade'], width: 4 },
  lowered: { opens: ['fence', 'barricade'], width: 6 },
  culvert: { opens: ['road', 'railroad'], width: 2 },
  underpass: { opens: ['road', 'railroad'], width: 6 },
  ford: { opens: ['creek'], width: 8 },
};

const isOpeningType = (value: unknown): value is OpeningType =>
  typeof value === 'string' && Object.hasOwn(OPENINGS, value);

const positive = (value: unknown, otherwise: number): number =>
  typeof value === 'number' && value > 0 ? value : otherwise;

/** Metres of easy ground for one crossing, from the feature's own height, width, depth or class. */
function crossingCost(feature: Feature, w: Weights): number {
  const { attributes } = feature;
  switch (feature.kind) {
    case 'road':
      switch (attributes.class) {
        case 'highway':
          return w.highway;
        case 'lane':
          return w.lane;
        case 'track':
          return w.track;
        default:
          return w.county;
      }
    case 'railroad':
      return w.railroad;
    case 'creek':
      return (
        w.creekBank +
        w.creekWidth * positive(attributes.width, 2) +
        w.creekDepth * positive(attributes.depth, 0.3)
      );
    case 'fence':
      return w.fence * (positive(attributes.height, 1.2) / 1.2) ** 6;
    case 'barricade':
      return Math.min(...Object.values(barricadeWays(feature, w)));
    default:
      return 0;
  }
}

/** What a crossing costs at a place along a line, m from its head. */
export function costAlong({ cost, profile }: Barrier, along: number): number {
  if (!profile) return cost;
  const k = Math.round(along / profile.every);
  return profile.costs[Math.min(profile.costs.length - 1, Math.max(0, k))]!;
}

/** What a stretch of a line costs to cross where its places stand side by side, as conductors do. */
export function costBetween(barrier: Barrier, from: number, to: number): number {
  const { profile } = barrier;
  if (!profile) return barrier.cost;
  let passing = 0;
  let places = 0;
  for (let k = Math.ceil(from / profile.every); k * profile.every < to && k < profile.costs.length; k++) {
    passing += 1 / profile.costs[Math.max(0, k)]!;
    places++;
  }
  return places > 0 ? places / passing : costAlong(barrier, (from + to) / 2);
}

/** Places along a creek at which its banks are looked at, m apart. */
const BANK_PLACES = 5;
/** The banks that what a creek costs is stated for, and the steepest that are told apart, degrees: our assumption. */
const USUAL_BANK = 30;
const STEEPEST_BANK = 60;

/**
 * What a creek costs along its way: getting down one bank and up the other by the square of their tangents against
 * those of usual banks. Null where the ground shows no banks; places it does not know cost as usual.
 */
function bankProfile(
  { attributes }: Feature,
  path: readonly Point[],
  cost: number,
  weights: Weights,
  slope: Grid,
): NonNullable<Barrier['profile']> | null {
  const banks = bankSlopes(path, positive(attributes.width, 2), slope, BANK_PLACES);
  if (banks.every((both) => both === null)) return null;
  const squared = (degrees: number): number =>
    Math.tan((Math.min(degrees, STEEPEST_BANK) * Math.PI) / 180) ** 2;
  const costs = Float64Array.from(banks, (both) => {
    if (!both) return cost;
    const times = (squared(both[0]) + squared(both[1])) / 2 / squared(USUAL_BANK);
    return cost + weights.creekBank * (times - 1);
  });
  return { every: BANK_PLACES, costs };
}

/** How far an opening may be drawn from the line it opens, m. */
const REACH = 15;

/** A pipe narrower than this lets water through, not deer, m: our assumption. */
const LEAST_WIDTH = 1.2;

/**
 * The existing lines that hinder travel, each with the openings that belong to it. A gap opens the line it names
 * (`crosses`), or else the nearest of a kind it can open: an old gate does not open the barricade built across it.
 *
 * @param slope of the ground, degrees: creeks then cost by how steep their banks are from place to place; null takes
 *   usual banks
 */
export function barriersOf(
  features: readonly Feature[],
  weights: Weights,
  slope: Grid | null = null,
): Barrier[] {
  const existing = features.filter((feature) => feature.status === 'existing');
  // Fences come before barricades, so a gate that lies on both opens the fence.
  const barriers = KINDS.flatMap((kind) =>
    ofKind(existing, kind).flatMap((feature) =>
      pathsOf(feature.geometry).map((path): Barrier => {
        const cost = crossingCost(feature, weights);
        return {
          feature: feature.id,
          name: feature.name,
          kind,
          path,
          cost,
          profile:
            kind === 'creek' && slope !== null ? bankProfile(feature, path, cost, weights, slope) : null,
          openings: [],
        };
      }),
    ),
  );
  for (const gap of ofKind(existing, 'gap')) {
    let nearest: { barrier: Barrier; opening: Opening; distance: number } | null = null;
    for (const barrier of barriers) {
      const found = openingOn(barrier, gap, weights);
      if (found && found.distance < (nearest?.distance ?? Number.POSITIVE_INFINITY))
        nearest = { barrier, ...found };
    }
    nearest?.barrier.openings.push(nearest.opening);
  }
  return barriers;
}

/** The opening a gap would make in a barrier and how far it lies from it, or null when it cannot. */
function openingOn(
  { feature, kind, path }: Barrier,
  gap: Feature,
  weights: Weights,
): { opening: Opening; distance: number } | null {
  const { type: named, crosses, width } = gap.attributes;
  if (typeof crosses === 'string' && crosses !== feature) return null;
  // A gap of no known type opens whatever it lies on, as a gate would.
  if (isOpeningType(named) && !OPENINGS[named].opens.includes(kind)) return null;
  const type = isOpeningType(named) ? named : 'gate';
  const at = middleOf(gap.geometry);
  if (!at) return null;
  const drawn = pathsOf(gap.geometry).reduce(
    (longest, line) =>
      Math.max(longest, Math.hypot(line.at(-1)![0] - line[0]![0], line.at(-1)![1] - line[0]![1])),
    0,
  );
  const halfWidth = positive(width, drawn > 0 ? drawn : OPENINGS[type].width) / 2;
  if (2 * halfWidth < LEAST_WIDTH) return null;
  const foot = footOn(path, at);
  if (!foot || foot.distance > Math.max(REACH, halfWidth)) return null;
  return {
    opening: { feature: gap.id, type, at: foot.at, halfWidth, cost: weights[type], heading: foot.heading },
    distance: foot.distance,
  };
}

/** The nearest point of a path, its distance and the path's direction there. */
export function footOn(
  path: readonly Point[],
  [x, y]: Point,
): { at: Point; distance: number; heading: Point; along: number } | null {
  let best: { at: Point; distance: number; heading: Point; along: number } | null = null;
  let start = 0;
  for (let k = 0; k + 1 < path.length; k++) {
    const [ax, ay] = path[k]!;
    const [dx, dy] = [path[k + 1]![0] - ax, path[k + 1]![1] - ay];
    const length = Math.hypot(dx, dy);
    if (length === 0) continue;
    const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (length * length)));
    const at: Point = [ax + t * dx, ay + t * dy];
    const distance = Math.hypot(x - at[0], y - at[1]);
    if (!best || distance < best.distance)
      best = { at, distance, heading: [dx / length, dy / length], along: start + t * length };
    start += length;
  }
  return best;
}
