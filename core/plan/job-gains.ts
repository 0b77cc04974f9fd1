import { NOSES } from '../stands/scent-mask.ts';
import type { CleanHours } from './clean-hours.ts';
import type { Gain, Gains } from './types.ts';

/** A gain that prints as 0.0, in clean hours a season. */
export const NOTHING = 0.05;

/** The jobs built in a try as one word, the same in whatever order they are named. */
export const tryKey = (built: readonly string[]): string => JSON.stringify([...built].sort());

/** What tries came to: with the usual weights, and in drawn worlds on cells of their own. */
export interface Tried {
  plan: ReadonlyMap<string, CleanHours>;
  /** The usual weights on the drawn worlds' cells. */
  coarse: ReadonlyMap<string, CleanHours>;
  drawn: readonly ReadonlyMap<string, CleanHours>[];
}

/** Tries every gain starts from: nothing built, each job alone, everything, and everything but one. */
export function firstTries(jobs: readonly string[]): string[][] {
  return distinct([
    [],
    ...jobs.map((job) => [job]),
    [...jobs],
    ...jobs.map((job) => jobs.filter((other) => other !== job)),
  ]);
}

/** Jobs that gain nothing alone, but something where everything else is built: each is tried with every other. */
export const pairsToTry = (jobs: readonly string[], plan: Tried['plan']): string[][] =>
  distinct(
    onlyTogether(jobs, plan).flatMap((job) =>
      jobs.filter((other) => other !== job).map((other) => [job, other]),
    ),
  );

/** Tries that bands are needed for: all but those with one job left out. */
export const bandTries = (jobs: readonly string[], plan: Tried['plan']): string[][] =>
  distinct([[], ...jobs.map((job) => [job]), [...jobs], ...pairsToTry(jobs, plan)]);

/**
 * What each job gains: clean hours a season with the job built less those without it, as the only job built. A job that
 * gains nothing alone, but something beside another, is worthless without that one: its gain is what it adds to it.
 *
 * The band is the least and the most over a keener and a duller nose and over the drawn worlds, each of which has its
 * own weights of travel, its own routes, and a lean of travel of unknown direction. A drawn world's gain counts by how
 * far it is from that of the usual weights on the same, wider cells.
 */
export function jobGains(jobs: readonly string[], tried: Tried): Omit<Gains, 'unit' | 'notes'> {
  const { plan } = tried;
  const gain = (withJob: readonly string[], without: readonly string[]): Gain =>
    gainOf(tryKey(withJob), tryKey(without), tried);
  const together = onlyTogether(jobs, plan);
  const byJob = new Map<string, Gain>();
  const pairs: Gains['pairs'] = [];
  const without = new Map<string, string[]>();
  for (const job of jobs) {
    const alone = gain([job], []);
    byJob.set(job, alone);
    if (!together.includes(job)) continue;
    const partners = jobs
      .filter((other) => other !== job)
      .map((other) => ({ other, beside: gain([job, other], [other]) }))
      .filter(({ beside }) => beside.value >= NOTHING)
      .sort((a, b) => b.beside.value - a.beside.value);
    const [best] = partners;
    without.set(job, best ? [best.other] : []);
    if (!best) continue;
    byJob.set(job, best.beside);
    if (!pairs.some(({ jobs: [a, b] }) => a === best.other && b === job))
      pairs.push({ jobs: [job, best.other], gain: gain([job, best.other], []) });
  }
  const none = { usual: 0, keen: 0, dull: 0 };
  const total = (built: readonly string[]): number => (plan.get(tryKey(built)) ?? none).usual;
  return { byJob, pairs, without, today: total([]), built: total(jobs) };
}

function gainOf(withJob: string, without: string, { plan, coarse, drawn }: Tried): Gain {
  const differ = (tries: ReadonlyMap<string, CleanHours>): CleanHours | null => {
    const [a, b] = [tries.get(withJob), tries.get(without)];
    return a && b ? { usual: a.usual - b.usual, keen: a.keen - b.keen, dull: a.dull - b.dull } : null;
  };
  const usual = differ(plan);
  if (!usual) throw new Error(`Not tried: ${withJob} against ${without}`);
  const { usual: value } = usual;
  const on = differ(coarse);
  if (!on || drawn.length === 0) return { value, low: null, high: null };
  const all = [usual.usual, usual.keen, usual.dull];
  for (const world of drawn) {
    const found = differ(world);
    if (found) all.push(...NOSES.map((nose) => value + found[nose] - on.usual));
  }
  return { value, low: Math.min(...all), high: Math.max(...all) };
}

/** Jobs that gain nothing alone but something where all the others are built. */
function onlyTogether(jobs: readonly string[], plan: Tried['plan']): string[] {
  const of = (built: readonly string[]): number => plan.get(tryKey(built))?.usual ?? Number.NaN;
  return jobs.filter(
    (job) =>
      Math.abs(of([job]) - of([])) < NOTHING &&
      of(jobs) - of(jobs.filter((other) => other !== job)) >= NOTHING,
  );
}

const distinct = (tries: readonly string[][]): string[][] => [
  ...new Map(tries.map((built) => [tryKey(built), built])).values(),
];
