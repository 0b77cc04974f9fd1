import { LOOK_NEEDS } from '../../../core/analysis/steps/stands.ts';
import type { Units } from '../../../core/features/units.ts';
import { part } from '../../../core/grid/progress.ts';
import { readyGround } from '../../../core/stands/judge-way.ts';
import { lookFrom } from '../../../core/stands/look.ts';
import type { StandSettings } from '../../../core/stands/settings.ts';
import { type PartWinds, type WayRules, wayOptions, waysOfParts } from '../../../core/stands/sitting.ts';
import type { StandSpot } from '../../../core/stands/types.ts';
import { defineInquiry } from './inquiry.ts';

/** What everything about a stand but the air rests on. */
const SITTING_NEEDS = [...LOOK_NEEDS, 'areas', 'travelAreas', 'airBearing'] as const;

/** What each spot reaches, and the ways to it for every part of the day. */
export const sittings = defineInquiry({
  needs: SITTING_NEEDS,
  run(
    inputs,
    {
      spots,
      winds,
      settings,
      way,
      units,
    }: {
      spots: StandSpot[];
      /** Of each spot, the wind each part of the day is walked in. */
      winds: PartWinds[];
      settings: StandSettings;
      way: WayRules;
      units: Units;
    },
    progress,
  ) {
    const ready = readyGround(inputs, settings.leaves);
    const options = wayOptions(inputs, way);
    const report = part(progress, 0.1, 1);
    return {
      sittings: spots.map((spot, k) => {
        report(k / spots.length);
        const { reach } = lookFrom(spot, inputs, settings, units);
        return { reach, ways: waysOfParts(spot, ready, winds[k]!, options, units) };
      }),
    };
  },
});
