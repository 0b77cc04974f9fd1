import type { HuntedPart } from '../stands/case-verdict.ts';
import { type CleanSits, NOSES, type Nose, type ScentMask } from '../stands/scent-mask.ts';
import { WINDS } from '../stands/scent-study.ts';

/**
 * Clean hours a season, by nose. One hunter sits every lawful hour of the season at the stand that is best in the wind
 * of that hour, or stays home. An hour counts by the share of all travel expected then that comes in reach and in clear
 * view before it meets the hunter's scent: an hour in which a fifth of it does counts a fifth. An hour that the stand's
 * verdict advises against (scent on bedding, air that hangs, too much spoilt, no clean way in or out) counts nothing.
 */
export type CleanHours = Record<Nose, number>;

/**
 * Lawful hours a season of each case of a stand.
 *
 * @param lawful hours a week of each part of the day
 * @param days of the season
 */
export function hoursOfCases(
  cases: readonly Pick<ScentMask['cases'][number], 'part' | 'share'>[],
  lawful: Record<HuntedPart, number>,
  days: number,
): number[] {
  const known = cases.some(({ share }) => share !== null);
  return cases.map(({ part, share }) => {
    const ofPart = known ? (share ?? 0) : 1 / WINDS.length;
    return (lawful[part] * days * ofPart) / 7;
  });
}

/** @param stands with the same cases, those that stand in the plan */
export function cleanHours(stands: readonly CleanSits[], hours: readonly number[]): CleanHours {
  const sum = (nose: Nose): number =>
    hours.reduce((total, of, k) => total + of * Math.max(0, ...stands.map((each) => each[nose][k]!)), 0);
  return Object.fromEntries(NOSES.map((nose) => [nose, sum(nose)])) as CleanHours;
}
