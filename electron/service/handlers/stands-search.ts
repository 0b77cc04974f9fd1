import { Problem } from '../../../core/grid/problem.ts';
import { comparedSentences, comparedStand } from '../../../core/stands/compare.ts';
import type { StandSpot } from '../../../core/stands/types.ts';
import { type Handlers, opened } from '../context.ts';
import { allSpots, lawfulOf, notesOf } from '../hunt-basis.ts';
import type { OpenProperty } from '../open-property.ts';
import { sittingsOf } from '../sittings.ts';
import type { StandsSearchAnswers } from '../stands-search-answers.ts';

/** How ways in are judged, in words. */
const WAY_NOTE =
  'The way in is judged on foot, for each part of the day in its commonest wind it can be hunted in: at dawn for the morning, at midday for midday and evening, and after dark for the way out in the evening.';

/** @throws Problem when a stand is gone */
function spotsAsked(property: OpenProperty, ids: readonly string[] | null): StandSpot[] {
  const spots = allSpots(property);
  if (ids === null) return spots;
  return ids.map((id) => {
    const spot = spots.find((each) => each.id === id);
    if (!spot) throw new Problem('That stand is not on the map.', { fix: 'Choose one that is drawn.' });
    return spot;
  });
}

export const standsSearchHandlers: Handlers<keyof StandsSearchAnswers> = {
  'stands.compare': async (context, { stands }) => {
    const property = opened(context);
    const started = performance.now();
    const { hunt, units } = property.input.settings;
    const spots = spotsAsked(property, stands);
    const sittings = await context.inquiring.within('stands.compare', (inquirer) =>
      sittingsOf(inquirer, property, spots),
    );
    const lawful = lawfulOf(property);
    const compared = sittings.map((each) => comparedStand(each, lawful));
    return {
      stands: compared,
      sentences: comparedSentences(compared, hunt.apart, units),
      cautions: sittings[0]?.reach.fire.cautions ?? [],
      notes: [WAY_NOTE, ...notesOf(property)],
      seconds: (performance.now() - started) / 1000,
    };
  },
};
