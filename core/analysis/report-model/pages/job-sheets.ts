import type { Geometry } from 'geojson';
import { type Feature, ofKind } from '../../../features/feature.ts';
import { along } from '../../../features/measure.ts';
import { middleOf, pathsOf } from '../../../features/shapes.ts';
import type { Point } from '../../../grid/frame.ts';
import { bearing, trueBearing } from '../../../plan/bearing.ts';
import { cautionsOf } from '../../../plan/cautions.ts';
import { LORE } from '../../../plan/job-lore.ts';
import { KIND_TITLE } from '../../../plan/jobs.ts';
import { landmarksNear } from '../../../plan/landmark.ts';
import type { Job } from '../../../plan/types.ts';
import { footOn } from '../../../travel/barriers.ts';
import type { ReportPage, ReportPicture } from '../../report.ts';
import type { Facts } from '../facts.ts';
import { position } from '../facts.ts';
import { dollars, fullDay, hours } from '../money.ts';
import { regionAbout } from '../region.ts';
import { left, right, table } from '../table.ts';

/** A phone under canopy is off by so much, ft and m: common practice, no source. */
const PHONE = { us: '15 to 30 ft', metric: '5 to 10 m' } as const;

/** One page a job for the crew that does it. */
export function jobSheets(facts: Facts): ReportPage[] {
  const features = new Map(facts.artifacts.features.map((feature) => [feature.id, feature]));
  return facts.work.jobs
    .filter(({ done }) => done === null)
    .map((job) => jobSheet(job, features.get(job.id)!, facts));
}

function jobSheet(job: Job, feature: Feature, facts: Facts): ReportPage {
  const { work, settings, frame } = facts;
  const lore = LORE[job.kind];
  const row = work.calendar.jobs.find((each) => each.job === job.id);
  const run = lineBearing(feature.geometry);
  return {
    topic: 'job',
    title: `Job sheet: ${job.name}`,
    map: {
      grids: ['shade'],
      lines: ['contours', 'drainage', 'features'],
      region: regionAbout(feature.geometry, frame.cellSize),
      low: true,
      focus: [job.id],
    },
    paragraphs: [
      `${KIND_TITLE[job.kind]}. ${job.people === 1 ? 'One person' : `${job.people} people`}, ${hours(job.hours)} in all${row?.from ? `, ${fullDay(row.from)} to ${fullDay(row.to!)}` : ', no date yet'}.${run === null ? '' : ` It runs ${trueBearing(run, frame.convergence)}.`}`,
      ...(job.why ? [`Why, when it was drafted: ${job.why}`] : []),
      `Find start and stop by the landmarks: a phone under canopy is ${PHONE[settings.units]} off. Flag it before the first cut and walk it with whoever drew it.`,
    ],
    tables: [
      ...table(
        'Where',
        [left('Spot'), left('UTM'), left('From what can be found on the ground')],
        spotsOf(feature.geometry).map(({ name, at }) => [
          name,
          position(at),
          fromLandmarks(at, feature, facts),
        ]),
      ),
      ...table(
        'How much',
        [left('What'), right('How much'), left('To buy'), left('How it was counted')],
        job.quantities.map(({ label, text, buy, how }) => [label, text, buy ?? '–', how]),
      ),
      ...table(
        'How',
        [left('What'), left('To do')],
        [
          ['Flagging', lore.flagging],
          ...(lore.fall ? [['Fall', lore.fall]] : []),
          ...(lore.leave.length > 0 ? [['Leave standing', lore.leave.join('; ')]] : []),
          ['Done when', lore.test],
          ['Tools', lore.tools.join('; ')],
          ['Photos', lore.photo],
        ],
      ),
      ...table(
        'Left to do',
        [left('Item'), left('Who'), left('By'), left('Done')],
        [
          ['Line or edge flagged', '', '', ''],
          ['Photos before', '', '', ''],
          ...job.unknown.map((line) => [line, '', '', '']),
          [job.name, job.owner ?? '', job.due || row?.to ? fullDay(job.due ?? row!.to!) : '', ''],
          ['Photos after; as-built track or points sent in', '', '', ''],
        ],
      ),
    ],
    pictures: stillsNear(feature, facts),
    doubts: [`Money by the rates: ${dollars(job.money.total)}. What the ground asks for is only seen on it.`],
    cautions: [...cautionsOf(job.kind)],
  };
}

