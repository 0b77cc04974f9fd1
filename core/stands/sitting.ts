import { SECTORS } from '../air/types.ts';
import type { Units } from '../features/units.ts';
import type { Grid } from '../grid/frame.ts';
import { approachTo } from './approach.ts';
import { HUNTED, type HuntedPart } from './case-verdict.ts';
import type { ReadyGround, Walk } from './judge-way.ts';
import { startsOf } from './starts.ts';
import type { ApproachWay, StandSpot, WalkTime } from './types.ts';
import type { StandVerdict } from './verdict.ts';
import { walkAir } from './walk-price.ts';

/** One walk a part of the day asks for, in the wind it is most often hunted in. */
export interface Walked {
  time: WalkTime;
  /** One of the 16 points, or `calm`. */
  wind: string;
  /** Null where nobody knows where people come from. */
  clean: boolean | null;
  /** The way with the least against it; null where none leads there. */
  best: ApproachWay | null;
  /** A clean way over the neighbour’s ground, which may not be walked unasked. */
  ifAllowed: ApproachWay | null;
  verdict: string;
}

/** Getting to a stand and away from it for one part of the day. */
export interface PartWay {
  part: HuntedPart;
  walks: Walked[];
  clean: boolean | null;
}

/** Which walks a part of the day asks for: the way in, and in the evening the way out past deer on their feet as well. */
export const WALKS: Record<HuntedPart, readonly WalkTime[]> = {
  'before sunrise': ['dawn'],
  morning: ['dawn'],
  midday: ['midday'],
  evening: ['midday', 'dark'],
};

export interface WayOptions extends Pick<Walk, 'mode' | 'allowNeighbour' | 'dryLeaves' | 'from' | 'legs'> {
  /** Degrees clockwise from grid north cold air slides towards. */
  airBearing: Grid;
  /** Degrees grid north is turned from true north. */
  convergence: number;
}

/** Options of ways in, but for what the ground tells. */
export type WayRules = Omit<WayOptions, 'airBearing' | 'convergence'>;

export const wayOptions = (
  { airBearing, elevation }: { airBearing: Grid; elevation: Grid },
  rules: WayRules,
): WayOptions => ({ ...rules, airBearing, convergence: elevation.frame.convergence });

export type PartWinds = Partial<Record<HuntedPart, string>>;

/** The wind each part of the day is walked in: the commonest it can be hunted in, else the commonest at all. */
export function windsToWalkIn({ parts }: Pick<StandVerdict, 'parts'>): PartWinds {
  const winds: PartWinds = {};
  for (const { part, lawful, winds: good, spoilt } of parts)
    if (lawful > 0) winds[part] = good[0] ?? spoilt[0] ?? 'calm';
  return winds;
}

/** Ways to a stand for every part of the day that has light, each judged in one wind. */
export function waysOfParts(
  spot: StandSpot,
  ready: ReadyGround,
  winds: PartWinds,
  { airBearing, convergence, ...walk }: WayOptions,
  units: Units,
): PartWay[] {
  const nowhere = startsOf(ready.surface.frame, ready.ground.features, walk.from).length === 0;
  const known = new Map<string, Walked>();
  const walked = (time: WalkTime, wind: string): Walked => {
    const key = `${time} ${wind}`;
    const before = known.get(key);
    if (before) return before;
    const towards = towardsOf(wind, convergence);
    const { approach } = approachTo(
      spot,
      ready,
      { ...walk, time, wind, air: walkAir(towards, time, airBearing) },
      units,
    );
    const made: Walked = {
      time,
      wind,
      clean: nowhere ? null : approach.clean,
      best: approach.ways[0] ?? null,
      ifAllowed: approach.ifAllowed,
      verdict: approach.verdict,
    };
    known.set(key, made);
    return made;
  };
  return HUNTED.flatMap((part): PartWay[] => {
    const wind = winds[part];
    if (wind === undefined) return [];
    const walks = WALKS[part].map((time) => walked(time, wind));
    const clean = walks.some((each) => each.clean === null) ? null : walks.every((each) => each.clean);
    return [{ part, walks, clean }];
  });
}

/** Where air of a wind goes on the grid, degrees; null in a calm. Winds are told by true north. */
export function towardsOf(wind: string, convergence: number): number | null {
  const sector = (SECTORS as readonly string[]).indexOf(wind);
  return sector < 0 ? null : (22.5 * sector - convergence + 540) % 360;
}

/** Hours a week the wind lets a stand be hunted and a clean way leads there; null without a wind record. */
export function usableHours({ parts }: Pick<StandVerdict, 'parts'>, ways: readonly PartWay[]): number | null {
  if (parts.some(({ hours }) => hours === null)) return null;
  return parts.reduce(
    (sum, { part, hours }) =>
      ways.find((way) => way.part === part)?.clean === false ? sum : sum + hours!.usual,
    0,
  );
}
