import { describe, expect, test } from 'vitest';
import { planWork } from '../../../core/plan/plan-work.ts';
import type { Gain, Gains } from '../../../core/plan/types.ts';
import { EVERY_JOB, feature, line, SETTINGS } from './scene.ts';

const gain = (value: number): Gain => ({ value, low: value / 2, high: value * 2 });
const gains = (values: Record<string, number>): Gains => ({
  unit: 'clean hours a season',
  byJob: new Map(Object.entries(values).map(([id, value]) => [id, gain(value)])),
  pairs: [],
  without: new Map(),
  today: 0,
  built: 0,
  notes: [],
});
const plan = (values: Record<string, number>, over = {}, features = EVERY_JOB) =>
  planWork(features, { ...SETTINGS, ...over }, 'us', gains(values), '2026-11-25');

// Money of the scene: barricade $1,040; screen of 303 rhizomes and 6.5 h; perch $410; trail $40.
describe('what first', () => {
  test('by gain for a dollar, as long as the budget lasts', () => {
    const two = EVERY_JOB.filter(({ id }) => id === 'barricade' || id === 'hinge');
    const { ranked } = plan({ barricade: 30, hinge: 20 }, { budget: 1100 }, two);
    expect(ranked.map(({ job, when }) => [job, when])).toEqual([
      ['barricade', 'this winter'],
      ['hinge', 'next year'],
    ]);
    expect(ranked[0]!.perThousandDollars).toBeCloseTo(30 / 1.04, 6);
    expect(ranked[0]!.perHour).toBeCloseTo(30 / 23, 6);
  });

  test('with crew days: 2 people at 7 h', () => {
    const two = EVERY_JOB.filter(({ id }) => id === 'barricade' || id === 'hinge');
    // 23 and 24 hours; two days hold 28.
    const { ranked } = plan({ barricade: 10, hinge: 20 }, { crewDays: 2 }, two);
    expect(ranked.map(({ job, when }) => [job, when])).toEqual([
      ['hinge', 'this winter'],
      ['barricade', 'next year'],
    ]);
  });

  test('a stand whose gain nobody computed brings the way in that ends beside it', () => {
    const two = EVERY_JOB.filter(({ id }) => id === 'perch' || id === 'trail').reverse();
    const { ranked } = plan({}, {}, two);
    expect(ranked.map(({ job }) => job)).toEqual(['trail', 'perch']);
    expect(ranked[1]!.needs).toEqual(['trail']);
    expect(ranked[0]!.why).toMatch(/worth nothing without it/);
  });

  test('what is named as needed counts into the price', () => {
    const features = [
      feature('cheap', 'barricade', line([0, 0], [10, 0]), { needs: 'The dear one' }),
      { ...feature('dear', 'barricade', line([0, 0], [400, 0])), name: 'The dear one' },
      feature('alone', 'barricade', line([0, 50], [60, 50])),
    ];
    const { ranked } = plan({ cheap: 10, alone: 10 }, {}, features);
    expect(ranked.map(({ job }) => job)).toEqual(['alone', 'dear', 'cheap']);
  });

  test('what loses is not worth it; what nobody computed is not known and keeps its place', () => {
    const three = EVERY_JOB.filter(({ id }) => ['barricade', 'hinge', 'plot'].includes(id));
    const { ranked, calendar } = plan({ barricade: -5, plot: 3 }, {}, three);
    expect(ranked.map(({ job, when, gain: g }) => [job, when, g?.value ?? null])).toEqual([
      ['plot', 'this winter', 3],
      ['hinge', 'this winter', null],
      ['barricade', 'not worth it', -5],
    ]);
    expect(calendar.jobs.map(({ job }) => job)).not.toContain('barricade');
  });

  test('next year’s jobs get next year’s days', () => {
    const two = EVERY_JOB.filter(({ id }) => id === 'barricade' || id === 'hinge');
    const { calendar } = plan({ barricade: 30, hinge: 20 }, { budget: 1100 }, two);
    expect(calendar.jobs.map(({ from }) => from!.slice(0, 4))).toEqual(['2027', '2028']);
  });
});

describe('sums', () => {
  const whole = planWork(EVERY_JOB, SETTINGS, 'us', null, '2026-11-25');
  test('by season and by crew come to the same', () => {
    const { all, bySeason, byCrew } = whole.totals;
    for (const parts of [bySeason, byCrew]) {
      expect(parts.reduce((sum, { money }) => sum + money, 0)).toBe(all.money);
      expect(parts.reduce((sum, { hours }) => sum + hours, 0)).toBe(all.hours);
      expect(parts.reduce((sum, { jobs }) => sum + jobs, 0)).toBe(EVERY_JOB.length);
    }
  });

  test('every kind listed has its cautions, and each defers', () => {
    expect(whole.cautions).toHaveLength(14);
    for (const { kind, lines } of whole.cautions) {
      expect(lines.length, kind).toBeGreaterThan(0);
      expect(lines.join(' '), kind).toMatch(/law|licensed|permit|maker|survey/);
    }
  });

  test('upkeep runs from year 2 to 5', () => {
    expect([...new Set(whole.upkeep.map(({ year }) => year))]).toEqual([2, 3, 4, 5]);
    const plot = whole.upkeep.filter(({ job }) => job === 'plot');
    expect(plot.map(({ year }) => year)).toEqual([2, 3, 4, 5]);
  });
});
