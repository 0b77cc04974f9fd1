import { LOOK_NEEDS, SIGHT_NEEDS } from '../../../core/analysis/steps/stands.ts';
import type { Units } from '../../../core/features/units.ts';
import { part } from '../../../core/grid/progress.ts';
import { approachTo } from '../../../core/stands/approach.ts';
import { closeGround } from '../../../core/stands/closed-ground.ts';
import { readyGround, type Walk } from '../../../core/stands/judge-way.ts';
import { lookFrom } from '../../../core/stands/look.ts';
import type { QuietGround } from '../../../core/stands/quiet-ground.ts';
import { standReaches } from '../../../core/stands/reaches.ts';
import type { StandSettings } from '../../../core/stands/settings.ts';
import { type WayRules, wayOptions } from '../../../core/stands/sitting.ts';
import { standWays, type WayNeed } from '../../../core/stands/stand-ways.ts';
import type { Leaves, StandSpot, Weapon } from '../../../core/stands/types.ts';
import { walkAir } from '../../../core/stands/walk-price.ts';
import { defineInquiry } from './inquiry.ts';

/** What ways in are looked for on. */
export const WAY_NEEDS = [...SIGHT_NEEDS, 'areas', 'travelAreas', 'routes', 'necks', 'airBearing'] as const;

/** Reach, view, lanes, line of fire and concealment of one spot. */
export const look = defineInquiry({
  needs: LOOK_NEEDS,
  run(
    inputs,
    {
      spot,
      leaves,
      settings,
      units,
    }: { spot: StandSpot; leaves: Leaves; settings: StandSettings; units: Units },
  ) {
    const { reach, grid } = lookFrom(spot, inputs, settings, units, leaves);
    return { reach, codes: grid.codes };
  },
});

/** What every stand of the map reaches, as the scout's own step finds it. */
export const reaches = defineInquiry({
  needs: LOOK_NEEDS,
  run: (inputs, { stands, usual, units }: { stands: StandSettings; usual: Weapon | null; units: Units }) => ({
    reaches: standReaches(inputs, stands, usual, units),
  }),
});

/** The walk as it is asked for: the wind by where it goes on the grid, or null for a calm. */
export type WalkAsked = Omit<Walk, 'air'> & { towards: number | null };

/** Ways to one spot, with what they cost. */
export const approach = defineInquiry({
  needs: WAY_NEEDS,
  run(
    inputs,
    asked: { spot: StandSpot; walk: WalkAsked; leaves: Leaves; closed: QuietGround[]; units: Units },
    progress,
  ) {
    const { spot, walk, leaves, closed, units } = asked;
    const { towards, ...rest } = walk;
    progress(0.05);
    const ready = closeGround(readyGround(inputs, leaves), closed);
    progress(0.6);
    return approachTo(spot, ready, { ...rest, air: walkAir(towards, rest.time, inputs.airBearing) }, units);
  },
});

/** The best way to each of some stands at the times and in the winds they are needed for. */
export const ways = defineInquiry({
  needs: WAY_NEEDS,
  run(
    inputs,
    asked: {
      spots: StandSpot[];
      needs: WayNeed[][];
      rules: WayRules;
      leaves: Leaves;
      closed: QuietGround[];
      units: Units;
    },
    progress,
  ) {
    const { spots, needs, rules, leaves, closed, units } = asked;
    const ready = closeGround(readyGround(inputs, leaves), closed);
    const options = wayOptions(inputs, rules);
    return { ways: standWays(spots, needs, ready, options, units, part(progress, 0.1, 1)) };
  },
});