/** Pictures taken so near to a job show its ground, m: our assumption. */
const NEAR = 40;
const MOST_STILLS = 4;

/** Pictures of the walk about a job, the nearest first. */
function stillsNear({ geometry }: Feature, { artifacts, say, frame }: Facts): ReportPicture[] {
  const [path] = pathsOf(geometry);
  const middle = middleOf(geometry);
  const line = path ?? (middle ? [middle] : []);
  return ofKind(artifacts.features, 'note')
    .flatMap(({ geometry: spot, attributes, name, source }) => {
      const { photo, taken, bearing: looks, text } = attributes;
      const at = middleOf(spot);
      if (typeof photo !== 'string' || !at) return [];
      const nearest = nearestOn(line, at);
      if (!nearest || nearest.distance > NEAR) return [];
      const { distance } = nearest;
      const caption = [
        typeof text === 'string' && text !== '' ? text : (name ?? source),
        typeof taken === 'string' ? `taken ${fullDay(taken.slice(0, 10))}` : null,
        typeof looks === 'number' ? `looking ${say.degrees(looks)} from true north` : null,
        distance < 3
          ? 'on the spot'
          : `${say.distance(distance)} ${trueBearing(bearing(nearest.at, at), frame.convergence)} of it`,
      ];
      return [{ id: photo, caption: caption.filter(Boolean).join(', '), distance }];
    })
    .sort((a, b) => a.distance - b.distance)
    .slice(0, MOST_STILLS)
    .map(({ id, caption }) => ({ id, caption }));
}

/** Ends of a line, corners of ground, or the spot itself. */
function spotsOf(geometry: Geometry): { name: string; at: Point }[] {
  const [path] = pathsOf(geometry);
  if (!path || path.length < 2) {
    const at = middleOf(geometry);
    return at ? [{ name: 'Spot', at }] : [];
  }
  if (/LineString/.test(geometry.type))
    return [
      { name: 'Start', at: path[0]! },
      { name: 'Middle', at: middleOfPath(path) },
      { name: 'Stop', at: path.at(-1)! },
    ];
  // The corners farthest out in four directions tell a crew the extent without a list of every bend.
  const extreme = (name: string, score: (p: Point) => number) => ({
    name,
    at: path.reduce((best, p) => (score(p) > score(best) ? p : best)),
  });
  return [
    extreme('North corner', ([, y]) => y),
    extreme('East corner', ([x]) => x),
    extreme('South corner', ([, y]) => -y),
    extreme('West corner', ([x]) => -x),
  ];
}

const middleOfPath = (path: readonly Point[]): Point =>
  along(
    path,
    path.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - path[i]![0], y - path[i]![1]), 0) / 2,
  );

function lineBearing(geometry: Geometry): number | null {
  const [path] = pathsOf(geometry);
  return path && /LineString/.test(geometry.type) ? bearing(path[0]!, path.at(-1)!) : null;
}

function fromLandmarks(at: Point, feature: Feature, { artifacts, frame, say }: Facts): string {
  const marks = landmarksNear(artifacts.features, at, feature.id);
  if (marks.length === 0) return 'nothing mapped near by: set two flagged trees and write them down';
  return marks
    .map(({ name, at: mark, distance }) =>
      distance < 3
        ? `at ${name}`
        : `${say.distance(distance)} ${trueBearing(bearing(mark, at), frame.convergence)} of ${name}`,
    )
    .join('; ');
}

/** The nearest point of a line, or of a place alone. */
const nearestOn = (line: readonly Point[], at: Point): { at: Point; distance: number } | null => {
  const [only] = line;
  return (
    footOn(line, at) ?? (only ? { at: only, distance: Math.hypot(at[0] - only[0], at[1] - only[1]) } : null)
  );
};
