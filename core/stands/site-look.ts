import type { PartTable } from '../air/season.ts';
import { bearingOf } from '../grid/bearing.ts';
import type { Point } from '../grid/frame.ts';
import type { Route } from '../travel/types.ts';
import { HUNTED, type HuntedPart, runsIn } from './case-verdict.ts';
import type { SiteTravel } from './site-travel.ts';

/** Scent is taken to be met this far downwind and this far to either side, m and degrees, at a first look: our assumption. */
const FIRST_REACH = 250;
const FIRST_SPREAD = 20;
/** What a wind is still worth whose scent lies on bedding, or on more travel than may meet it: our assumption. */
const ON_BEDDING = 0.25;
const OVER_LIMIT = 0.5;

/** What a first look at many spots rests on, made once. */
export interface FirstGround {
  travel: SiteTravel;
  /** Places in bedding. */
  beds: readonly Point[];
  /** Share of each wind at each part of the day, 16 sectors; every wind alike without a record. */
  winds: Record<HuntedPart, Float64Array>;
  /** Lawful hours a week. */
  lawful: Record<HuntedPart, number>;
  /** Of every whole degree of the grid, the winds that carry scent there, a bit for each of the 16. */
  over: Uint16Array;
  limits: { spoilt: number; alarm: number };
  /** Share of travel in all, and of it what runs at each part of the day. */
  all: number;
  running: Record<HuntedPart, number>;
}

export function firstGround(
  travel: SiteTravel,
  beds: readonly Point[],
  parts: readonly PartTable[] | null,
  lawful: Record<HuntedPart, number>,
  convergence: number,
  limits: FirstGround['limits'],
): FirstGround {
  const winds = Object.fromEntries(
    HUNTED.map((part) => {
      const table = parts?.find((each) => each.part === part);
      return [
        part,
        Float64Array.from({ length: 16 }, (_, k) => (table ? (table.sectors[k]?.share.share ?? 0) : 1 / 16)),
      ];
    }),
  ) as FirstGround['winds'];
  const over = windsByDegree(
    Float64Array.from({ length: 16 }, (_, k) => (22.5 * k - convergence + 540) % 360),
  );
  const shareOf = (runs: (when: Route['when']) => boolean): number =>
    travel.routes.reduce((sum, { share, when }) => sum + (runs(when) ? share : 0), 0);
  const running = Object.fromEntries(
    HUNTED.map((part) => [part, shareOf((when) => runsIn(when, part))]),
  ) as FirstGround['running'];
  return { travel, beds, winds, lawful, over, limits, all: shareOf(() => true), running };
}

/** What a spot is worth at a first look. */
export interface FirstLook {
  /** Mean share of travel met clean over all hours of light, as the verdict's `worth`, by straight winds. */
  worth: number;
  /** Share of all travel that comes in range at all. */
  reach: number;
}

/**
 * A cheap stand-in for the verdict of a spot: every route that comes in range is clean in a wind when no place of it
 * before that lies in the sector the wind goes to. It only decides which spots are looked at in full.
 *
 * @param range m, level
 * @param inView whether a deer at a place is in view; everywhere when left out
 */
export function firstLook(
  ground: FirstGround,
  at: Point,
  range: number,
  inView: (place: Point) => boolean = () => true,
): FirstLook {
  const { travel, over } = ground;
  const { x, y, route, order, routes } = travel;
  const reached = new Map<number, number>();
  const near: number[] = [];
  travel.visit(at, Math.max(range, FIRST_REACH), (place) => {
    const distance = (x[place]! - at[0]) ** 2 + (y[place]! - at[1]) ** 2;
    if (distance <= FIRST_REACH ** 2) near.push(place);
    if (distance > range ** 2 || !inView([x[place]!, y[place]!])) return;
    const first = reached.get(route[place]!);
    if (first === undefined || order[place]! < first) reached.set(route[place]!, order[place]!);
  });
  if (reached.size === 0) return { worth: 0, reach: 0 };
  // A bit for each wind: scented anywhere, and before it comes in range.
  const scented = new Map<number, number>();
  const spoilt = new Map<number, number>();
  for (const place of near) {
    const bits = over[Math.floor(bearingOf(x[place]! - at[0], y[place]! - at[1])) % 360]!;
    if (bits === 0) continue;
    const r = route[place]!;
    scented.set(r, (scented.get(r) ?? 0) | bits);
    const first = reached.get(r);
    if (first !== undefined && order[place]! < first) spoilt.set(r, (spoilt.get(r) ?? 0) | bits);
  }
  let bedding = 0;
  for (const bed of ground.beds) {
    const [east, north] = [bed[0] - at[0], bed[1] - at[1]];
    if (Math.hypot(east, north) <= FIRST_REACH) bedding |= over[Math.floor(bearingOf(east, north)) % 360]!;
  }
  let all = 0;
  let worth = 0;
  for (const part of HUNTED) {
    all += ground.lawful[part];
    if (ground.lawful[part] === 0) continue;
    const total = ground.running[part];
    if (total === 0) continue;
    for (let k = 0; k < 16; k++) {
      const wind = ground.winds[part][k]!;
      if (wind === 0) continue;
      let [clean, lost, alarmed] = [0, 0, 0];
      for (const r of reached.keys())
        if (runsIn(routes[r]!.when, part)) {
          if ((spoilt.get(r) ?? 0) & (1 << k)) lost += routes[r]!.share;
          else clean += routes[r]!.share;
        }
      for (const [r, bits] of scented)
        if (bits & (1 << k) && runsIn(routes[r]!.when, part)) alarmed += routes[r]!.share;
      const over = lost > ground.limits.spoilt * (clean + lost) || alarmed > ground.limits.alarm * total;
      worth +=
        ground.lawful[part] *
        wind *
        (clean / total) *
        (bedding & (1 << k) ? ON_BEDDING : 1) *
        (over ? OVER_LIMIT : 1);
    }
  }
  const share = [...reached.keys()].reduce((sum, r) => sum + routes[r]!.share, 0);
  return { worth: all > 0 ? worth / all : 0, reach: share / ground.all };
}

/** Of every whole degree, the winds that carry scent there, a bit each. */
function windsByDegree(towards: Float64Array): Uint16Array {
  return Uint16Array.from({ length: 360 }, (_, degree) => {
    let bits = 0;
    for (let k = 0; k < 16; k++)
      if (Math.abs(((degree + 0.5 - towards[k]! + 540) % 360) - 180) <= FIRST_SPREAD) bits |= 1 << k;
    return bits;
  });
}
