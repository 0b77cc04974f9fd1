import type { Units } from '../../../core/features/units.ts';
import { lookFrom } from '../../../core/stands/look.ts';
import type { StandSettings } from '../../../core/stands/settings.ts';
import type { Leaves, StandSpot } from '../../../core/stands/types.ts';
import { defineInquiry } from './inquiry.ts';

/** What everything about a stand's sight rests on. */
const SIGHT_NEEDS = ['elevation', 'cover', 'screening', 'vegetation', 'features'] as const;

/** Reach, view, lanes, line of fire and concealment of one spot. */
export const look = defineInquiry({
  needs: [...SIGHT_NEEDS, 'corridors', 'necks', 'junctions', 'routes'],
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
