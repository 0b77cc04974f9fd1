import type { Feature } from '../features/feature.ts';
import { middleOf, pathsOf } from '../features/shapes.ts';
import type { Gain, Job, Ranked, When } from './types.ts';

/** A way in that ends this near to a stand is its way in, m: our assumption. */
const WAY_REACH = 60;

/** A gain that prints as 0.0. */
const NOTHING = 0.05;

/** What can be spent in a year; null where it is not limited. */
export interface Budget {
  money: number | null;
  /** Person hours. */
  hours: number | null;
}

/**
 * Jobs without which another is worth nothing: what a feature names in `needs` (ids or names, set apart by commas),
 * and for a new stand the new way in that ends beside it.
 */
export function needsOf(jobs: readonly Job[], features: readonly Feature[]): Map<string, string[]> {
  const byId = new Map(features.map((feature) => [feature.id, feature]));
  const named = new Map(
    jobs.flatMap(
      ({ id, name }) =>
        [
          [id.toLowerCase(), id],
          [name.toLowerCase(), id],
        ] as const,
    ),
  );
  const ways = jobs.filter(({ kind }) => kind === 'cleared trail' || kind === 'mulched lane');
  return new Map(
    jobs.map((job) => {
      const feature = byId.get(job.id)!;
      const said = typeof feature.attributes.needs === 'string' ? feature.attributes.needs.split(',') : [];
      const needs = said.flatMap((text) => named.get(text.trim().toLowerCase()) ?? []);
      if (job.kind === 'stand' || job.kind === 'tower blind') {
        const at = middleOf(feature.geometry)!;
        for (const way of ways)
          for (const path of pathsOf(byId.get(way.id)!.geometry))
            for (const end of [path[0]!, path.at(-1)!])
              if (Math.hypot(end[0] - at[0], end[1] - at[1]) <= WAY_REACH) needs.push(way.id);
      }
      return [job.id, [...new Set(needs)].filter((id) => id !== job.id)];
    }),
  );
}

/**
 * Which jobs first: each with everything it needs and has not got, by gain for a dollar (for an hour where nothing is
 * paid), as long as the year's budget lasts. Jobs whose gain nobody computed come after those with one, in the order
 * given; a job that loses more than it gains is not worth it.
 *
 * @param gains by job id; a job not in it has no known gain
 */
export function rankJobs(
  jobs: readonly Job[],
  gains: ReadonlyMap<string, Gain>,
  needs: ReadonlyMap<string, string[]>,
  budget: Budget,
): Ranked[] {
  const byId = new Map(jobs.map((job) => [job.id, job]));
  const rows = new Map<string, Ranked>();
  const put = (job: Job, when: When, why: string): void => {
    const gain = gains.get(job.id) ?? null;
    const money = job.money.total;
    rows.set(job.id, {
      job: job.id,
      gain,
      perHundredDollars: gain && money ? (gain.value / money) * 100 : null,
      perHour: gain && job.hours ? gain.value / job.hours : null,
      when,
      needs: needs.get(job.id) ?? [],
      why,
    });
  };
  for (const job of jobs) if (job.done) put(job, 'done', `Done on ${job.done}.`);

  const left = [0, 1].map(() => ({ ...budget }));
  const bundleOf = (job: Job): Job[] => {
    const bundle = new Set<string>();
    const add = (id: string): void => {
      if (bundle.has(id) || rows.has(id) || !byId.has(id)) return;
      bundle.add(id);
      for (const need of needs.get(id) ?? []) add(need);
    };
    add(job.id);
    return [...bundle].map((id) => byId.get(id)!);
  };
  const open = (): Job[] => jobs.filter(({ id }) => !rows.has(id));
  for (;;) {
    const [best] = open()
      .map((job) => ({ job, bundle: bundleOf(job) }))
      .map((each) => ({ ...each, worth: worthOf(each.bundle, gains), known: gains.has(each.job.id) }))
      .filter(({ known, worth }) => !known || worth.gain >= 0)
      .sort((a, b) => Number(b.known) - Number(a.known) || (a.known ? b.worth.ratio - a.worth.ratio : 0));
    if (!best) break;
    const { bundle, known } = best;
    const year = left.findIndex((purse) => fits(purse, bundle));
    const when: When = year < 0 ? 'later' : (['this winter', 'next year'] as const)[year]!;
    if (year >= 0) spend(left[year]!, bundle);
    for (const job of [...bundle].reverse()) {
      const own = job.id === best.job.id;
      put(
        job,
        when,
        own
          ? known
            ? when === 'later'
              ? 'What can be spent in two years goes to jobs that gain more for it.'
              : Math.abs(gains.get(job.id)!.value) < NOTHING
                ? 'By what was computed it gains next to nothing; what else it is for is not counted.'
                : 'Among what gains most for what it costs.'
            : 'Its gain is not known, so it stands in the order of the work.'
          : `Comes first because “${best.job.name}” is worth nothing without it.`,
      );
    }
  }
  for (const job of open())
    put(job, 'not worth it', 'By what was computed it loses more than it gains, even with all it needs.');
  return [...rows.values()];
}

function worthOf(bundle: readonly Job[], gains: ReadonlyMap<string, Gain>): { gain: number; ratio: number } {
  const gain = bundle.reduce((sum, { id }) => sum + (gains.get(id)?.value ?? 0), 0);
  const money = bundle.reduce((sum, job) => sum + (job.money.total ?? 0), 0);
  const hours = bundle.reduce((sum, job) => sum + (job.hours ?? 0), 0);
  return { gain, ratio: gain / Math.max(1, money > 0 ? money : hours) };
}

const moneyOf = (bundle: readonly Job[]): number =>
  bundle.reduce((sum, job) => sum + (job.money.total ?? 0), 0);
const hoursOf = (bundle: readonly Job[]): number => bundle.reduce((sum, job) => sum + (job.hours ?? 0), 0);

const fits = (purse: Budget, bundle: readonly Job[]): boolean =>
  (purse.money === null || moneyOf(bundle) <= purse.money) &&
  (purse.hours === null || hoursOf(bundle) <= purse.hours);

function spend(purse: Budget, bundle: readonly Job[]): void {
  if (purse.money !== null) purse.money -= moneyOf(bundle);
  if (purse.hours !== null) purse.hours -= hoursOf(bundle);
}
