import { type Progress, part } from '../../../core/grid/progress.ts';
import type { Window } from '../../../core/stands/calendar.ts';
import { type CaseOptions, standCases } from '../../../core/stands/case-verdict.ts';
import { huntAir } from '../../../core/stands/hunt-air.ts';
import { huntRoutes } from '../../../core/stands/hunt-routes.ts';
import { reachMask, subjectOf } from '../../../core/stands/reach-mask.ts';
import type { SeasonAir } from '../../../core/stands/scent-study.ts';
import type { Leaves, StandSpot } from '../../../core/stands/types.ts';
import { defineInquiry } from './inquiry.ts';

/** What the fate of travel at a stand rests on. */
export const VERDICT_NEEDS = [
  'elevation',
  'cover',
  'canopy',
  'screening',
  'vegetation',
  'poolDepth',
  'wind',
  'areas',
  'travelAreas',
  'todayTravel',
  'channels',
  'features',
] as const;

/** What every question of verdicts says besides which stands. */
export interface Hunt {
  /** Air of the season made before, or null to make it and hand it back. */
  air: SeasonAir | null;
  season: Window;
  cooling: number;
  leaves: Leaves;
  rules: CaseOptions['hunt'];
  /** Of the routes that are drawn from the flow. */
  seed: number;
}

/**
 * Works something out for each of some stands in the air of the season, which is made where it is not there yet and
 * then handed back.
 *
 * @param share of the work that goes into making the air
 */
export function inSeasonAir<Found>(
  inputs: Parameters<typeof huntAir>[0],
  { spots, hunt }: { spots: StandSpot[]; hunt: Hunt },
  share: number,
  progress: Progress,
  work: (spot: StandSpot, air: SeasonAir, told: Progress) => Found,
): { stands: Found[]; air: SeasonAir | null } {
  const air = hunt.air ?? huntAir(inputs, hunt.season, hunt.cooling, part(progress, 0, share));
  const from = hunt.air ? 0 : share;
  const at = (done: number): number => from + ((1 - from) * done) / spots.length;
  const stands = spots.map((spot, k) => work(spot, air, part(progress, at(k), at(k + 1))));
  return { stands, air: hunt.air ? null : air };
}

/** Share of the work that goes into the air of the season. */
const AIR = 0.5;

/** The fate of all expected travel at some stands under every wind. */
export const cases = defineInquiry({
  needs: VERDICT_NEEDS,
  run(inputs, asked: { spots: StandSpot[]; hunt: Hunt }, progress) {
    const { rules, leaves, seed } = asked.hunt;
    const ground = { ...inputs, routes: huntRoutes(inputs.todayTravel.flow, inputs.travelAreas, seed) };
    return inSeasonAir(inputs, asked, AIR, progress, (spot, air, told) => {
      const given = { ...inputs, ground, reach: reachMask(inputs, spot, leaves) };
      return standCases(subjectOf(spot), given, air, { hunt: rules }, told);
    });
  },
});
