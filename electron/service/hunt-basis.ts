import { formatShare, formatSpeed } from '../../core/features/units.ts';
import { Problem } from '../../core/grid/problem.ts';
import { HUNTED } from '../../core/stands/case-verdict.ts';
import { lawfulHours, lightNote } from '../../core/stands/legal-light.ts';
import { NOSE_THRESHOLD } from '../../core/stands/scent.ts';
import { standSpots } from '../../core/stands/spot.ts';
import type { StandSpot } from '../../core/stands/types.ts';
import type { OpenProperty } from './open-property.ts';

/** What every answer about hunting rests on: place, light, the stands, and the words for it. */

export const placeOf = ({ input, artifacts }: OpenProperty) => {
  const { longitude, latitude, width, height } = input.frame;
  const middle = artifacts.elevation?.cells[Math.floor(height / 2) * width + Math.floor(width / 2)];
  return { longitude, latitude, elevation: middle !== undefined && Number.isFinite(middle) ? middle : 0 };
};

export const ruleOf = ({ input }: OpenProperty) => ({
  before: input.settings.hunt.lightBefore,
  after: input.settings.hunt.lightAfter,
});

/** Lawful hours a week of each part of the day over the season, none of a part nobody can hunt. */
export function lawfulOf(property: OpenProperty) {
  const { season, parts } = property.input.settings.hunt;
  const hours = lawfulHours(season, placeOf(property), ruleOf(property));
  for (const part of HUNTED) if (!parts.includes(part)) hours[part] = 0;
  return hours;
}

/** What every verdict rests on, in words. */
export function notesOf(property: OpenProperty): string[] {
  const { hunt, stands } = property.input.settings;
  return [
    lightNote(ruleOf(property)),
    `Deer walk ${formatSpeed(hunt.pace, property.input.settings.units)} (our assumption) along routes drawn from the flow of travel; a route is clean when it is in range and clear view before its first step in scent.`,
    `A deer takes note of scent over ${NOSE_THRESHOLD.usual} s/m³ (band ${NOSE_THRESHOLD.low} to ${NOSE_THRESHOLD.high}): our assumption. The band also holds travel of unknown direction and how few routes stand for the travel.`,
    `A wind can be hunted when at most ${formatShare(hunt.spoilt)} of the travel that would come in reach meets the scent first, at most ${formatShare(hunt.alarm)} of all travel meets it anywhere, and none reaches bedding: our assumption.`,
    `Leaves are ${stands.leaves === 'on' ? 'on' : 'down'}. Each wind blows at its mean speed under a clear sky; one day stands for the season.`,
    'Left out: gusts and swings of the wind, scent left on the ground, other hunters, cloud and rain, and deer that have learned the stand.',
    'The clean share is of the travel this program expects, not a count of deer, and says nothing of whether a shot is safe.',
  ];
}

/** All stands of the map; a Problem where there is none. */
export function allSpots({ input }: OpenProperty): StandSpot[] {
  const spots = standSpots(
    input.frame,
    input.sources.features,
    input.settings.stands,
    input.settings.brief.weapon,
  );
  if (spots.length === 0)
    throw new Problem('There is no stand on the map.', { fix: 'Draw a stand, or search for a site.' });
  return spots;
}
