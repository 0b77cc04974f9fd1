import { visitAround } from '../grid/around.ts';
import { cellAt, cellCentre, cellCount, type Frame, type Grid } from '../grid/frame.ts';
import type { ApproachWay, WalkTime } from './types.ts';
import type { WalkSurface } from './walk-surface.ts';
import type { Group, Watchers } from './watchers.ts';

/**
 * What deer do at each time of a walk: how well they see, and how likely they are in bedding, on the move and on food.
 * At dawn the hunter walks in before first light, at dark out after last light. Our assumption.
 */
export const TIMES: Record<WalkTime, { light: number } & Record<Group, number>> = {
  dawn: { light: 0.3, bedding: 0.3, travel: 1, food: 1 },
  midday: { light: 1, bedding: 1, travel: 0.2, food: 0.05 },
  dark: { light: 0.1, bedding: 0.2, travel: 0.7, food: 1 },
};

/** How many times its length a second counts with all of a kind of trouble on it: our assumption. */
const PRICES: Record<
  Exclude<ApproachWay['kind'], 'another'>,
  Record<'seen' | 'scent' | 'noise' | 'track', number>
> = {
  quickest: { seen: 0, scent: 0, noise: 0, track: 0 },
  hidden: { seen: 25, scent: 5, noise: 8, track: 6 },
  balanced: { seen: 10, scent: 10, noise: 6, track: 10 },
};
/** Inside this of bedding deer are bumped, m, and what a second there counts for: our assumption. */
const BUMPED = 40;
const BUMP = 30;

/** Scent of somebody walking is noticed this far down the wind, m, this wide to both sides, degrees: our assumption. */
const DRIFTS = 250;
const SPREAD = 30;
/** Where the air hardly moves scent hangs round the walker, m. */
const HANGS = 50;
/** A loud step is heard this far, m: our assumption. */
const HEARD = 90;

/** Where a walker's scent goes. */
export type WalkAir =
  | { kind: 'wind' /** Degrees from grid north it blows towards. */; towards: number }
  /** Air draining downhill: degrees from grid north it slides towards; NaN where it stands. */
  | { kind: 'drift'; bearing: Grid }
  /** The air goes nowhere in particular. */
  | { kind: 'still' }
  /** Share of the deer of a group that scent let go on each cell reaches, from elsewhere. */
  | { kind: 'given'; reaches: Record<Group, Grid> };

/**
 * The air of a walk. In a calm, cold air drains downhill from dusk to dawn; by day it goes nowhere in particular.
 *
 * @param towards degrees from grid north the wind goes; null in a calm
 * @param bearing where the cold air of a clear night slides
 */
export function walkAir(towards: number | null, time: WalkTime, bearing: Grid): WalkAir {
  if (towards !== null) return { kind: 'wind', towards };
  return time === 'midday' ? { kind: 'still' } : { kind: 'drift', bearing };
}

/** How much of a walker on each cell each group of deer smells and hears, 0..1. */
export interface Exposure {
  scent: Record<Group, Grid>;
  noise: Record<Group, Grid>;
}

const groups = ['bedding', 'travel', 'food'] as const;

/** The exposure asked for last: ways to one stand after another are judged in the same air. */
let last: { of: readonly unknown[]; made: Exposure } | null = null;

export function exposureOf(
  surface: WalkSurface,
  watchers: Watchers,
  air: WalkAir,
  dryLeaves: boolean,
): Exposure {
  const of = [surface, watchers, air, dryLeaves];
  if (last && of.every((part, k) => part === last!.of[k])) return last.made;
  const made = workedOut(surface, watchers, air, dryLeaves);
  last = { of, made };
  return made;
}

function workedOut(surface: WalkSurface, watchers: Watchers, air: WalkAir, dryLeaves: boolean): Exposure {
  const { frame } = surface;
  const blank = (): Record<Group, Grid> => {
    const grid = (): Grid => ({ frame, cells: new Float32Array(cellCount(frame)) });
    return { bedding: grid(), travel: grid(), food: grid() };
  };
  const noise = blank();
  const scent = air.kind === 'given' ? air.reaches : blank();
  const loud = (dryLeaves ? surface.noise.dry : surface.noise.damp).cells;
  const towards = air.kind === 'given' ? null : towardsOf(frame, air);
  for (const { group, at, weight } of watchers.places) {
    const here = cellAt(frame, ...at);
    if (here < 0) continue;
    const [x, y] = [here % frame.width, Math.floor(here / frame.width)];
    visitAround(frame, x, y, Math.max(DRIFTS, HEARD), (i, u, v) => {
      const east = (x - u) * frame.cellSize;
      const south = (y - v) * frame.cellSize;
      const distance = Math.hypot(east, south);
      if (distance < HEARD) noise[group].cells[i]! += weight * loud[i]! * (1 - distance / HEARD);
      if (towards) scent[group].cells[i]! += weight * smelled(towards[i]!, east, -south, distance);
    });
  }
  for (const each of [noise, ...(towards ? [scent] : [])])
    for (const group of groups) {
      const { cells } = each[group];
      for (let i = 0; i < cells.length; i++) cells[i] = Math.min(1, cells[i]!);
    }
  return { scent, noise };
}

function towardsOf(frame: Frame, air: Exclude<WalkAir, { kind: 'given' }>): Float32Array {
  const out = new Float32Array(cellCount(frame));
  if (air.kind !== 'drift') return out.fill(air.kind === 'wind' ? air.towards : Number.NaN);
  for (let i = 0; i < out.length; i++) {
    const from = cellAt(air.bearing.frame, ...cellCentre(frame, i));
    out[i] = from < 0 ? Number.NaN : air.bearing.cells[from]!;
  }
  return out;
}

/** How much reaches a nose that lies `east` and `north` of the walker when air goes `towards` there. */
function smelled(towards: number, east: number, north: number, distance: number): number {
  if (Number.isNaN(towards)) return Math.max(0, 1 - distance / HANGS);
  if (distance >= DRIFTS) return 0;
  if (distance < 1) return 1;
  const bearing = (Math.atan2(east, north) * 180) / Math.PI;
  const off = Math.abs(((bearing - towards + 540) % 360) - 180);
  return off >= SPREAD ? 0 : (1 - off / SPREAD) * (1 - distance / DRIFTS);
}

/** What a second spent on each cell counts for, by what is put first. */
export function priceOf(
  surface: WalkSurface,
  watchers: Watchers,
  exposure: Exposure,
  time: WalkTime,
  kind: keyof typeof PRICES,
): Grid {
  const weights = PRICES[kind];
  const when = TIMES[time];
  const cells = new Float32Array(cellCount(surface.frame)).fill(1);
  if (kind === 'quickest') return { frame: surface.frame, cells };
  for (const group of groups) {
    const [seen, scent, noise] = [
      watchers.seen[group].cells,
      exposure.scent[group].cells,
      exposure.noise[group].cells,
    ];
    for (let i = 0; i < cells.length; i++)
      cells[i]! +=
        when[group] *
        (weights.seen * when.light * seen[i]! + weights.scent * scent[i]! + weights.noise * noise[i]!);
  }
  for (let i = 0; i < cells.length; i++) {
    cells[i]! += weights.track * watchers.onTravel.cells[i]!;
    if (watchers.beddingDistance.cells[i]! < BUMPED) cells[i]! += BUMP * when.bedding;
  }
  return { frame: surface.frame, cells };
}
