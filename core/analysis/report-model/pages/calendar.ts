import { KIND_TITLE } from '../../../plan/jobs.ts';
import { CALENDAR_SOURCES } from '../../../plan/windows.ts';
import type { ReportPage } from '../../report.ts';
import { CAUTIONS } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import { fullDay, monthDay, spansInWords } from '../money.ts';
import { left, right, table } from '../table.ts';

/** When each job is done, in what order, and why then. */
export function calendarPage({ work, settings }: Facts): ReportPage {
  const { calendar } = work;
  const jobs = new Map(work.jobs.map((job) => [job.id, job]));
  const days = settings.plan.calendar;
  const dated = [...calendar.jobs].sort((a, b) => (a.from ?? '9').localeCompare(b.from ?? '9'));
  const late = dated.filter(({ beforeFirstSit }) => !beforeFirstSit);
  return {
    topic: 'calendar',
    title: 'Calendar',
    map: null,
    strip: calendar.strip,
    paragraphs: [
      `From ${fullDay(calendar.start)} to the first sit on ${fullDay(calendar.firstSit)}: access before cutting, cutting before planting, everything in place before the ground is left alone ${days.settle} days ahead of the season.`,
      ...(late.length > 0
        ? [`Not ready for that first sit: ${late.map(({ job }) => jobs.get(job)?.name ?? job).join(', ')}.`]
        : []),
      ...calendar.notes,
    ],
    tables: [
      ...table(
        'Days of each job',
        [
          left('Job'),
          left('Kind'),
          left('From'),
          left('To'),
          right('Days'),
          left('May be done'),
          left('Why then'),
        ],
        dated.map((row) => [
          jobs.get(row.job)?.name ?? row.job,
          KIND_TITLE[jobs.get(row.job)!.kind],
          row.from ? fullDay(row.from) : 'no date',
          row.to ? fullDay(row.to) : 'no date',
          row.days === null ? 'not known' : String(row.days),
          spansInWords(row.windows),
          row.reasons.join(' '),
        ]),
      ),
      ...table(
        'Days the calendar rests on',
        [left('What'), left('Days'), left('Source')],
        [
          ['Last frost', monthDay(days.lastFrost), CALENDAR_SOURCES.lastFrost],
          ['First frost', monthDay(days.firstFrost), CALENDAR_SOURCES.firstFrost],
          ['Season', spansInWords([days.season]), CALENDAR_SOURCES.season],
          ['Trees without leaves', spansInWords([days.dormant]), CALENDAR_SOURCES.dormant],
          ['Birds nest', spansInWords([days.nesting]), CALENDAR_SOURCES.nesting],
          ['Bats roost in trees', spansInWords([days.bats]), CALENDAR_SOURCES.bats],
        ],
      ),
    ],
    doubts: [
      'The days of frost, nesting, roosting and season here are defaults until they are set for this place.',
    ],
    cautions: [CAUTIONS.season],
  };
}
