import { dayOf, dayOfYear, isoOf, monthDay } from './days.ts';
import type { Calendar, CalendarSettings, Crew, Job, JobKind, Scheduled, StripRow, When } from './types.ts';
import { restraintSpan, windowOf } from './windows.ts';

/** Rounds of work in the order they must come; a job waits for the rounds named. Common practice, no source. */
const ROUND: Record<JobKind, { order: number; after: number[] }> = {
  'feeder to remove': { order: 0, after: [] },
  'fence lowering': { order: 0, after: [] },
  'water crossing': { order: 0, after: [] },
  'cleared trail': { order: 1, after: [] },
  'mulched lane': { order: 1, after: [] },
  // Access before cutting.
  'felled bedding': { order: 2, after: [1] },
  'hinge cut': { order: 2, after: [1] },
  opening: { order: 2, after: [1] },
  barricade: { order: 2, after: [1] },
  // Cutting before screens: a skidded top goes through a planting only once.
  'screen planting': { order: 3, after: [1, 2] },
  conifers: { order: 3, after: [1, 2] },
  'food plot': { order: 4, after: [1, 2] },
  stand: { order: 5, after: [1] },
  'tower blind': { order: 5, after: [1] },
};

/** How far ahead a place is sought, days. */
const HORIZON = 3 * 365;
const LATER: Record<When, number | null> = {
  'this winter': 0,
  'next year': 365,
  later: 730,
  'not worth it': null,
  done: null,
};

/**
 * Gives every job its days: in the order of the work, within the window of its kind, after the rounds it waits for,
 * each crew at one job at a time, everything before the first sit where it can be.
 *
 * @param today YYYY-MM-DD, the first day of work unless the settings name another
 * @param when in which year each job falls by what comes first; a job not in it falls in the first
 */
export function scheduleJobs(
  jobs: readonly Job[],
  settings: CalendarSettings,
  today: string,
  when: ReadonlyMap<string, When> = new Map(),
): Calendar {
  const start = dayOf(settings.start ?? today);
  const firstSit = nextDay(start, settings.season.from);
  const busy: Record<Crew, Set<number>> = { saw: new Set(), hand: new Set(), machine: new Set() };
  const placed: { order: number; end: number; year: number }[] = [];
  const rows = new Map<string, Scheduled>();
  const open = jobs
    .filter(({ id, done }) => done === null && LATER[when.get(id) ?? 'this winter'] !== null)
    .map((job) => ({ job, delay: LATER[when.get(job.id) ?? 'this winter']! }))
    .sort((a, b) => a.delay - b.delay || ROUND[a.job.kind].order - ROUND[b.job.kind].order);
  for (const { job, delay } of open) {
    const { days: allowed, spans, reasons } = windowOf(job.kind, settings);
    const waits = ROUND[job.kind].after;
    const ready = Math.max(
      start + delay,
      ...placed.filter(({ order, year }) => waits.includes(order) && year <= delay).map(({ end }) => end + 1),
    );
    const days =
      job.hours === null ? null : Math.max(1, Math.ceil(job.hours / (job.people * settings.hoursPerDay)));
    const found = days === null ? null : place(ready, days, allowed, busy[job.crew]);
    if (found !== null && days !== null) {
      for (let day = found; day < found + days; day++) busy[job.crew].add(day);
      placed.push({ order: ROUND[job.kind].order, end: found + days - 1, year: delay });
    }
    const sit = nextDay(start + delay, settings.season.from);
    const inTime = found !== null && days !== null && found + days - 1 < sit;
    rows.set(job.id, {
      job: job.id,
      from: found === null ? null : isoOf(found),
      to: found === null ? null : isoOf(found + days! - 1),
      days,
      beforeFirstSit: inTime,
      windows: spans,
      reasons: [
        ...reasons,
        ...(days === null ? ['Its hours are not known yet, so it has no days.'] : []),
        ...(days !== null && found === null
          ? [`It takes ${days} days in one piece, longer than any window: split it or bring more people.`]
          : []),
        ...(found !== null && !inTime
          ? [`Not done before the first sit on ${isoOf(sit)}: hunt it the year after.`]
          : []),
      ],
    });
  }
  return {
    start: isoOf(start),
    firstSit: isoOf(firstSit),
    jobs: jobs.flatMap(({ id }) => rows.get(id) ?? []),
    strip: stripOf(jobs, settings, rows),
    notes: [
      'Weather moves every date. Frost, season, nesting and bat days are settings: set them by your state’s and the nearest station’s.',
    ],
  };
}

/** First day from `ready` on which a job fits in one piece; null where none does. */
function place(ready: number, length: number, allowed: Uint8Array, busy: ReadonlySet<number>): number | null {
  let run = 0;
  for (let day = ready; day < ready + HORIZON; day++) {
    run = allowed[dayOfYear(monthDay(day))] && !busy.has(day) ? run + 1 : 0;
    if (run === length) return day - length + 1;
  }
  return null;
}

/** The next time a day of the year comes, after a day. */
function nextDay(after: number, monthAndDay: string): number {
  const year = Number(isoOf(after).slice(0, 4));
  const this_ = dayOf(`${year}-${monthAndDay}`);
  return this_ > after ? this_ : dayOf(`${year + 1}-${monthAndDay}`);
}

function stripOf(
  jobs: readonly Job[],
  settings: CalendarSettings,
  rows: ReadonlyMap<string, Scheduled>,
): StripRow[] {
  const restraint = (label: string, key: 'season' | 'nesting' | 'bats' | 'stock'): StripRow[] => {
    const span = restraintSpan(key, settings);
    return span ? [{ label, kind: 'restraint', spans: [span] }] : [];
  };
  const kinds = [...new Set(jobs.filter(({ id }) => rows.has(id)).map(({ kind }) => kind))];
  return [
    ...restraint('No entry', 'season'),
    ...restraint('Birds nest', 'nesting'),
    ...restraint('Bats roost', 'bats'),
    ...restraint('Stock is in', 'stock'),
    ...kinds.map(
      (kind): StripRow => ({
        label: kind,
        kind: 'work',
        spans: windowOf(kind, settings).spans,
      }),
    ),
  ];
}
