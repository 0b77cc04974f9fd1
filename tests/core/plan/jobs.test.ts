import { describe, expect, test } from 'vitest';
import { ACRE, POUND } from '../../../core/features/units.ts';
import { jobsOf } from '../../../core/plan/jobs.ts';
import { rateOf, rateRows, rateTable } from '../../../core/plan/rates.ts';
import type { Job } from '../../../core/plan/types.ts';
import { EVERY_JOB, feature, line } from './scene.ts';

const rate = rateOf(rateTable({}));
const { jobs } = jobsOf(EVERY_JOB, rate, 'us');
const job = (id: string): Job => jobs.find((each) => each.id === id)!;
const said = (id: string, label: string) => {
  const found = job(id).quantities.find((q) => q.label === label)!;
  return [found.text, found.buy];
};

describe('quantities, worked by hand from the table of rates', () => {
  test('every kind is on the list once', () => {
    expect(jobs.map(({ kind }) => kind)).toEqual([
      'barricade',
      'hinge cut',
      'felled bedding',
      'cleared trail',
      'mulched lane',
      'screen planting',
      'screen planting',
      'conifers',
      'opening',
      'food plot',
      'water crossing',
      'fence lowering',
      'stand',
      'tower blind',
      'feeder to remove',
    ]);
  });

  test('barricade: 200 ft in tops of 12 ft is 17 a layer, 5 ft needs two layers of 4 ft, a tenth over is 38', () => {
    expect(said('barricade', 'Length')).toEqual(['67 yd', null]);
    expect(said('barricade', 'Trees to fell')).toEqual(['38', null]);
    // 38 trees at 0.6 h is 22.8 h, booked as 23; at $45 is $1,035, in tens $1,040.
    expect(job('barricade').hours).toBe(23);
    expect(job('barricade').money).toEqual({ labour: 1040, material: 0, total: 1040 });
  });

  test('hinge cut: an acre from 100 to 40 ft² in 5 inch stems (0.1364 ft² each) is 440 stems', () => {
    expect(said('hinge', 'Ground')).toEqual(['1.0 acre', null]);
    expect(said('hinge', 'Basal area left')).toEqual(['40 ft²/acre', null]);
    expect(said('hinge', 'Stems to cut')).toEqual(['440', null]);
    expect(job('hinge').hours).toBe(24);
  });

  test('without the basal area of today no stem is counted, and the list says what to measure', () => {
    expect(said('felled', 'Stems to cut')).toEqual(['not known', null]);
    expect(job('felled').unknown[0]).toMatch(/prism/);
  });

  test('trail: 300 ft by 6 ft is 1,800 ft², 0.0413 acre', () => {
    expect(said('trail', 'Brush to take')).toEqual(['1,800 ft²', null]);
    expect(job('trail').quantities[2]!.value).toBeCloseTo(1800 * 0.09290304, 6);
    // 0.0413 acre at 30 h is 1.24 h, booked as 1.5.
    expect(job('trail').hours).toBe(1.5);
  });

  test('lane: 0.0826 acre at 3 h is a quarter hour, but a machine comes for four, and is brought', () => {
    expect(job('lane').hours).toBe(4);
    expect(job('lane').money.total).toBe(4 * 110 + 350);
  });

  test('rhizomes: 101 plants in each of 3 rows, a tenth over, in bundles of 25', () => {
    expect(said('screen', 'Rhizomes')).toEqual(['303', '350, in bundles of 25']);
    expect(job('screen').money.material).toBe(350);
  });

  test('seed: 8 lb PLS on an acre is 10.53 lb from the bag at 76%, 5% over, bought as 12 lb', () => {
    expect(said('grass', 'Seed, pure live')).toEqual(['8.0 lb', null]);
    expect(said('grass', 'Seed from the bag')).toEqual(['11 lb', '12 lb']);
    // 12 lb × 0.76 = 9.12 lb PLS at $14 is $127.68, in tens.
    expect(job('grass').money.material).toBe(130);
  });

  test('conifers: 680 an acre at 8 by 8 ft, a tenth over is 748, bought as 750', () => {
    expect(said('pines', 'Seedlings')).toEqual(['680', '750, in bundles of 25']);
  });

  test('food plot: lime and fertilizer wait for a soil test', () => {
    expect(said('plot', 'Seed, pure live')).toEqual(['60 lb', null]);
    expect(said('plot', 'Lime')).toEqual(['after a soil test', null]);
    expect(said('plot', 'Fertilizer')).toEqual(['after a soil test', null]);
    expect(job('plot').unknown).toEqual([
      'Lime: after a soil test, and not in the money.',
      'Fertilizer: after a soil test, and not in the money.',
    ]);
  });

  const plot = (asked: Record<string, number>, rates: Record<string, number> = {}) =>
    jobsOf(
      [
        feature(
          'plot',
          'food',
          EVERY_JOB.find(({ id }) => id === 'plot')!.geometry,
          Object.fromEntries(Object.entries(asked).map(([key, pounds]) => [key, (pounds * POUND) / ACRE])),
        ),
      ],
      rateOf(rateTable(rates)),
      'us',
    ).jobs[0]!;
  const lines = ({ quantities }: Job) =>
    quantities.slice(3).map(({ label, text, buy }) => [label, text, buy]);

  test('an acre that wants 3,000 lb of effective lime takes 5,000 lb at 60%, which are 2.5 tons, bought as 3', () => {
    const found = plot({ lime: 3000, nitrogen: 0, phosphate: 46, potash: 90 }, { 'lime.strength': 0.6 });
    expect(lines(found)).toEqual([
      ['Lime', '2.5 tons', '3.0 tons'],
      ['Urea', '0.0 lb', null],
      // 46 lb over 46% are 100 lb, two bags of 50; 90 lb over 60% are 150 lb, three.
      ['Triple superphosphate', '100 lb', '2 bags of 50 lb'],
      ['Muriate of potash', '150 lb', '3 bags of 50 lb'],
    ]);
    expect(found.unknown).toEqual([]);
    // Seed of $94.62, and 3 × $60, 100 lb at $0.60 and 150 lb at $0.50, are $409.62, in tens.
    expect(found.money.material).toBe(410);
  });

  test('less lime than a truck brings comes in bags; what the test does not say stays open', () => {
    // 640 lb effective over 80% are 800 lb, 20 bags of 40; 100 lb of nitrogen are 217.4 lb of urea, 5 bags of 50.
    const found = plot({ lime: 640, nitrogen: 100 });
    expect(lines(found)).toEqual([
      ['Lime', '800 lb', '20 bags of 40 lb'],
      ['Urea', '217 lb', '5 bags of 50 lb'],
      ['Triple superphosphate', 'after a soil test', null],
      ['Muriate of potash', 'after a soil test', null],
    ]);
    expect(found.unknown).toEqual([
      'Fertilizer, phosphate and potash: after a soil test, and not in the money.',
    ]);
  });

  test('basal area by a prism: 45 in at 5 points are 90 ft² an acre; to 50 in 10 inch stems is 73 on an acre', () => {
    const cut = EVERY_JOB.find(({ id }) => id === 'hinge')!;
    const ft2 = 0.2295684;
    const found = (attributes: Record<string, number>) =>
      jobsOf([{ ...cut, attributes }], rate, 'us').jobs[0]!;
    const counted = found({ prismTrees: 45, prismPoints: 5, basalAreaLeft: 50 * ft2, stem: 0.254 });
    expect(counted.quantities.slice(1).map(({ text }) => text)).toEqual(['90 ft²/acre', '50 ft²/acre', '73']);
    expect(counted.quantities[1]!.how).toBe('45 trees in at 5 points, times the factor of the prism');
    // What was measured goes before what was counted.
    expect(found({ basalArea: 60 * ft2, prismTrees: 45, prismPoints: 5 }).quantities[1]!.text).toBe(
      '60 ft²/acre',
    );
    expect(found({ basalArea: 30 * ft2 }).unknown).toEqual([
      'What is to be cut: less stands there today than is to be left.',
    ]);
    expect(found({ prismTrees: 4, prismPoints: 0 }).quantities[1]!.text).toBe('not known');
  });

  test('crossing: (16 + 20) × 10 × 1 ft is 13.3 yd³, at 1.4 ton 18.7 tons, a tenth over bought as 21', () => {
    expect(said('ford', 'Stone')).toEqual(['13.3 yd³', null]);
    expect(said('ford', 'Stone by weight')).toEqual(['18.7 tons', '21.0 tons']);
    expect(job('ford').money.material).toBe(21 * 45 + 5);
  });

  test('a crossing of unknown width has no price, and says why', () => {
    const [ford] = jobsOf([feature('x', 'gap', line([0, 0], [1, 1]), { type: 'ford' })], rate, 'us').jobs;
    expect(ford!.money.total).toBeNull();
    expect(ford!.unknown.join()).toMatch(/measure it/);
  });
});

