import type { Feature } from '../features/feature.ts';
import type { Units } from '../features/units.ts';
import { cautionsOf } from './cautions.ts';
import { jobsOf } from './jobs.ts';
import { needsOf, rankJobs } from './ranking.ts';
import { rateOf, rateRows, rateTable } from './rates.ts';
import { scheduleJobs } from './schedule.ts';
import type { CalendarSettings, Gains, Job, Scheduled, Total, WorkPlan } from './types.ts';
import { upkeepOf } from './upkeep.ts';

/** What a person sets for the work of a property. */
export interface PlanSettings {
  /** Rates that differ from the table, SI, by key. */
  rates: Record<string, number>;
  calendar: CalendarSettings;
  /** Dollars a year; null without a limit. */
  budget: number | null;
  /** Days of the whole crew a year; null without a limit. */
  crewDays: number | null;
}

/**
 * Everything to be done on a property, with quantities, hours, money, dates and order.
 *
 * @param gains what each job gains and in what unit; null while nobody computed it
 * @param today YYYY-MM-DD
 */
export function planWork(
  features: readonly Feature[],
  settings: PlanSettings,
  units: Units,
  gains: Gains | null,
  today: string,
): WorkPlan {
  const used = new Set<string>();
  const value = rateOf(rateTable(settings.rates));
  const rate = (key: string): number => {
    used.add(key);
    return value(key);
  };
  const { jobs, unpriced } = jobsOf(features, rate, units);
  const people = Math.max(1, value('saw.people'));
  const ranked = rankJobs(jobs, gains, needsOf(jobs, features, gains), {
    money: settings.budget,
    hours: settings.crewDays === null ? null : settings.crewDays * people * settings.calendar.hoursPerDay,
  });
  const when = new Map(ranked.map((row) => [row.job, row.when]));
  const calendar = scheduleJobs(jobs, settings.calendar, today, when);
  const dates = new Map(calendar.jobs.map((row) => [row.job, row]));
  const open = jobs.filter(({ done }) => done === null);
  return {
    jobs,
    unpriced,
    rates: rateRows(settings.rates, units, used),
    calendar,
    ranked,
    gained: gains && { unit: gains.unit, today: gains.today, built: gains.built, notes: gains.notes },
    upkeep: upkeepOf(jobs),
    totals: {
      bySeason: SEASONS.flatMap((season) =>
        totalOf(season, open, (job) => seasonOf(dates.get(job.id)) === season),
      ),
      byCrew: (['saw', 'hand', 'machine'] as const).flatMap((crew) =>
        totalOf(CREW_TITLE[crew], open, (job) => job.crew === crew),
      ),
      all: totalOf('Everything', open, () => true)[0] ?? {
        name: 'Everything',
        jobs: 0,
        hours: 0,
        money: 0,
        open: 0,
      },
    },
    cautions: [...new Set(jobs.map(({ kind }) => kind))].map((kind) => ({
      kind,
      lines: [...cautionsOf(kind)],
    })),
  };
}

const CREW_TITLE = { saw: 'Saw crew', hand: 'Hand crew', machine: 'Machine' } as const;

const SEASONS = ['Winter', 'Spring', 'Summer', 'Fall', 'No date'];

/** By the months people call so: winter is December to March here, when the saw work is done. */
function seasonOf(row: Scheduled | undefined): string {
  if (!row?.from) return 'No date';
  const month = Number(row.from.slice(5, 7));
  return month === 12 || month <= 3 ? 'Winter' : month <= 5 ? 'Spring' : month <= 8 ? 'Summer' : 'Fall';
}

function totalOf(name: string, jobs: readonly Job[], belongs: (job: Job) => boolean): Total[] {
  const mine = jobs.filter(belongs);
  if (mine.length === 0) return [];
  return [
    {
      name,
      jobs: mine.length,
      hours: mine.reduce((sum, { hours }) => sum + (hours ?? 0), 0),
      money: mine.reduce((sum, { money }) => sum + (money.total ?? 0), 0),
      open: mine.filter(({ hours, money }) => hours === null || money.total === null).length,
    },
  ];
}
