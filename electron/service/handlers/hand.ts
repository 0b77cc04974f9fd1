import { formatLength, YARD } from '../../../core/features/units.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { COARSE } from '../../../core/stands/coarse.ts';
import { passesSentence, TOO_LITTLE, wayWords, whenOf } from '../../../core/travel/onward-words.ts';
import { type Handlers, opened } from '../context.ts';
import { momentOf } from '../today.ts';

/** A deer is followed so far, m: 300 yd, our choice. */
const AHEAD = 300 * YARD;

const BOTH_WAYS =
  'As many deer are taken to go one way as the other between two areas, dusk and dawn together: our assumption.';

export const handHandlers: Handlers<'hand.onward'> = {
  'hand.onward': async (context, { x, y, ahead = AHEAD }) => {
    const property = opened(context);
    const { units } = property.input.settings;
    const { over, cellSize, pairs, ...found } = await context.inquiring.ask(property, 'hand.onward', {
      at: [x, y],
      ahead,
      moment: momentOf(property),
    });
    if (pairs === 0)
      throw new Problem('No travel runs between any two areas of this map.', {
        fix: 'Draw bedding or food, or look at a larger map.',
      });
    const areas = property.artifacts.travelAreas ?? [];
    const told = found.share >= TOO_LITTLE;
    return {
      share: found.share,
      reach: found.reach,
      ahead,
      ways: told
        ? found.ways.map((way, k) => ({
            share: way.share,
            bearing: way.bearing,
            path: way.path,
            when: whenOf(way, areas),
            words: wayWords(way, over[k]!, areas),
          }))
        : [],
      stays: told ? found.stays : 0,
      sentence: passesSentence(found, found.reach, units),
      notes: [
        BOTH_WAYS,
        ...(cellSize > COARSE
          ? [
              `Travel is solved on cells of ${formatLength(cellSize, units)}, which show no trail a deer would walk: these are large directions only.`,
            ]
          : []),
      ],
    };
  },
};
