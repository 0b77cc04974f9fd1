import type { Feature } from '../features/feature.ts';
import { middleOf, pathsOf } from '../features/shapes.ts';
import { NOTHING } from './job-gains.ts';
import type { Gain, Gains, Job, Ranked, When } from './types.ts';

/** A way in that ends this near to a stand is its way in, m: our assumption. */
const WAY_REACH = 60;

/** What can be spent in a year; null where it is not limited. */
export interface Budget {
  money: number | null;
  /** Person hours. */
  hours: number | null;
}

/**
 * Jobs without which another is worth nothing: what a feature names in `needs` (ids or names, set apart by commas),
 * what was computed to be so, and for a new stand whose gain nobody computed the new way in that ends beside it.
 */
export function needsOf(
  jobs: readonly Job[],
  features: readonly Feature[],
  gains: Gains | null,
): Map<string, string[]> {
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
      needs.push(...(gains?.without.get(job.id) ?? []));
      if ((job.kind === 'stand' || job.kind === 'tower blind') && !gains?.byJob.has(job.id)) {
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
 * Jobs whose gains for their price have bands that overlap cannot be told apart, and each says so.
 *
 * @param gained null while nobody computed gains
 */
export function rankJobs(
  jobs: readonly Job[],
  gained: Gains | null,
  needs: ReadonlyMap<string, string[]>,
  budget: Budget,
): Ranked[] {
  const byId = new Map(jobs.map((job) => [job.id, job]));
  const gains = gained?.byJob ?? new Map<string, Gain>();
  const rows = new Map<string, Ranked>();
  const put = (job: Job, when: When, why: string): void => {
    const gain = gains.get(job.id) ?? null;
    const money = job.money.total;
    rows.set(job.id, {
      job: job.id,
      gain,
      perThousandDollars: gain && money ? (gain.value / money) * 1000 : null,
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
      .map((each) => ({
        ...each,
        worth: worthOf(each.bundle, gains, gained?.pairs ?? []),
        known: gains.has(each.job.id),
      }))
      .filter(({ known, worth }) => !known || worth.gain > -NOTHING)
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
              : reasonFor(job.id, gained!)
            : 'Its gain is not known, so it stands in the order of the work.'
          : `Comes first because “${best.job.name}” is worth nothing without it.`,
      );
    }
  }
  for (const job of open()) {
    const loses = 'By what was computed it loses more than it gains, even with all it needs';
    const unsettled = (gains.get(job.id)?.high ?? 0) > 0;
    put(
      job,
      'not worth it',
      unsettled ? `${loses}; its band reaches above nothing, so that is not settled.` : `${loses}.`,
    );
  }
  return withAlike([...rows.values()], byId);
}

function reasonFor(job: string, { byJob, without }: Gains): string {
  const { value, low } = byJob.get(job)!;
  if (without.get(job)?.length === 0)
    return 'It gains only with several others built, and next to nothing alone or beside any one of them.';
  if (Math.abs(value) < NOTHING)
    return 'By what was computed it gains next to nothing; what else it is for is not counted.';
  const first = 'Among what gains most for what it costs.';
  return low !== null && low <= 0 ? `${first} Its band reaches to nothing: it may not gain at all.` : first;
}

/** Price a gain is set against: dollars, or hours where nothing is paid. */
const priceOf = (money: number, hours: number): number => Math.max(1, money > 0 ? money : hours);

/** Says of each open job with a band which others it cannot be told apart from: their bands for the price overlap. */
function withAlike(rows: Ranked[], jobs: ReadonlyMap<string, Job>): Ranked[] {
  const banded = rows.flatMap(({ job: id, gain, when }) => {
    if (when === 'done' || !gain || gain.low === null || gain.high === null) return [];
    const job = jobs.get(id)!;
    const price = priceOf(job.money.total ?? 0, job.hours ?? 0);
    return [{ id, name: job.name, low: gain.low / price, high: gain.high / price }];
  });
  return rows.map((row) => {
    const own = banded.find(({ id }) => id === row.job);
    const alike = own
      ? banded.filter(({ id, low, high }) => id !== own.id && low <= own.high && own.low <= high)
      : [];
    if (alike.length === 0) return row;
    const names = alike.map(({ name }) => `“${name}”`).join(', ');
    return {
      ...row,
      why: `${row.why} For its price it cannot be told apart from ${names}: the bands overlap.`,
    };
  });
}

function worthOf(
  bundle: readonly Job[],
  gains: ReadonlyMap<string, Gain>,
  pairs: Gains['pairs'],
): { gain: number; ratio: number } {
  const left = new Set(bundle.map(({ id }) => id));
  let gain = 0;
  // What two gain together is counted once.
  for (const { jobs, gain: both } of pairs)
    if (jobs.every((id) => left.has(id))) {
      gain += both.value;
      for (const id of jobs) left.delete(id);
    }
  for (const id of left) gain += gains.get(id)?.value ?? 0;
  return { gain, ratio: gain / priceOf(moneyOf(bundle), hoursOf(bundle)) };
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
