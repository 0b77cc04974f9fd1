import type { PartTable } from '../air/season.ts';
import { COVER } from '../cover/types.ts';
import { type Feature, ofKind } from '../features/feature.ts';
import { pathsOf } from '../features/shapes.ts';
import type { Grid, Point } from '../grid/frame.ts';
import { footOn } from '../travel/barriers.ts';
import { boundaryRings, isInside } from '../travel/owner.ts';
import type { Route } from '../travel/types.ts';
import { CHECK_REACH, downwindDistance, FAN } from './deer-wind.ts';

/** A place where new bedding would be checked from a trail that is already there. */
export interface BeddingProposal {
  at: Point;
  /** Share of the season's daylight hours in which its air crosses a trail near enough. */
  checked: number;
  /** The trail it serves most, and how far downwind of the place that runs on average, m. */
  route: string;
  distance: number;
}

/** Spots are tried on a lattice of this, and proposals stand at least so far apart, m: our assumption. */
const LATTICE = 40;
const APART = 150;
/** Nearer to a trail than this deer do not bed, m: our assumption. */
const CLEAR_OF_TRAIL = 40;
/** And so near to buildings, yards and roads, m: our assumption. */
const CLEAR_OF_PEOPLE = 100;

/**
 * Where new bedding would make an existing trail the natural place to check it from: cruising bucks pass bedding on
 * its downwind side (common practice, no source). Spots of cover on the client's own ground, off the trails, out of
 * the bedding there is and away from buildings, yards and roads, are weighed by the hours of the season whose wind carries their air over a trail.
 *
 * @param parts the season's wind by part of day; morning, midday and evening count
 */
export function proposeBedding(
  cover: Grid<Uint8Array>,
  areas: Grid<Int32Array>,
  bedding: ReadonlySet<number>,
  routes: readonly Route[],
  parts: readonly PartTable[],
  features: readonly Feature[],
  most = 3,
): BeddingProposal[] {
  const { frame } = cover;
  const rings = boundaryRings(features);
  const winds = daylightWinds(parts, frame.convergence).filter(({ share }) => share > 0);
  if (winds.length === 0) return [];
  const near = routes.map(reached);
  const people = ofKind(features, 'building', 'access', 'road').map(reachOf);
  const every = Math.max(1, Math.round(LATTICE / frame.cellSize));
  const found: BeddingProposal[] = [];
  for (let y = Math.floor(every / 2); y < frame.height; y += every)
    for (let x = Math.floor(every / 2); x < frame.width; x += every) {
      const i = y * frame.width + x;
      const code = cover.cells[i]!;
      if (code !== COVER.brush && code !== COVER.deciduous && code !== COVER.evergreen) continue;
      if (bedding.has(areas.cells[i]!)) continue;
      const at: Point = [frame.west + (x + 0.5) * frame.cellSize, frame.north - (y + 0.5) * frame.cellSize];
      if (rings.length > 0 && !isInside(rings, at)) continue;
      const proposal = weigh(at, near, winds);
      if (proposal && people.every((reach) => reach(at) >= CLEAR_OF_PEOPLE)) found.push(proposal);
    }
  found.sort((a, b) => b.checked - a.checked || a.at[0] - b.at[0] || a.at[1] - b.at[1]);
  const kept: BeddingProposal[] = [];
  for (const each of found) {
    if (kept.length === most) break;
    if (kept.every(({ at }) => Math.hypot(at[0] - each.at[0], at[1] - each.at[1]) >= APART)) kept.push(each);
  }
  return kept;
}

/** How far a spot is from a thing's point, line or outline, m. */
function reachOf({ geometry }: Feature): (at: Point) => number {
  if (geometry.type === 'Point') {
    const [px, py] = geometry.coordinates;
    return ([x, y]) => Math.hypot(px! - x, py! - y);
  }
  const paths = pathsOf(geometry);
  return (at) => Math.min(...paths.map((path) => footOn(path, at)?.distance ?? Number.POSITIVE_INFINITY));
}

/** A trail's fans of air come from no farther than this: most trails need no closer look. */
const FARTHEST = CHECK_REACH / Math.cos((FAN * Math.PI) / 180);

/** A trail and the box that holds all that can be checked from it. */
interface Reached {
  route: Route;
  west: number;
  east: number;
  south: number;
  north: number;
}
function reached(route: Route): Reached {
  const xs = route.path.map(([x]) => x);
  const ys = route.path.map(([, y]) => y);
  return {
    route,
    west: Math.min(...xs) - FARTHEST,
    east: Math.max(...xs) + FARTHEST,
    south: Math.min(...ys) - FARTHEST,
    north: Math.max(...ys) + FARTHEST,
  };
}

function weigh(
  at: Point,
  routes: readonly Reached[],
  winds: readonly { from: number; share: number }[],
): BeddingProposal | null {
  const served = new Map<string, { share: number; metres: number }>();
  for (const { route, west, east, south, north } of routes) {
    if (at[0] < west || at[0] > east || at[1] < south || at[1] > north) continue;
    const near = footOn(route.path, at)?.distance ?? Number.POSITIVE_INFINITY;
    if (near < CLEAR_OF_TRAIL) return null;
    if (near > FARTHEST) continue;
    for (const { from, share } of winds) {
      const distance = downwindDistance(route.path, [at], from);
      if (distance === null) continue;
      const old = served.get(route.id) ?? { share: 0, metres: 0 };
      served.set(route.id, { share: old.share + share, metres: old.metres + share * distance });
    }
  }
  if (served.size === 0) return null;
  const [route, best] = [...served].reduce((a, b) => (b[1].share > a[1].share ? b : a));
  return { at, checked: best.share, route, distance: best.metres / best.share };
}

/** The 16 winds of the daylight hours: degrees from grid north they come from, and the share of those hours. */
export function daylightWinds(
  parts: readonly PartTable[],
  convergence: number,
): { from: number; share: number }[] {
  const day = parts.filter(({ part }) => part === 'morning' || part === 'midday' || part === 'evening');
  const total = day.reduce((sum, part) => sum + part.total, 0);
  if (total === 0) return [];
  return Array.from({ length: 16 }, (_, k) => ({
    from: (k * 22.5 - convergence + 360) % 360,
    share: day.reduce((sum, part) => sum + part.sectors[k]!.hours, 0) / total,
  }));
}
