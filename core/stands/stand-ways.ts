import type { Units } from '../features/units.ts';
import { cellAt, cellCount, type Grid, type Point } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { wayTo } from './approach.ts';
import { judging, paceFor, type ReadyGround } from './judge-way.ts';
import { towardsOf, type WayOptions, type WayRules } from './sitting.ts';
import { startsOf } from './starts.ts';
import type { ApproachWay, StandSpot, WalkTime } from './types.ts';
import { exposureOf, priceOf, type WalkAir, walkAir } from './walk-price.ts';

/** The best way to a stand at one time in one wind. */
export interface WayTaken {
  /** Null where nobody knows where people come from. */
  clean: boolean | null;
  start: string;
  minutes: number;
  /** m; of it driven. */
  length: number;
  driven: number;
  path: Point[];
  /** What is against every way found; null where the best one is clean. */
  against: string | null;
}

/** Ways to one stand. */
export interface StandWays {
  stand: string;
  /** As if the walker had no scent; where `lost`, no wind can make it better. */
  unscented: Partial<Record<WalkTime, WayTaken & { lost: boolean }>>;
  /** By time and wind: `dawn NNW`. */
  scented: Record<string, WayTaken>;
}

/** A walk to be judged; a wind of null asks what holds in every wind. */
export interface WayNeed {
  time: WalkTime;
  wind: string | null;
}

/** In the order they are tried: the first clean one is enough. */
const KINDS = ['balanced', 'hidden', 'quickest'] as const;

/**
 * Ways to some stands at the times and in the winds they are needed for: of the way that weighs everything, the least
 * seen and the quickest the first clean one. First every time is looked at as if the walker had no scent: a stand whose
 * every way has the same grave fault then is lost in every wind, and its winds are not looked at.
 *
 * @param needs of each stand
 */
export function standWays(
  spots: readonly StandSpot[],
  needs: readonly (readonly WayNeed[])[],
  ready: ReadyGround,
  { airBearing, convergence, ...rules }: WayOptions,
  units: Units,
  progress: Progress = silent,
): StandWays[] {
  const { frame } = ready.surface;
  const nowhere = startsOf(frame, ready.ground.features, rules.from).length === 0;
  const found = spots.map(({ id }): StandWays => ({ stand: id, unscented: {}, scented: {} }));
  // Winds outside and stands inside, so that what deer smell of a walker is worked out once a wind.
  const times = [...new Set(needs.flatMap((each) => each.map(({ time }) => time)))];
  const winds = new Map<string, { time: WalkTime; wind: string }>();
  for (const each of needs)
    for (const { time, wind } of each) if (wind !== null) winds.set(`${time} ${wind}`, { time, wind });
  const steps = times.length + winds.size;
  let done = 0;
  for (const time of times) {
    const look = walksIn(ready, time, noScent(frame), rules, units);
    spots.forEach((spot, k) => {
      if (!needs[k]!.some((need) => need.time === time)) return;
      const ways = look(spot);
      const lost =
        !nowhere && !ways.some(({ clean }) => clean) && (ways.length === 0 || shared(ways) !== null);
      found[k]!.unscented[time] = { ...takenOf(ways, nowhere), lost };
    });
    progress(++done / steps);
  }
  for (const [key, { time, wind }] of winds) {
    const air = walkAir(towardsOf(wind, convergence), time, airBearing);
    const look = walksIn(ready, time, air, rules, units);
    spots.forEach((spot, k) => {
      const needed = needs[k]!.some((need) => need.time === time && need.wind === wind);
      if (!needed || nowhere || found[k]!.unscented[time]?.lost) return;
      found[k]!.scented[key] = takenOf(look(spot), nowhere);
    });
    progress(++done / steps);
  }
  return found;
}

/** Looks for ways to one stand after another at one time in one air, until one is clean. */
function walksIn(
  ready: ReadyGround,
  time: WalkTime,
  air: WalkAir,
  rules: WayRules,
  units: Units,
): (spot: StandSpot) => ApproachWay[] {
  const { ground, surface, watchers } = ready;
  const starts = startsOf(surface.frame, ground.features, rules.from);
  const exposure = exposureOf(surface, watchers, air, rules.dryLeaves);
  const prices = new Map<string, Grid>();
  const priced = (kind: (typeof KINDS)[number]): Grid => {
    const known = prices.get(kind) ?? priceOf(surface, watchers, exposure, time, kind);
    prices.set(kind, known);
    return known;
  };
  const walk = { ...rules, time, air, wind: '' };
  return (spot) => {
    const target = cellAt(surface.frame, ...spot.at);
    const pace = paceFor(surface, target, rules);
    const judge = judging(ready, walk, pace, priced('balanced'), units);
    const ways: ApproachWay[] = [];
    for (const kind of KINDS) {
      const way = wayTo(target, starts, surface, pace, priced(kind), rules.mode, kind);
      if (!way) break;
      ways.push(judge(way, `${spot.id}-${time}-${kind}`, spot.at));
      if (ways.at(-1)!.clean) break;
    }
    return ways;
  };
}

/** The way to a stand at a time in a wind, as far as it was looked at; null where it was not. */
export function wayAt({ unscented, scented }: StandWays, time: WalkTime, wind: string): WayTaken | null {
  const whatever = unscented[time] ?? null;
  return whatever?.lost ? whatever : (scented[`${time} ${wind}`] ?? whatever);
}

/** Air that carries no scent to anyone. */
function noScent(frame: Grid['frame']): WalkAir {
  const none: Grid = { frame, cells: new Float32Array(cellCount(frame)) };
  return { kind: 'given', reaches: { bedding: none, travel: none, food: none } };
}

/** A grave fault that every way has. */
const shared = (ways: readonly ApproachWay[]): string | null =>
  ways[0]?.faults.find(
    ({ key, grave }) =>
      grave && ways.every((way) => way.faults.some((fault) => fault.key === key && fault.grave)),
  )?.sentence ?? null;

function takenOf(ways: readonly ApproachWay[], nowhere: boolean): WayTaken {
  const best = ways.find(({ clean }) => clean) ?? ways[0];
  const against = best?.clean
    ? null
    : (shared(ways) ??
      best?.faults.find(({ grave }) => grave)?.sentence ??
      'No way leads there on your ground.');
  return {
    clean: nowhere ? null : (best?.clean ?? false),
    start: best?.start ?? '',
    minutes: best?.minutes ?? Number.NaN,
    length: best?.length ?? Number.NaN,
    driven: best?.driven ?? 0,
    path: best?.path ?? [],
    against,
  };
}
