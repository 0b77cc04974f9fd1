import { capital } from '../../../features/units.ts';
import { cautionsOf } from '../../../plan/cautions.ts';
import { KIND_TITLE } from '../../../plan/jobs.ts';
import type { Total } from '../../../plan/types.ts';
import type { ReportPage } from '../../report.ts';
import type { Facts } from '../facts.ts';
import { count } from '../facts.ts';
import { dollars, hours, inOneLine } from '../money.ts';
import { left, right, table } from '../table.ts';

/** The work list: what is to be done, how much of everything, hours and money. */
export function workPage({ work }: Facts): ReportPage {
  const open = work.jobs.filter(({ done }) => done === null);
  const done = work.jobs.length - open.length;
  const { all } = work.totals;
  return {
    topic: 'work',
    title: 'Work list',
    map: { grids: ['shade'], lines: ['drainage', 'features', 'necks'], low: true },
    paragraphs: [
      open.length === 0
        ? 'Nothing is proposed yet: draw what you would change, and quantities, hours, money and dates come here.'
        : `${count(open.length, 'job')} to do${done > 0 ? `, ${done} done` : ''}: about ${hours(all.hours)} and ${dollars(all.money)}${all.open > 0 ? `, without ${count(all.open, 'job')} that cannot be priced yet` : ''}. Lengths and areas are measured on the map, level; on a slope there is more.`,
    ],
    tables: [
      ...table(
        'What is to be done',
        [
          left('Job'),
          left('Kind'),
          left('Quantities'),
          right('Hours'),
          right('Material'),
          right('Money'),
          left('Owner'),
          left('Due'),
          left('Done'),
        ],
        work.jobs.map((job) => [
          job.name,
          KIND_TITLE[job.kind],
          inOneLine(job),
          hours(job.hours),
          dollars(job.money.material),
          dollars(job.money.total),
          job.owner ?? '',
          job.due ?? '',
          job.done ?? '',
        ]),
      ),
      ...table(
        'Why the program drafted it, as computed on that day',
        [left('Job'), left('Why')],
        work.jobs.flatMap(({ name, why }) => (why ? [[name, why]] : [])),
      ),
      ...table(
        'As built',
        [left('Job'), left('Done'), right('Planned'), right('Built')],
        work.jobs.flatMap(({ name, done: day, built }) =>
          built ? [[name, day ?? '', built.planned, built.built]] : [],
        ),
      ),
      ...sums('By crew', work.totals.byCrew),
      ...sums('By season', work.totals.bySeason),
      ...table(
        'To find out first',
        [left('Job'), left('What is not known')],
        open
          .filter(({ unknown }) => unknown.length > 0)
          .map(({ name, unknown }) => [name, unknown.join(' ')]),
      ),
      ...table(
        'Proposed, without quantities in this version',
        [left('Name'), left('Kind')],
        work.unpriced.map(({ name, kind }) => [name, kind]),
      ),
      ...table(
        'Rates these rest on',
        [left('Rate'), right('Value'), left('Unit'), left('Source')],
        work.rates
          .filter(({ used }) => used)
          .map(({ label, typed, unitText, source, changed }) => [
            label,
            String(typed),
            unitText,
            changed ? 'set for this property' : source,
          ]),
      ),
    ],
    doubts: [
      'Hours are for middling ground and growth; the first job tells more than any table. Money is for comparing jobs: get quotes.',
    ],
    cautions: [...new Set(work.jobs.flatMap(({ kind }) => cautionsOf(kind)))],
  };
}

const sums = (caption: string, totals: readonly Total[]) =>
  table(
    caption,
    [left(capital(caption.replace('By ', ''))), right('Jobs'), right('Hours'), right('Money')],
    totals.map((total) => [total.name, String(total.jobs), hours(total.hours), dollars(total.money)]),
  );
