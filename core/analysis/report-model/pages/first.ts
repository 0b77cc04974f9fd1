import { decimal } from '../../../features/units.ts';
import type { ReportPage } from '../../report.ts';
import type { Facts } from '../facts.ts';
import { dollars, gainedInWords, gainInWords, hours } from '../money.ts';
import { left, right, table } from '../table.ts';

/** Which jobs come first for what can be spent, and what they ask for in the years after. */
export function firstPage({ work, settings }: Facts): ReportPage {
  const jobs = new Map(work.jobs.map((job) => [job.id, job]));
  const name = (id: string): string => jobs.get(id)?.name ?? id;
  const { budget, crewDays } = settings.plan;
  const ratio = (value: number | null): string => (value === null ? '–' : decimal(value, 2));
  return {
    topic: 'first',
    title: 'What first',
    map: null,
    paragraphs: [
      budget === null && crewDays === null
        ? 'No budget and no number of crew days was set, so everything falls into the first year.'
        : `For ${[budget === null ? null : dollars(budget), crewDays === null ? null : `${crewDays} crew days`].filter(Boolean).join(' and ')} a year.`,
      ...(work.gained
        ? [
            `Gain is in ${work.gained.unit}, in brackets the least and the most; a job is put with everything without which it is worth nothing. ${gainedInWords(work.gained)}`,
            ...work.gained.notes,
          ]
        : [
            'What each job gains has not been computed, so jobs stand in the order of the work and not of their worth.',
          ]),
    ],
    tables: [
      ...table(
        'In order',
        [
          left('Job'),
          left('When'),
          right('Gain'),
          right('For $1,000'),
          right('For an hour'),
          left('Worth nothing without'),
          left('Why here'),
        ],
        work.ranked.map((row) => [
          name(row.job),
          row.when,
          gainInWords(row.gain),
          ratio(row.perThousandDollars),
          ratio(row.perHour),
          row.needs.map(name).join(', ') || '–',
          row.why,
        ]),
      ),
      ...table(
        'Upkeep, years 2 to 5',
        [right('Year'), left('Job'), left('What'), right('Hours'), right('Money')],
        work.upkeep.map(({ job, year, task, hours: h, money }) => [
          String(year),
          name(job),
          task,
          hours(h),
          dollars(money),
        ]),
      ),
    ],
    doubts: ['Shares of the first year’s hours and money that upkeep takes are our assumption.'],
    cautions: [],
  };
}
