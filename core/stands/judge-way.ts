import type { Feature } from '../features/feature.ts';
import type { Units } from '../features/units.ts';
import { cellAt, type Grid, type Point } from '../grid/frame.ts';
import { traceCells } from '../travel/cost.ts';
import type { Neck, Route, TravelArea } from '../travel/types.ts';
import type { SightGround } from './sight-window.ts';
import { startsOf } from './starts.ts';
import type { Approach, ApproachWay, Leaves, WalkTime } from './types.ts';
import { exposureOf, priceOf, type WalkAir } from './walk-price.ts';
import { type WalkSurface, walkSurface } from './walk-surface.ts';
import { leastWays, type WalkGround, walkingSpeed } from './walking.ts';
import { type Watchers, watchersOf } from './watchers.ts';
import { faultsOf } from './way-faults.ts';
import { measureWay } from './way-measure.ts';

/** What ways to stands rest on, over the whole map. */
export interface ApproachGround extends SightGround {
  features: readonly Feature[];
  areas: Grid<Int32Array>;
  travelAreas: readonly TravelArea[];
  routes: readonly Route[];
  necks: readonly Neck[];
}

/** The same made ready once for every stand, time and wind. */
export interface ReadyGround {
  ground: ApproachGround;
  surface: WalkSurface;
  watchers: Watchers;
}

export function readyGround(ground: ApproachGround, leaves: Leaves): ReadyGround {
  const surface = walkSurface(ground, ground.features);
  const watchers = watchersOf(surface, ground.areas, ground.travelAreas, ground.routes, leaves);
  return { ground, surface, watchers };
}

export interface Walk {
  time: WalkTime;
  mode: Approach['mode'];
  air: WalkAir;
  /** The air in words. */
  wind: string;
  /** A feature to start from; null for the places people come from. */
  from: string | null;
  allowNeighbour: boolean;
  dryLeaves: boolean;
  legs: Legs;
}

/** How able whoever walks is on foot. */
export interface Legs {
  /** Against Tobler's speed. */
  pace: number;
  /** The longest way in on foot, m; null without a limit. */
  longest: number | null;
}

/** A way as it was found, before it is judged. */
export interface Found {
  kind: ApproachWay['kind'];
  start: string;
  from: Point;
  /** Cells in order, driven ones first. */
  cells: number[];
  driven: number;
  cost: number;
}

/** Pace with what may not be walked closed; the stand itself is always open. */
export function paceFor(
  { frame, pace, allowed }: WalkSurface,
  target: number,
  { allowNeighbour, legs }: Pick<Walk, 'allowNeighbour' | 'legs'>,
): Grid {
  const cells = pace.cells.map((value, i) =>
    allowNeighbour || allowed[i] === 1 ? legs.pace * value : Number.NaN,
  );
  if (target >= 0 && Number.isNaN(cells[target]!)) cells[target] = legs.pace * pace.cells[target]!;
  return { frame, cells };
}

export const onFoot = ({ elevation, crossings }: WalkSurface, pace: Grid, price: Grid): WalkGround => ({
  elevation,
  pace,
  price,
  crossings,
  speed: walkingSpeed,
});

export const byVehicle = ({ elevation, drive }: WalkSurface, price: Grid): WalkGround => ({
  elevation,
  pace: drive,
  price,
  crossings: null,
  speed: () => 1,
});

/** Judges ways of one walk: what each costs and what is wrong with it. */
export function judging(
  { ground, surface, watchers }: ReadyGround,
  walk: Walk,
  pace: Grid,
  price: Grid,
  units: Units,
): (way: Found, id: string, to: Point) => ApproachWay {
  const exposure = exposureOf(surface, watchers, walk.air, walk.dryLeaves);
  const wayGround = { ...ground, surface, watchers, exposure, time: walk.time };
  const feet = onFoot(surface, pace, price);
  const wheels = byVehicle(surface, price);
  return ({ cells, driven, kind, start, from }, id, to) => {
    const measured = measureWay(wayGround, feet, wheels, cells, driven, { id, kind, start }, from, to);
    const faults = faultsOf(measured, walk.time, walk.legs.longest, units);
    const { neckShares: _, drivenNecks: __, ...rest } = measured;
    return { ...rest, faults, clean: faults.every(({ grave }) => !grave) };
  };
}

/**
 * Ways on foot to many spots from one sweep over the ground: of each the one that weighs everything, which is what a
 * first look needs. Null where none leads there, or where nobody knows where people come from.
 */
export function waysToMany(ready: ReadyGround, walk: Walk, units: Units): (to: Point) => ApproachWay | null {
  const { ground, surface, watchers } = ready;
  const { frame } = surface;
  const pace = paceFor(surface, -1, walk);
  const exposure = exposureOf(surface, watchers, walk.air, walk.dryLeaves);
  const price = priceOf(surface, watchers, exposure, walk.time, 'balanced');
  const starts = startsOf(frame, ground.features, walk.from);
  const field = leastWays(
    onFoot(surface, pace, price),
    starts.flatMap(({ cells }) => cells.map((cell) => [cell, 0] as const)),
  );
  const judge = judging(ready, walk, pace, price, units);
  return (to) => {
    const target = cellAt(frame, ...to);
    if (target < 0 || field.cost[target] === Number.POSITIVE_INFINITY) return null;
    const cells = traceCells(field, frame.width, target);
    const start = starts.find((each) => each.cells.includes(cells[0]!))!;
    const way: Found = {
      kind: 'balanced',
      start: start.name,
      from: start.at,
      cells,
      driven: 0,
      cost: field.cost[target]!,
    };
    return judge(way, 'first', to);
  };
}
