import { formatLength, formatShare, type Units } from '../features/units.ts';
import { HUNTED, type HuntedPart, type StandCases } from './case-verdict.ts';
import type { Band } from './clean-share.ts';
import { type PartWay, usableHours } from './sitting.ts';
import type { Concealment, StandReach, StandSpot } from './types.ts';
import type { StandVerdict } from './verdict.ts';

/** One stand as it is laid beside others. Lengths in m, shares 0..1; null is not known. */
export interface ComparedStand {
  id: string;
  name: string;
  at: StandSpot['at'];
  proposed: boolean;
  weapon: StandSpot['weapon'];
  range: number;
  seatHeight: number;
  /** Clean share over the hours it can be hunted, weighed by how often each wind blows; null where there are none. */
  clean: Band | null;
  verdict: Pick<StandVerdict, 'hours' | 'rested' | 'worth' | 'parts' | 'best' | 'spoils'>;
  /** Hours a week its wind lets it be hunted and a clean way leads there. */
  usable: number | null;
  shareInReach: number | null;
  shareInView: number | null;
  /** How long deer stay in reach and view on average, s. */
  inView: number | null;
  lanes: { count: number; clearest: number; toCut: number };
  /** Degrees of the circle in each state, and the closed ones gathered. */
  fire: StandReach['fire']['degrees'];
  closed: { from: number; to: number; why: string }[];
  ways: PartWay[];
  concealment: Pick<Concealment, 'seen' | 'skylined'> | null;
  /** What is not known of it, in words. */
  unknown: string[];
}

/** Everything computed of one stand. */
export interface Sitting {
  spot: StandSpot;
  cases: StandCases;
  verdict: StandVerdict;
  reach: StandReach;
  ways: PartWay[];
}

/** One stand with what is unknown of it said. */
export function comparedStand(
  { spot, cases, verdict, reach, ways }: Sitting,
  lawful: Record<HuntedPart, number>,
): ComparedStand {
  const { hours, rested, worth, parts, best, spoils } = verdict;
  const near = reach.concealment.directions.length > 0;
  return {
    id: spot.id,
    name: spot.name,
    at: spot.at,
    proposed: spot.proposed,
    weapon: spot.weapon,
    range: spot.range,
    seatHeight: spot.seatHeight,
    clean: cleanOverall(cases, lawful),
    verdict: { hours, rested, worth, parts, best, spoils },
    usable: usableHours(verdict, ways),
    shareInReach: reach.shareInReach,
    shareInView: reach.shareInView,
    inView: Number.isNaN(cases.inView) ? null : cases.inView,
    lanes: {
      count: reach.lanes.length,
      clearest: Math.max(0, ...reach.directions.map(({ clear }) => clear)),
      toCut: reach.lanes.reduce((sum, { cut }) => sum + cut, 0),
    },
    fire: reach.fire.degrees,
    closed: reach.fire.runs
      .filter(({ state }) => state === 'closed')
      .map(({ from, to, reasons }) => ({ from, to, why: reasons[0] ?? '' })),
    ways,
    concealment: near ? { seen: reach.concealment.seen, skylined: reach.concealment.skylined } : null,
    unknown: unknownOf(spot, verdict, reach, ways),
  };
}

/**
 * Mean clean share, with the means of its band's ends, over the cases that can be hunted, weighed by lawful hours and
 * by the record's share of each wind; without a record every wind and the calm count alike.
 */
export function cleanOverall({ cases }: StandCases, lawful: Record<HuntedPart, number>): Band | null {
  const sum = { usual: 0, low: 0, high: 0 };
  let all = 0;
  for (const part of HUNTED) {
    const here = cases.filter((each) => each.part === part);
    const known = here.some(({ share }) => share.share !== null);
    for (const { hunt, clean, share } of here) {
      if (!hunt.usual || !clean) continue;
      const weight = lawful[part] * (known ? (share.share ?? 0) : 1 / here.length);
      all += weight;
      for (const end of ['usual', 'low', 'high'] as const) sum[end] += weight * clean[end];
    }
  }
  return all > 0 ? { usual: sum.usual / all, low: sum.low / all, high: sum.high / all } : null;
}

function unknownOf(
  spot: StandSpot,
  { hours }: StandVerdict,
  { fire, shareInReach }: StandReach,
  ways: readonly PartWay[],
): string[] {
  const unknown: string[] = [];
  if (!hours) unknown.push('Without a wind record, how many hours it can be hunted.');
  if (shareInReach === null) unknown.push('Without drawn routes, how much travel it reaches.');
  if (ways.some(({ clean }) => clean === null))
    unknown.push('Where you come from: no access, gate or house is mapped, so no way in was looked for.');
  if (fire.degrees.unknown > 0)
    unknown.push(
      `What lies behind a deer in ${fire.degrees.unknown}° of the circle: the map ends there or is too coarse.`,
    );
  if (!spot.seatKnown) unknown.push('How high the seat is.');
  return unknown;
}

/**
 * What one stand has over the others, in a line each; empty with fewer than two.
 *
 * @param apart stands nearer than this are not sat together, m
 */
export function comparedSentences(stands: readonly ComparedStand[], apart: number, units: Units): string[] {
  if (stands.length < 2) return [];
  const sentences: string[] = [];
  const most = (measure: (stand: ComparedStand) => number | null) =>
    stands.reduce<{ stand: ComparedStand; value: number } | null>((best, stand) => {
      const value = measure(stand);
      return value !== null && value > 0 && (!best || value > best.value) ? { stand, value } : best;
    }, null);
  const worth = most(({ verdict }) => verdict.worth);
  if (worth)
    sentences.push(
      `${worth.stand.name} meets the most travel clean: ${formatShare(worth.value)} on average over all hours of light, hunted or not.`,
    );
  else sentences.push('None of them meets travel clean in any wind.');
  const hours = most(({ verdict }) => verdict.hours?.usual ?? null);
  if (hours)
    sentences.push(`${hours.stand.name} can be hunted the most hours: ${hours.value.toFixed(1)} a week.`);
  const clean = stands.filter(({ ways }) => ways.some((way) => way.clean));
  const lost = stands.filter(({ ways }) => ways.length > 0 && ways.every((way) => way.clean === false));
  if (lost.length > 0)
    sentences.push(
      clean.length > 0
        ? `Only ${clean.map(({ name }) => name).join(' and ')} can be walked to cleanly at some part of the day.`
        : 'None of them has a clean way in at any part of the day.',
    );
  const near = nearest(stands);
  if (near && near.distance < apart)
    sentences.push(
      `${near.names.join(' and ')} stand ${formatLength(near.distance, units)} apart: they hunt the same deer.`,
    );
  return sentences;
}

function nearest(stands: readonly ComparedStand[]): { names: [string, string]; distance: number } | null {
  let best: { names: [string, string]; distance: number } | null = null;
  stands.forEach((a, i) => {
    for (const b of stands.slice(i + 1)) {
      const distance = Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]);
      if (!best || distance < best.distance) best = { names: [a.name, b.name], distance };
    }
  });
  return best;
}
