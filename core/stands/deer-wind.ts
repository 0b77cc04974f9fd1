import { DAY_PARTS, type DayPart } from '../air/season.ts';
import { SECTORS } from '../air/types.ts';
import type { Frame, Grid, Point } from '../grid/frame.ts';
import { pathLength } from '../grid/simplify.ts';
import type { Route, TravelArea } from '../travel/types.ts';
import type { ScentCase } from './scent-study.ts';

/** How a trail lies to one wind. Shares of its length, 0..1; they add up to one. */
export interface TrailWind {
  route: string;
  wind: string;
  /** Walked with the wind in the face, within 45 degrees. */
  into: number;
  /** Walked with it from the side. */
  across: number;
  /** Walked with it from behind. */
  with: number;
  /** Each piece of the path from point to point: i into the wind, a across it, w with it. */
  legs: string;
  /** Bedding whose air the trail runs through on its downwind side, nearest first. */
  checks: { area: string; distance: number }[];
}

/** A buck winds bedding from this far downwind at most, m: common practice, no source. */
export const CHECK_REACH = 150;
/** Half the angle of the fan of air a bedding area gives off, degrees: our assumption. */
export const FAN = 20;

/**
 * The deer's own wind: how much of each trail is walked into or across a wind, which lets the nose look ahead, and
 * which bedding lies upwind of it near enough to be checked, as a cruising buck does from the downwind side. A trail
 * checks nothing at its own ends, where deer come from and go to. It is judged the way it is drawn; the other way round
 * `into` and `with` change places.
 *
 * @param from bearing the wind blows from, degrees from grid north
 */
export function trailWind(
  route: Route,
  from: number,
  beds: readonly { name: string; cells: readonly Point[] }[],
): Omit<TrailWind, 'wind'> {
  const total = pathLength(route.path);
  let into = 0;
  let across = 0;
  let legs = '';
  for (let k = 1; k < route.path.length; k++) {
    const [ax, ay] = route.path[k - 1]!;
    const [bx, by] = route.path[k]!;
    const heading = (Math.atan2(bx - ax, by - ay) * 180) / Math.PI;
    const off = Math.abs(((heading - from + 540) % 360) - 180);
    const length = Math.hypot(bx - ax, by - ay);
    const leg = off <= 45 ? 'i' : off < 135 ? 'a' : 'w';
    legs += leg;
    if (leg === 'i') into += length;
    else if (leg === 'a') across += length;
  }
  const share = (length: number) => (total > 0 ? length / total : 0);
  const checks = beds.flatMap(({ name, cells }) => {
    if (name === route.from || name === route.to) return [];
    const distance = downwindDistance(route.path, cells, from);
    return distance === null ? [] : [{ area: name, distance }];
  });
  checks.sort((a, b) => a.distance - b.distance);
  return {
    route: route.id,
    into: share(into),
    across: share(across),
    with: Math.max(0, 1 - share(into) - share(across)),
    legs,
    checks,
  };
}

/** Least distance at which a path crosses the fan of air downwind of any of the spots, within reach; null where it does not. */
export function downwindDistance(
  path: readonly Point[],
  spots: readonly Point[],
  from: number,
): number | null {
  let least = Number.POSITIVE_INFINITY;
  const sine = Math.sin((from * Math.PI) / 180);
  const cosine = Math.cos((from * Math.PI) / 180);
  const fan = Math.tan((FAN * Math.PI) / 180);
  // How far downwind each lies, and how far aside.
  const down = Float64Array.from(spots, ([x, y]) => -x * sine - y * cosine);
  const aside = Float64Array.from(spots, ([x, y]) => x * cosine - y * sine);
  for (const [x, y] of along(path, 10)) {
    const here = -x * sine - y * cosine;
    const beside = x * cosine - y * sine;
    for (let k = 0; k < down.length; k++) {
      const distance = here - down[k]!;
      if (distance <= 0 || distance > CHECK_REACH || distance >= least) continue;
      if (Math.abs(beside - aside[k]!) <= distance * fan) least = distance;
    }
  }
  return Number.isFinite(least) ? least : null;
}

function* along(path: readonly Point[], step: number): Generator<Point> {
  for (let k = 1; k < path.length; k++) {
    const [ax, ay] = path[k - 1]!;
    const [bx, by] = path[k]!;
    const pieces = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / step));
    for (let p = 0; p < pieces; p++) yield [ax + ((bx - ax) * p) / pieces, ay + ((by - ay) * p) / pieces];
  }
}

