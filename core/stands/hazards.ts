import type { Feature } from '../features/feature.ts';
import { middleOf, pathsOf, ringsOf } from '../features/shapes.ts';
import type { Point } from '../grid/frame.ts';
import { boundaryRings, isInside } from '../travel/owner.ts';
import type { Behind } from './types.ts';

/** One thing that must not be in the way, and how near it comes in each of 360 directions, m; Infinity elsewhere. */
export interface Hazard {
  what: Behind['what'];
  name: string;
  /** From the stand to its nearest place, m; 0 inside. */
  nearest: number;
  byBearing: Float64Array;
}

/** What is mapped is drawn this roughly, m: a thing counts as this much larger all round. Our assumption. */
const DRAWN_ROUGHLY = 10;

/**
 * Everything mapped that a shot must not reach within a distance: houses, roads, railroads, stock, other stands, and
 * the places people come from.
 */
export function hazardsRound(
  at: Point,
  features: readonly Feature[],
  self: string,
  danger: number,
): Hazard[] {
  return features.flatMap((feature): Hazard[] => {
    const what = whatIs(feature);
    if (!what || feature.id === self || feature.status !== 'existing') return [];
    const byBearing = new Float64Array(360).fill(Number.POSITIVE_INFINITY);
    const { geometry } = feature;
    const rings = ringsOf(geometry);
    let nearest = Number.POSITIVE_INFINITY;
    const mark = (place: Point): void => {
      const [east, north] = [place[0] - at[0], place[1] - at[1]];
      const away = Math.hypot(east, north);
      nearest = Math.min(nearest, away);
      if (away > danger) return;
      const distance = Math.max(0, away - DRAWN_ROUGHLY);
      const half = distance === 0 ? 180 : toDegrees(Math.asin(Math.min(1, DRAWN_ROUGHLY / away)));
      const middle = toDegrees(Math.atan2(east, north));
      for (let b = Math.floor(middle - half); b <= Math.ceil(middle + half); b++) {
        const k = ((b % 360) + 360) % 360;
        if (distance < byBearing[k]!) byBearing[k] = distance;
      }
    };
    for (const path of pathsOf(geometry)) for (const place of densely(path)) mark(place);
    const middle = geometry.type === 'Point' ? middleOf(geometry) : null;
    if (middle) mark(middle);
    if (rings.length > 0 && isInside(rings, at)) {
      nearest = 0;
      byBearing.fill(0);
    }
    return nearest <= danger ? [{ what, name: feature.name ?? `a ${feature.kind}`, nearest, byBearing }] : [];
  });
}

function whatIs({ kind, attributes }: Feature): Behind['what'] | null {
  switch (kind) {
    case 'building':
      return 'house';
    case 'road':
      return attributes.class === 'track' ? null : 'road';
    case 'railroad':
      return 'railroad';
    case 'stand':
      return 'stand';
    case 'access':
      return 'people';
    case 'food':
    case 'crop':
      return attributes.stock === true ||
        attributes.crop === 'pasture' ||
        typeof attributes.stockFrom === 'string'
        ? 'stock'
        : null;
    default:
      return null;
  }
}

/** How far apart a line is looked at, m: less than what it is widened by. */
const EVERY = DRAWN_ROUGHLY / 2;

function* densely(path: readonly Point[]): Generator<Point> {
  for (let k = 1; k < path.length; k++) {
    const [ax, ay] = path[k - 1]!;
    const [bx, by] = path[k]!;
    const pieces = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / EVERY));
    for (let p = 0; p <= pieces; p++) yield [ax + ((bx - ax) * p) / pieces, ay + ((by - ay) * p) / pieces];
  }
}

/**
 * How far a line along a bearing stays on the client's ground, m; 0 from a stand that is not on it, NaN without a
 * boundary. A line that leaves and comes back counts as left.
 */
export function leavesGround(features: readonly Feature[]): (at: Point, bearing: number) => number {
  const rings = boundaryRings(features);
  return (at, bearing) => {
    if (rings.length === 0) return Number.NaN;
    if (!isInside(rings, at)) return 0;
    const [dx, dy] = [Math.sin((bearing * Math.PI) / 180), Math.cos((bearing * Math.PI) / 180)];
    let nearest = Number.POSITIVE_INFINITY;
    for (const ring of rings) {
      for (let k = 1; k < ring.length; k++) {
        const [ax, ay] = [ring[k - 1]![0] - at[0], ring[k - 1]![1] - at[1]];
        const [ex, ey] = [ring[k]![0] - ring[k - 1]![0], ring[k]![1] - ring[k - 1]![1]];
        const cross = dx * ey - dy * ex;
        if (cross === 0) continue;
        const t = (ax * ey - ay * ex) / cross;
        const s = (ax * dy - ay * dx) / cross;
        if (t > 0 && s >= 0 && s <= 1 && t < nearest) nearest = t;
      }
    }
    return nearest;
  };
}

const toDegrees = (radians: number): number => (radians * 180) / Math.PI;