test('what stands there today is no work; what is done stays on the list with its day', () => {
  const built = feature('a', 'barricade', line([0, 0], [50, 0]), { done: '2026-02-01' }, 'existing');
  const old = feature('b', 'barricade', line([0, 0], [50, 0]), {}, 'existing');
  const list = jobsOf([built, old], rate, 'us').jobs;
  expect(list.map(({ id, done }) => [id, done])).toEqual([['a', '2026-02-01']]);
});

test('a proposal without numbers is said, not left out', () => {
  const { unpriced } = jobsOf([feature('road', 'road', line([0, 0], [9, 9]))], rate, 'us');
  expect(unpriced).toEqual([{ id: 'road', name: 'The road', kind: 'road' }]);
});

test('a rate is typed in the person’s units and comes back as typed', () => {
  const row = (units: 'us' | 'metric') => rateRows({}, units).find(({ key }) => key === 'screen.seed')!;
  expect([row('us').typed, row('us').unitText]).toEqual([8, 'lb/acre']);
  // 8 lb an acre is 8.967 kg/ha (0.45359237 kg, 0.40468564 ha).
  expect(row('metric').typed).toBeCloseTo(8.967, 3);
  const changed = rateRows({ 'saw.pay': 60 }, 'us').find(({ key }) => key === 'saw.pay')!;
  expect([changed.typed, changed.changed]).toEqual([60, true]);
  for (const { source } of rateRows({}, 'us')) expect(source).not.toBe('');
});
