import { part } from '../../../core/grid/progress.ts';
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

/** Share of the work that goes into the air of the season where it is not there yet. */
const AIR = 0.5;

/** The fate of all expected travel at some stands under every wind. */
export const cases = defineInquiry({
  needs: VERDICT_NEEDS,
  run(inputs, { spots, hunt }: { spots: StandSpot[]; hunt: Hunt }, progress) {
    const air = hunt.air ?? huntAir(inputs, hunt.season, hunt.cooling, part(progress, 0, AIR));
    const from = hunt.air ? 0 : AIR;
    const routes = huntRoutes(inputs.todayTravel.flow, inputs.travelAreas, hunt.seed);
    const ground = { ...inputs, routes };
    const stands = spots.map((spot, k) => {
      const at = (share: number) => from + ((1 - from) * (k + share)) / spots.length;
      const given = { ...inputs, ground, reach: reachMask(inputs, spot, hunt.leaves) };
      return standCases(subjectOf(spot), given, air, { hunt: hunt.rules }, part(progress, at(0), at(1)));
    });
    return { stands, air: hunt.air ? null : air };
  },
});
