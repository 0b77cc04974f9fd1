import { describe, expect, test } from 'vitest';
import { type CleanHours, cleanHours, hoursOfCases } from '../../../core/plan/clean-hours.ts';
import {
  bandTries,
  firstTries,
  jobGains,
  pairsToTry,
  type Tried,
  tryKey,
} from '../../../core/plan/job-gains.ts';
import { jobsTried, waysKey, withBuilt } from '../../../core/plan/job-trial.ts';
import { needsOf, rankJobs } from '../../../core/plan/ranking.ts';
import type { Gains, Job } from '../../../core/plan/types.ts';
import { EVERY_JOB, feature, line } from './scene.ts';

const LAWFUL = { 'before sunrise': 0, morning: 14, midday: 21, evening: 7 } as const;

// Worked by hand, no outside source: the measure is our own.
describe('clean hours', () => {
  test('are the lawful hours of a wind at its best stand, by the share that comes clean', () => {
    const cases = [
      { part: 'morning', share: 0.5 },
      { part: 'morning', share: 0.25 },
      { part: 'evening', share: 1 },
    ] as const;
    // Three weeks: 14 h of mornings a week, half of them and a quarter; 7 h of evenings.
    const hours = hoursOfCases(cases, LAWFUL, 21);
    expect(hours).toEqual([21, 10.5, 21]);
    const sits = (usual: number[], keen: number[], dull: number[]) => ({
      usual: Float64Array.from(usual),
      keen: Float64Array.from(keen),
      dull: Float64Array.from(dull),
    });
    const first = sits([0.2, 0, 0.1], [0, 0, 0], [0.2, 0.4, 0.1]);
    const second = sits([0.1, 0.4, 0], [0.1, 0, 0], [0.2, 0.4, 0.2]);
    expect(cleanHours([first], hours).usual).toBeCloseTo(21 * 0.2 + 21 * 0.1, 12);
    // The best of both in each: 0.2, 0.4 and 0.1.
    const both = cleanHours([first, second], hours);
    expect(both.usual).toBeCloseTo(21 * 0.2 + 10.5 * 0.4 + 21 * 0.1, 12);
    expect(both.keen).toBeCloseTo(21 * 0.1, 12);
    expect(both.dull).toBeCloseTo(21 * 0.2 + 10.5 * 0.4 + 21 * 0.2, 12);
    expect(cleanHours([], hours)).toEqual({ usual: 0, keen: 0, dull: 0 });
  });

  test('count every wind alike where there is no record', () => {
    const hours = hoursOfCases([{ part: 'morning', share: null }], LAWFUL, 7);
    expect(hours[0]).toBeCloseTo(14 / 17, 12);
  });
});

const flat = (value: number): CleanHours => ({ usual: value, keen: value, dull: value });
const tried = (values: [string[], number | CleanHours][]): Map<string, CleanHours> =>
  new Map(values.map(([built, value]) => [tryKey(built), typeof value === 'number' ? flat(value) : value]));

describe('gains', () => {
  // a gains 4 alone; b and c gain nothing alone, 6 together; d gains nothing at all.
  const JOBS = ['a', 'b', 'c', 'd'];
  const worth = (built: readonly string[]): number =>
    10 + (built.includes('a') ? 4 : 0) + (built.includes('b') && built.includes('c') ? 6 : 0);
  const plan = tried(firstTries(JOBS).map((built) => [built, worth(built)]));

  test('are tried alone, with everything and with everything but one', () => {
    expect(firstTries(JOBS)).toHaveLength(1 + 4 + 1 + 4);
    expect(firstTries(['a'])).toEqual([[], ['a']]);
    expect(firstTries(['a', 'b'])).toHaveLength(4);
    // b and c with every other, and with each other once.
    expect(pairsToTry(JOBS, plan)).toHaveLength(5);
  });

  test('name what is worthless without another, and what two gain together', () => {
    for (const built of pairsToTry(JOBS, plan)) plan.set(tryKey(built), flat(worth(built)));
    const found = jobGains(JOBS, { plan, coarse: new Map(), drawn: [] });
    expect([...found.byJob].map(([job, { value }]) => [job, value])).toEqual([
      ['a', 4],
      ['b', 6],
      ['c', 6],
      ['d', 0],
    ]);
    expect([...found.without]).toEqual([
      ['b', ['c']],
      ['c', ['b']],
    ]);
    expect(found.pairs).toEqual([{ jobs: ['b', 'c'], gain: { value: 6, low: null, high: null } }]);
    expect([found.today, found.built]).toEqual([10, 20]);
    expect(bandTries(JOBS, plan)).toHaveLength(1 + 4 + 1 + 5);
  });

  test('say so where no single other job is enough', () => {
    const all = (built: readonly string[]): number => (built.length === 3 ? 5 : 0);
    const three = ['a', 'b', 'c'];
    const values = tried(firstTries(three).map((built) => [built, all(built)]));
    for (const built of pairsToTry(three, values)) values.set(tryKey(built), flat(all(built)));
    const { without, byJob } = jobGains(three, { plan: values, coarse: new Map(), drawn: [] });
    expect([...without.values()]).toEqual([[], [], []]);
    expect(byJob.get('a')!.value).toBe(0);
  });

  test('have a band over the noses and over drawn worlds, each against the usual one on its own cells', () => {
    const values: Tried = {
      // 2 for the usual nose; 1 for a keen one, 2.5 for a dull one.
      plan: tried([
        [[], { usual: 3, keen: 2, dull: 4 }],
        [['a'], { usual: 5, keen: 3, dull: 6.5 }],
      ]),
      // On the worlds' cells the same weights give 1.5.
      coarse: tried([
        [[], 2],
        [['a'], 3.5],
      ]),
      // This one gives 0.5, 0 and 3.5: one less, 1.5 less and two more than the usual weights there.
      drawn: [
        tried([
          [[], { usual: 2, keen: 2, dull: 2 }],
          [['a'], { usual: 2.5, keen: 2, dull: 5.5 }],
        ]),
      ],
    };
    expect(jobGains(['a'], values).byJob.get('a')).toEqual({ value: 2, low: 0.5, high: 4 });
  });
});

