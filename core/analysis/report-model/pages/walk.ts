import type { ReportPage } from '../../report.ts';
import { CAUTIONS } from '../cautions.ts';
import { count, type Facts, position } from '../facts.ts';
import { left, right, table } from '../table.ts';

/** The walk list on paper. */
export function walkPage({ walk, say }: Facts): ReportPage {
  const { spots, elsewhere } = walk;
  return {
    topic: 'walk',
    title: 'Walk list',
    map: {
      grids: ['shade'],
      lines: ['contours', 'drainage', 'features'],
      low: true,
      marks: spots.map(({ at, number }) => ({ at, label: String(number) })),
    },
    paragraphs: [
      spots.length === 0
        ? 'Nothing here hinges on what only a walk can show.'
        : `${count(spots.length, 'stop')} where the answer hinges on what no photo or elevation shows, in walking order from ${walk.startName}: ${say.distance(walk.length)} as the crow flies, and back. What hinges on a stop is the share of all travel that would move with what is found there.`,
      'Take the wind into account even when scouting, and stay out of bedding in season. The same stops are in walk.gpx: a stop’s point brought back with one of the words under Found at the head of its description answers it.',
    ],
    tables: [
      ...table(
        'Stops in walking order',
        [right('Stop'), left('What and where'), right('Hinges'), left('Look for'), left('Found')],
        spots.map((spot) => [
          String(spot.number),
          `${spot.title}, ${position(spot.at)}. ${spot.why}`,
          spot.hinges === null ? 'not known' : say.share(spot.hinges),
          `${spot.look.join('; ')}. Photograph: ${spot.photograph.join('; ')}`,
          spot.found?.text ?? spot.choices.map(({ key, title }) => `[ ] ${key}: ${title}`).join(' '),
        ]),
      ),
      ...table(
        'On a neighbour’s ground: ask first, or look from the line',
        [left('What'), right('Hinges')],
        elsewhere.map(({ title, hinges }) => [title, hinges === null ? 'not known' : say.share(hinges)]),
      ),
    ],
    doubts: ['Legs between stops are straight on the map; the ground decides how they are walked.'],
    cautions: [CAUTIONS.neighbour, CAUTIONS.steep, CAUTIONS.water],
  };
}
