import { dayPart } from '../../../core/air/season.ts';
import type { CaseVerdict } from '../../../core/stands/case-verdict.ts';
import { type LoggedSit, loggedSits, scoreLog } from '../../../core/stands/hunt-log.ts';
import { observationsOf } from '../../../core/stands/observations.ts';
import { standSpots } from '../../../core/stands/spot.ts';
import { type Visit, visitsOf } from '../../../core/stands/visits.ts';
import { type Handlers, opened } from '../context.ts';
import type { LogRow } from '../log-answers.ts';
import type { OpenProperty } from '../open-property.ts';
import { timeOf } from '../standard-time.ts';
import { casesWith } from '../verdict-prepared.ts';

const HOUR = 3_600_000;

/** The part of the day the middle of a sit falls in; null where its hours were not told. */
function partOf({ input: { frame } }: OpenProperty, { date, from, to }: Visit) {
  if (from === null) return null;
  const middle = to === null ? from : (from + to) / 2;
  return dayPart(timeOf(date, middle, frame.longitude) / HOUR, frame.longitude, frame.latitude);
}

const huntWord = ({ usual, keen, dull }: CaseVerdict['hunt']): 'yes' | 'doubtful' | 'no' =>
  !usual ? 'no' : keen && dull ? 'yes' : 'doubtful';

function rowOf(
  { visit, part, wind, expected, observations }: LoggedSit,
  names: ReadonlyMap<string, string>,
): LogRow {
  const name = visit.stand === null ? null : (names.get(visit.stand) ?? null);
  const silent =
    expected !== null
      ? null
      : name === null
        ? 'The stand of this sit is not on the map.'
        : part === null || wind === null
          ? 'Its hours or its wind were not told, so nothing can be expected.'
          : 'No verdict is made for that part of the day.';
  return {
    id: visit.id,
    date: visit.date,
    stand: visit.stand,
    name,
    from: visit.from,
    to: visit.to,
    part,
    wind,
    expected: expected && {
      hunt: huntWord(expected.hunt),
      clean: expected.clean?.usual ?? null,
      why: expected.why,
    },
    silent,
    observations,
  };
}

export const logHandlers: Handlers<'stands.log'> = {
  'stands.log': async (context) => {
    const property = opened(context);
    const started = performance.now();
    const { frame, sources, settings } = property.input;
    const visits = visitsOf(sources.features).filter(({ who }) => who === 'sit');
    const sat = new Set(visits.map(({ stand }) => stand));
    const spots = standSpots(frame, sources.features, settings.stands, settings.brief.weapon).filter(
      ({ id }) => sat.has(id),
    );
    const [stands, share] =
      spots.length === 0
        ? [[], Number.NaN]
        : await context.inquiring.within('stands.log', async (inquirer) => {
            const cases = await casesWith(inquirer, property, spots, [0, 0.9]);
            const { leaves } = settings.stands;
            const view = await inquirer.ask(property, 'stands.logView', { spots, leaves }, [0.9, 1]);
            return [cases, view.share] as const;
          });
    const sits = loggedSits(visits, observationsOf(sources.features), stands, (visit) =>
      partOf(property, visit),
    );
    const names = new Map(spots.map(({ id, name }) => [id, name]));
    return {
      sits: sits.map((sit) => rowOf(sit, names)).reverse(),
      scores: scoreLog(sits, property.artifacts.routes ?? [], Number.isNaN(share) ? null : share),
      notes: [
        'What is logged is what was noticed: deer that were not seen are not in it, and hunters sit where and when they like to.',
        'A difference is put down to luck unless luck gives one as unlikely less than once in twenty (exact tests of small counts); fewer than eight of anything is too few to say: our choice.',
        'The verdict is the one of today’s map and rules, not the one of the day of the sit.',
      ],
      seconds: (performance.now() - started) / 1000,
    };
  },
};