describe('jobs tried', () => {
  test('are those that move deer or walkers, or are a stand; what else is proposed stays out of every try', () => {
    expect(jobsTried(EVERY_JOB).map(({ id }) => id)).not.toContain('pines');
    expect(jobsTried(EVERY_JOB).map(({ id }) => id)).not.toContain('feed');
    expect(jobsTried(EVERY_JOB)).toHaveLength(EVERY_JOB.length - 2);
    expect(withBuilt(EVERY_JOB, ['hinge']).map(({ id }) => id)).toEqual(['hinge', 'feed']);
    expect(waysKey(EVERY_JOB, ['hinge', 'trail', 'perch'])).toBe('trail');
  });

  test('a way in that is cleared is walked as a trail: nobody parks along it', () => {
    const way = feature('way', 'access', line([0, 0], [100, 0]));
    expect(withBuilt([way], ['way'])[0]!.kind).toBe('trail');
  });
});

describe('the order by computed gains', () => {
  const job = (id: string, money: number): Job => ({
    id,
    name: `The ${id}`,
    kind: 'barricade',
    crew: 'saw',
    people: 2,
    quantities: [],
    hours: 10,
    money: { labour: money, material: 0, total: money },
    unknown: [],
    at: [0, 0],
    done: null,
    built: null,
    owner: null,
    due: null,
    why: null,
  });
  const known = (more: Partial<Gains>): Gains => ({
    unit: 'clean hours a season',
    byJob: new Map(),
    pairs: [],
    without: new Map(),
    today: 0,
    built: 0,
    notes: [],
    ...more,
  });
  const gain = (low: number, value: number, high: number) => ({ value, low, high });

  test('counts what two gain together once, and puts both where both fit', () => {
    // Together 6 for $600 are 1 for $100; a alone is 4 for $200, 2 for $100; d 3 for $250, 1.2 for $100.
    const jobs = [job('b', 300), job('c', 300), job('a', 200), job('d', 250)];
    const gains = known({
      byJob: new Map([
        ['a', gain(3, 4, 5)],
        ['b', gain(5, 6, 7)],
        ['c', gain(5, 6, 7)],
        ['d', gain(2.9, 3, 3.1)],
      ]),
      pairs: [{ jobs: ['b', 'c'], gain: gain(5, 6, 7) }],
      without: new Map([
        ['b', ['c']],
        ['c', ['b']],
      ]),
    });
    const rows = rankJobs(
      jobs,
      gains,
      needsOf(
        jobs,
        jobs.map(({ id }) => feature(id, 'cut', line([0, 0], [1, 0]))),
        gains,
      ),
      {
        money: 1000,
        hours: null,
      },
    );
    expect(rows.map(({ job: id, when }) => [id, when])).toEqual([
      ['a', 'this winter'],
      ['d', 'this winter'],
      ['c', 'next year'],
      ['b', 'next year'],
    ]);
    expect(rows[3]!.needs).toEqual(['c']);
    expect(rows[2]!.why).toMatch(/worth nothing without it/);
  });

  test('says which jobs cannot be told apart, by the bands of gain for the price', () => {
    // For $100: x 1 to 3, y 2.5 to 4, z 5 to 6.
    const jobs = [job('x', 100), job('y', 200), job('z', 100)];
    const gains = known({
      byJob: new Map([
        ['x', gain(1, 2, 3)],
        ['y', gain(5, 6, 8)],
        ['z', gain(5, 5.5, 6)],
      ]),
    });
    const why = new Map(
      rankJobs(jobs, gains, new Map(), { money: null, hours: null }).map((row) => [row.job, row.why]),
    );
    expect(why.get('x')).toMatch(/cannot be told apart from “The y”/);
    expect(why.get('y')).toMatch(/cannot be told apart from “The x”/);
    expect(why.get('z')).not.toMatch(/told apart/);
  });

  test('says where a band reaches to nothing', () => {
    const jobs = [job('x', 100)];
    const gains = known({ byJob: new Map([['x', gain(-1, 2, 3)]]) });
    expect(rankJobs(jobs, gains, new Map(), { money: null, hours: null })[0]!.why).toMatch(/may not gain/);
  });
});
