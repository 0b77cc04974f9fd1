import { ofKind } from '../../core/features/feature.ts';
import { Problem } from '../../core/grid/problem.ts';
import { spotOf, trialSpot } from '../../core/stands/spot.ts';
import type { StandSpot } from '../../core/stands/types.ts';
import type { RequestParams } from './contract.ts';
import type { OpenProperty } from './open-property.ts';

type Tried = Pick<RequestParams<'stands.look'>, 'stand' | 'at' | 'seatHeight' | 'weapon' | 'range'>;

/**
 * The stand or spot that is asked about, with what is tried out laid over what it has.
 *
 * @throws Problem when there is neither a stand nor a spot
 */
export function spotAsked({ input }: OpenProperty, asked: Tried): StandSpot {
  const { stands: settings, brief } = input.settings;
  const stands = ofKind(input.sources.features, 'stand');
  const k = stands.findIndex(({ id }) => id === asked.stand);
  const own = k < 0 ? null : spotOf(stands[k]!, stands[k]!.name ?? `Stand ${k + 1}`, settings, brief.weapon);
  if (asked.stand !== null && !own)
    throw new Problem('That stand is not on the map.', { fix: 'Choose one that is drawn.' });
  const spot = own ?? (asked.at && trialSpot(asked.at, settings, brief.weapon));
  if (!spot)
    throw new Problem('No stand and no spot was given.', { fix: 'Choose a stand or click on the map.' });
  const weapon = asked.weapon ?? spot.weapon;
  // Another weapon reaches as far as that weapon does.
  const range = asked.range ?? (weapon === spot.weapon ? spot.range : settings.range[weapon]);
  return {
    ...spot,
    at: asked.at ?? spot.at,
    seatHeight: asked.seatHeight ?? spot.seatHeight,
    seatKnown: asked.seatHeight !== null || spot.seatKnown,
    weapon,
    range,
  };
}
