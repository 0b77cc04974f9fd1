import { lineNote } from '../../../plan/brief.ts';
import { KIND_TITLE } from '../../../plan/jobs.ts';
import type { ReportPage } from '../../report.ts';
import { CAUTIONS } from '../cautions.ts';
import { changesSince, editionName, firstChanges } from '../changes.ts';
import type { Edition } from '../edition.ts';
import type { Facts } from '../facts.ts';
import { dollars, fullDay, hours } from '../money.ts';
import { left, right, table } from '../table.ts';
import { crossingLine, neckLine, planLines, standLine } from './overview.ts';

const FINDINGS = 3;
const JOBS = 5;
const UNKNOWNS = 4;
const CHANGES = 3;

/** The first page: what a landowner grasps in a minute. */
export function frontPage(facts: Facts, edition: Edition): ReportPage {
  const { settings, artifacts, work, missing, walk } = facts;
  const { brief } = settings;
  const dates = new Map(work.calendar.jobs.map((row) => [row.job, row]));
  const names = new Map(work.jobs.map((job) => [job.id, job]));
  const findings = [
    ...planLines(facts),
    neckLine(artifacts.necks, facts),
    standLine(facts),
    crossingLine(facts),
  ];
  const soft = artifacts.necks.filter(({ firm }) => !firm).length;
  const note = lineNote(brief);
  return {
    topic: 'front',
    title: settings.name,
    map: { grids: ['shade', 'passage'], lines: ['features', 'corridors', 'necks', 'stand-risks'], low: true },
    beside: {
      caption: 'This report',
      columns: [left('What'), left('Here')],
      rows: [
        ...(brief.client ? [['For', brief.client]] : []),
        ...(brief.consultant ? [['By', brief.consultant]] : []),
        ['Date', fullDay(edition.made)],
        ['Version', facts.last ? edition.version : `${edition.version}, the first`],
        ...changed(facts, edition),
      ],
    },
    paragraphs: [
      ...(settings.invented
        ? ['This property is invented: ground, photo, wind, lines and names are made up to show the program.']
        : []),
      ...findings.slice(0, FINDINGS).map((line, k) => `${k + 1}. ${line}`),
    ],
    tables: [
      ...table(
        'The jobs that come first',
        [left('Job'), left('Kind'), left('When'), right('Hours'), right('Money')],
        work.ranked
          .filter(({ when }) => when !== 'done' && when !== 'not worth it')
          .slice(0, JOBS)
          .map(({ job, when }) => {
            const found = names.get(job)!;
            const from = dates.get(job)?.from;
            return [
              found.name,
              KIND_TITLE[found.kind],
              from ? fullDay(from) : when,
              hours(found.hours),
              dollars(found.money.total),
            ];
          }),
      ),
    ],
    doubts: [
      ...(soft > 0
        ? [`${soft} of ${artifacts.necks.length} necks move with what was assumed: see the walk list.`]
        : []),
      ...(walk.spots[0] ? [`Most hinges on ${strongest(facts)}: look there first.`] : []),
      'No photo shows how thick the ground is at deer height, a fence gap, a bank or a culvert’s bore.',
      ...(note ? [`${note}.`] : []),
      ...missing,
    ].slice(0, UNKNOWNS),
    cautions: [CAUTIONS.map],
  };
}

/** What the consultant says changed, and what is printed otherwise than in the edition before. */
function changed({ last, say, settings }: Facts, edition: Edition): string[][] {
  const typed = settings.brief.changed.trim();
  return [
    ...(typed ? [['Changed since the last', typed]] : []),
    ...(last
      ? [
          [
            `Since ${editionName(last)}`,
            firstChanges(changesSince(last, edition, say, settings.units), CHANGES),
          ],
        ]
      : []),
  ];
}

/** The stop on which most hinges, by name. */
function strongest({ walk }: Facts): string {
  const [first] = [...walk.spots].sort((a, b) => (b.hinges ?? 0) - (a.hinges ?? 0));
  return first ? first.title.replace(/^./, (c) => c.toLowerCase()) : 'nothing';
}
