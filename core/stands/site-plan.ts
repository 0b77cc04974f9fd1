import type { Feature } from '../features/feature.ts';
import { distanceTo } from '../grid/distance.ts';
import { type Flow, passageOf, shareAcross } from '../travel/flow.ts';
import { findJunctions } from '../travel/junctions.ts';
import { type PlanInputs, planPairs } from '../travel/plan-travel.ts';
import { sampleRoutes } from '../travel/routes.ts';
import type { Junction, Neck, Route, TravelArea } from '../travel/types.ts';
import { solveBuilt } from '../travel/what-if.ts';
import { huntRoutes } from './hunt-routes.ts';

/** Travel as sites are searched for on it. */
export interface SiteTravelGround {
  features: readonly Feature[];
  travelAreas: readonly TravelArea[];
  necks: readonly Neck[];
  junctions: readonly Junction[];
  routes: readonly Route[];
  walked: readonly Route[];
}

/** Travel as it is today. */
export const travelToday = (
  inputs: Omit<SiteTravelGround, 'walked'> & { todayTravel: { flow: Flow } },
  seed: number,
): SiteTravelGround => ({
  ...inputs,
  walked: huntRoutes(inputs.todayTravel.flow, inputs.travelAreas, seed),
});

/**
 * Travel with everything a plan proposes built. Its necks are those of today with the shares they then have; its
 * junctions are found anew.
 *
 * @param features everything that exists with what the plan proposes
 */
export function travelPlanned(
  inputs: Omit<PlanInputs, 'necks'> & { necks: readonly Neck[] },
  features: readonly Feature[],
  seed: number,
): SiteTravelGround {
  const given = planPairs({ ...inputs, features: [...features] });
  const built = solveBuilt(given, inputs.todayTravel);
  const travelAreas = [...inputs.travelAreas, ...built.ends];
  const { flow } = built;
  const junctions = findJunctions(
    flow,
    passageOf(flow, built.ground),
    distanceTo(flow.frame, built.areas),
    built.features,
  );
  return {
    features,
    travelAreas,
    necks: inputs.necks.map((neck) => ({ ...neck, share: shareAcross(flow, neck.line).share })),
    junctions,
    routes: sampleRoutes(flow, travelAreas, seed),
    walked: huntRoutes(flow, travelAreas, seed),
  };
}
