import { pathsOf } from '../../../core/features/shapes.ts';
import { formatLength, YARD } from '../../../core/features/units.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { COARSE } from '../../../core/stands/coarse.ts';
import { WALKER } from '../../../core/stands/scent-way.ts';
import { smelledSentences } from '../../../core/stands/smelled-words.ts';
import { draggedSentences, tellFirst } from '../../../core/travel/dragged-words.ts';
import { passesSentence, TOO_LITTLE, wayWords, whenOf } from '../../../core/travel/onward-words.ts';
import { polygonOf } from '../../writers/rings.ts';
import { coarseNotes, NOSE_NOTE, windWords } from '../air-words.ts';
import { type Handlers, opened } from '../context.ts';
import { checkFeature } from '../features.ts';
import { handAirOf } from '../hand-air.ts';
import { clockOf, timeOf, zoneName } from '../standard-time.ts';
import { momentOf, triedOf } from '../today.ts';
import { builtBands } from '../what-if.ts';

/** A deer is followed so far, m: 300 yd, our choice. */
const AHEAD = 300 * YARD;

const BOTH_WAYS =
  'As many deer are taken to go one way as the other between two areas, dusk and dawn together: our assumption.';

export const handHandlers: Handlers<'hand.onward' | 'hand.air' | 'hand.smelled' | 'hand.dragged'> = {
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

  'hand.air': (context, asked) => {
    const property = opened(context);
    return context.inquiring.within('hand.air', async (inquirer) => {
      await handAirOf({ context, property, inquirer }, asked);
      return { ready: true } as const;
    });
  },

  'hand.smelled': (context, { x, y, ...asked }) => {
    const property = opened(context);
    const { units } = property.input.settings;
    const { longitude } = property.input.frame;
    return context.inquiring.within('hand.smelled', async (inquirer) => {
      const { hour, local, pools } = await handAirOf({ context, property, inquirer }, asked);
      const found = await inquirer.ask(property, 'hand.smelled', { at: [x, y], hour, local, pools });
      const clock = clockOf(timeOf(asked.date, asked.hour, longitude), longitude);
      return {
        when: `${asked.date} at ${clock} ${zoneName(longitude)}, ${windWords(asked, units)}`,
        sentences: smelledSentences(found, units),
        notes: [
          `${NOSE_NOTE} A person on foot, scent let go ${formatLength(WALKER, units, 'height')} above ground; a first look with few particles, and without what a creek does.`,
          ...coarseNotes(property),
        ],
        carry: found.carry.usual,
        bearing: found.bearing,
        necks: found.necks,
        keen: found.keen.length > 0 ? polygonOf(found.keen) : null,
        usual: found.usual.length > 0 ? polygonOf(found.usual) : null,
      };
    });
  },

  'hand.dragged': async (context, { feature, neck }) => {
    const property = opened(context);
    const started = performance.now();
    const tried = triedOf(property);
    const moved = checkFeature(feature);
    const line = pathsOf(moved.geometry).flat();
    const features = [...property.input.sources.features.filter(({ id }) => id !== moved.id), moved];
    const found = await context.inquiring.within('hand.dragged', async (inquirer) => {
      const bands = await builtBands(inquirer, property, { ...tried, moment: momentOf(property), features });
      return inquirer.ask(property, 'hand.dragged', { bands, line });
    });
    // The next place of the drag is near this one.
    if (property.tried) property.tried.found = { ...property.tried.found, last: found.last };
    const necks = tellFirst(found.necks, neck);
    return {
      moved: found.moved,
      necks,
      line: found.line,
      sentences: draggedSentences(found),
      seconds: (performance.now() - started) / 1000,
    };
  },
};
