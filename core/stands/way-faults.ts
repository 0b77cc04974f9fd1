import { formatLength, formatShare, type Units } from '../features/units.ts';
import type { ApproachWay, WalkTime } from './types.ts';
import { TIMES } from './walk-price.ts';

/** What a way is judged by: our assumption throughout. */
const LIMITS = {
  /** Minutes wholly in view or scent of deer that are likely there. */
  minor: 0.25,
  grave: 1,
  /** Share of all travel a way may walk across. */
  crosses: 0.08,
  crossesGrave: 0.2,
  /** Share of all travel a neck must carry before walking through it spoils it. */
  neck: 0.1,
  /** m to bedding that deer there bear. */
  bedding: 60,
};

export type Measured = Omit<ApproachWay, 'faults' | 'clean'> & {
  /** Necks walked through, and driven through. */
  neckShares: { id: string; rank: number; share: number }[];
  drivenNecks: { id: string; rank: number; share: number }[];
};

/** How near to bedding counts as near. */
export const NEAR_BEDDING = LIMITS.bedding;

/**
 * What is wrong with a way at a time of the day, the worst first.
 *
 * @param longest on foot, m; null without a limit
 */
export function faultsOf(
  way: Measured,
  time: WalkTime,
  longest: number | null,
  units: Units,
): ApproachWay['faults'] {
  const when = TIMES[time];
  const faults: ApproachWay['faults'] = [];
  const add = (key: string, grave: boolean, sentence: string): void => {
    faults.push({ key, grave, sentence });
  };
  const weighed = (
    key: string,
    minutes: number,
    weight: number,
    sentence: (text: string) => string,
  ): void => {
    if (minutes * weight >= LIMITS.minor)
      add(key, minutes * weight >= LIMITS.grave, sentence(inWords(minutes)));
  };
  const walked = way.length - way.driven;
  if (longest !== null && walked > longest)
    add(
      'long',
      true,
      `It is ${formatLength(walked, units)} on foot, farther than ${formatLength(longest, units)}, the most whoever hunts here walks.`,
    );
  for (const { rank, share } of way.neckShares)
    if (share >= LIMITS.neck)
      add(
        `neck ${rank}`,
        true,
        `It walks through neck ${rank}, which ${formatShare(share)} of all travel passes: scent stays on that ground.`,
      );
  for (const { rank, share } of way.drivenNecks)
    if (share >= LIMITS.neck)
      add(
        `neck ${rank}`,
        false,
        `It drives through neck ${rank}, which ${formatShare(share)} of all travel passes: deer there are put off for a while.`,
      );
  if (way.crossesTravel >= LIMITS.crosses)
    add(
      'travel',
      way.crossesTravel >= LIMITS.crossesGrave,
      `It walks across ${formatShare(way.crossesTravel)} of all travel.`,
    );
  for (const { name, distance } of way.nearBedding)
    add(
      `bedding ${name}`,
      // Deer lie there by day; coming home at dawn they meet fresh scent.
      when.bedding >= 0.3,
      distance < 1 ? `It goes through ${name}.` : `It passes ${name} at ${formatLength(distance, units)}.`,
    );
  weighed(
    'seen by bedding',
    way.seenByBedding,
    when.bedding * when.light,
    (text) => `In view of bedding for ${text}.`,
  );
  weighed(
    'seen by travel',
    way.seenByTravel,
    when.travel * when.light,
    (text) => `In view of travel for ${text}.`,
  );
  weighed('scent', way.scent, 1, (text) => `Scent drifts onto bedding, food or travel for ${text}.`);
  weighed('noise', way.noise, 0.5, (text) => `Loud enough to be heard by deer for ${text}.`);
  for (const { kind, name } of way.crossings) {
    if (kind === 'railroad')
      add(
        'railroad',
        true,
        `It crosses the rails of ${name} where there is no way under or over: look up whether that is allowed.`,
      );
    if (kind === 'creek') add('creek', false, `It wades ${name}: gravel and water are loud.`);
  }
  if (way.acrossNeighbour > 0)
    add(
      'neighbour',
      false,
      `It runs ${formatLength(way.acrossNeighbour, units)} on ground that is not yours.`,
    );
  return faults.sort((a, b) => Number(b.grave) - Number(a.grave));
}

const inWords = (minutes: number): string =>
  minutes < 1 ? `${Math.max(5, Math.round((minutes * 60) / 5) * 5)} s` : `${minutes.toFixed(1)} min`;