/** Bedding areas as spots on a lattice of about 20 m, for `trailWind`. */
export function bedSpots(
  areas: Grid<Int32Array>,
  travelAreas: readonly TravelArea[],
): { name: string; cells: Point[] }[] {
  const { frame, cells } = areas;
  const every = Math.max(1, Math.round(20 / frame.cellSize));
  const beds = new Map(
    travelAreas
      .filter(({ kind }) => kind === 'bedding')
      .map((area) => [area.id, { name: area.name, cells: [] as Point[] }]),
  );
  for (let y = Math.floor(every / 2); y < frame.height; y += every)
    for (let x = Math.floor(every / 2); x < frame.width; x += every)
      beds.get(cells[y * frame.width + x]!)?.cells.push(centreOf(frame, x, y));
  return [...beds.values()];
}

const centreOf = (frame: Frame, x: number, y: number): Point => [
  frame.west + (x + 0.5) * frame.cellSize,
  frame.north - (y + 0.5) * frame.cellSize,
];

/** Every trail under each of the 16 winds. */
export function deerWinds(
  frame: Frame,
  routes: readonly Route[],
  beds: readonly { name: string; cells: readonly Point[] }[],
): TrailWind[] {
  return routes.flatMap((route) =>
    SECTORS.map((wind, k) => ({
      wind,
      ...trailWind(route, (k * 22.5 - frame.convergence + 360) % 360, beds),
    })),
  );
}

/** One wind over all travel, as the deer take it. */
export interface DeerWind {
  wind: string;
  /** Shares of travel walked into it, and with it on the side. */
  into: number;
  across: number;
  /** Bedding that some trail checks from its downwind side, nearest first, m. */
  checks: { area: string; distance: number }[];
}

/** The 16 winds over all trails, which weigh by the travel they stand for. */
export function travelWinds(winds: readonly TrailWind[], routes: readonly Route[]): DeerWind[] {
  const all = routes.reduce((sum, { share }) => sum + share, 0);
  const weight = new Map(routes.map(({ id, share }) => [id, all > 0 ? share / all : 0]));
  return SECTORS.map((wind) => {
    const nearest = new Map<string, number>();
    let into = 0;
    let across = 0;
    for (const trail of winds) {
      if (trail.wind !== wind) continue;
      const share = weight.get(trail.route) ?? 0;
      into += share * trail.into;
      across += share * trail.across;
      for (const { area, distance } of trail.checks)
        nearest.set(area, Math.min(distance, nearest.get(area) ?? Number.POSITIVE_INFINITY));
    }
    const checks = [...nearest].map(([area, distance]) => ({ area, distance }));
    return { wind, into, across, checks: checks.sort((a, b) => a.distance - b.distance) };
  });
}

/** A wind that suits deer and hunter alike at one stand and part of the day. */
export interface SharedWind {
  stand: string;
  part: DayPart;
  wind: string;
  /** Share of travel walked into or across the wind. */
  deer: number;
  /** Share of travel that meets the hunter's scent. */
  spoiled: number;
  /** Share of the season's hours of that part; null without a record. */
  hours: number | null;
}

/** Half of travel and more has the wind in its face or on its side, and under a twentieth meets scent: our assumption. */
const DEER_LIKE = 0.5;
const CLEAN = 0.05;

/** Winds that serve both, the likeliest first. Routes weigh by the travel they stand for. */
export function sharedWinds(
  cases: readonly ScentCase[],
  winds: readonly TrailWind[],
  routes: readonly Route[],
): SharedWind[] {
  const liking = new Map(
    travelWinds(winds, routes).map(({ wind, into, across }) => [wind, into + across] as const),
  );
  return cases
    .flatMap(({ stand, part, wind, share, finding }): SharedWind[] => {
      const deer = liking.get(wind);
      if (deer === undefined || deer < DEER_LIKE || finding.travel.usual > CLEAN) return [];
      if (finding.bedding.length > 0 || finding.hangs) return [];
      return [{ stand, part, wind, deer, spoiled: finding.travel.usual, hours: share.share }];
    })
    .sort((a, b) => (b.hours ?? 0) - (a.hours ?? 0) || DAY_PARTS.indexOf(a.part) - DAY_PARTS.indexOf(b.part));
}
