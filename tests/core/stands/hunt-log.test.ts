import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Feature } from '../../../core/features/feature.ts';
import { withoutLog } from '../../../core/features/feature.ts';
import type { CaseVerdict } from '../../../core/stands/case-verdict.ts';
import { type LoggedSit, loggedSits, scoreLog, windOfSit } from '../../../core/stands/hunt-log.ts';
import { observationsOf } from '../../../core/stands/observations.ts';
import { countTest, shareTest } from '../../../core/stands/small-counts.ts';
import { viewOnRoutes } from '../../../core/stands/view-on-routes.ts';
import { visitsOf } from '../../../core/stands/visits.ts';
import { outside } from '../../outside.ts';
import { frameOf, point, sightGround, standAt } from './scene.ts';

describe('exact tests of small counts', () => {
  // SciPy's binomtest and fisher_exact, by tests/reference/stands/make_counts.py.
  const { binomial, fisher } = JSON.parse(
    readFileSync(new URL('../../reference/fixtures/stands/counts.json', import.meta.url), 'utf8'),
  ) as {
    binomial: { came: number; of: number; chance: number; p: number }[];
    fisher: { first: [number, number]; second: [number, number]; p: number }[];
  };

  test('agree with SciPy’s binomial test', () => {
    expect(binomial.length).toBeGreaterThan(20);
    const check = outside({
      room: 'stands',
      method: 'Exact test of a count of sits',
      source: 'SciPy 1.10 binomtest',
      unit: 'p',
      allowed: 5e-10,
    });
    for (const { came, of, chance, p } of binomial)
      check.compare(countTest(came, new Array<number>(of).fill(chance)), p);
    check.done();
  });

  test('agree with SciPy’s Fisher test', () => {
    expect(fisher.length).toBeGreaterThan(30);
    const check = outside({
      room: 'stands',
      method: 'Exact test of two shares of sits',
      source: 'SciPy 1.10 fisher_exact',
      unit: 'p',
      allowed: 5e-10,
    });
    for (const { first, second, p } of fisher) check.compare(shareTest(first, second), p);
    check.done();
  });

  test('take every trial at its own chance', () => {
    // Two trials, 0.2 and 0.7, by hand: none 0.24, one 0.62, both 0.14.
    expect(countTest(0, [0.2, 0.7])).toBeCloseTo(0.38, 12);
    expect(countTest(1, [0.2, 0.7])).toBeCloseTo(1, 12);
    expect(countTest(2, [0.2, 0.7])).toBeCloseTo(0.14, 12);
  });
});

const put = (
  id: string,
  kind: Feature['kind'],
  x: number,
  y: number,
  attributes: Feature['attributes'],
): Feature => ({
  id,
  kind,
  status: 'existing',
  name: null,
  geometry: point(x, y),
  attributes,
  source: 'drawn',
});

const caseOf = (wind: string, clean: number, spoiled: number, sat: boolean) =>
  ({
    part: 'morning',
    wind,
    hunt: { usual: sat, keen: sat, dull: sat },
    clean: { usual: clean, low: 0, high: 1 },
    fate: { clean, spoiled, never: 1 - clean - spoiled, alarmed: spoiled },
    why: 'Because.',
  }) as CaseVerdict;

describe('the log', () => {
  const features = [
    put('sit-1', 'visit', 100, 100, {
      date: '2024-11-03',
      who: 'sit',
      stand: 's',
      from: 7,
      to: 9,
      windFrom: 271,
      windSpeed: 3,
    }),
    put('sit-2', 'visit', 100, 100, { date: '2024-11-05', who: 'sit', stand: 's', from: 7, to: 9 }),
    put('mow', 'visit', 100, 100, { date: '2024-11-04', who: 'mowing' }),
    put('seen-1', 'observation', 120, 100, {
      sit: 'sit-1',
      hour: 8,
      what: 'doe',
      count: 2,
      came: 90,
      outcome: 'came in range',
    }),
    put('lost', 'observation', 120, 100, { hour: 8 }),
    put('odd', 'observation', 120, 100, { sit: 'sit-2', outcome: 'flew off', count: -3 }),
  ];

  test('is read from the features and is no part of what the analysis rests on', () => {
    const seen = observationsOf(features);
    expect(seen.map(({ id }) => id)).toEqual(['seen-1', 'odd']);
    expect(seen[0]).toMatchObject({ count: 2, came: 90, outcome: 'came in range', hour: 8 });
    // What is not one of the words is not guessed.
    expect(seen[1]).toMatchObject({ count: 1, outcome: null, hour: null });
    expect(withoutLog(features)).toEqual([]);
  });

  test('lays each sit beside the verdict of its stand, wind and part of the day, or says nothing', () => {
    const stands = [
      {
        stand: {
          type: 'stand' as const,
          id: 's',
          name: 'S',
          at: [100, 100] as [number, number],
          proposed: false,
        },
        cases: [caseOf('W', 0.2, 0.1, true)],
      },
    ];
    const sits = loggedSits(visitsOf(features), observationsOf(features), stands, () => 'morning');
    expect(sits).toHaveLength(2);
    expect(sits[0]).toMatchObject({ wind: 'W', expected: { why: 'Because.' } });
    expect(sits[0]!.observations).toHaveLength(1);
    // Without a wind nothing can be expected.
    expect(sits[1]).toMatchObject({ wind: null, expected: null });
    expect(windOfSit({ windFrom: 200, windSpeed: 0.2 })).toBe('calm');
    expect(windOfSit({ windFrom: 355, windSpeed: 4 })).toBe('N');
  });

  const sit = (
    wind: CaseVerdict,
    outcomes: (string | null)[],
    at: [number, number] = [100, 100],
  ): LoggedSit =>
    ({
      visit: visitsOf(features)[0]!,
      part: 'morning',
      wind: wind.wind,
      expected: wind,
      observations: outcomes.map((outcome, k) => ({
        id: `o${k}`,
        sit: 'x',
        at,
        hour: 8,
        what: null,
        count: 1,
        came: null,
        outcome,
      })),
    }) as LoggedSit;

  test('says too few, then holds scent against what the verdict expects', () => {
    // Of what comes in reach a fifth meets the scent first.
    const wind = caseOf('W', 0.4, 0.1, true);
    const few = scoreLog([sit(wind, ['came in range', 'caught my scent'])], [], null)[0]!;
    expect(few).toMatchObject({ about: 'scent', came: 1, of: 2, luck: null });
    expect(few.expected).toBeCloseTo(0.4, 12);
    expect(few.sentence).toMatch(/Too few to say/);
    const bad = Array.from({ length: 10 }, () => sit(wind, ['caught my scent']));
    const [scent] = scoreLog(bad, [], null);
    expect(scent!.luck!).toBeCloseTo(0.2 ** 10, 9);
    expect(scent!.sentence).toMatch(/More than it expects/);
    const fits = [...Array.from({ length: 8 }, () => sit(wind, ['came in range'])), ...bad.slice(0, 2)];
    expect(scoreLog(fits, [], null)[0]!.sentence).toMatch(/within luck/);
  });

  test('compares winds that can be sat with the others, and blank sits count', () => {
    const good = caseOf('W', 0.4, 0, true);
    const poor = caseOf('E', 0.1, 0.4, false);
    const sits = [
      ...Array.from({ length: 8 }, () => sit(good, ['passed out of range'])),
      ...Array.from({ length: 8 }, () => sit(poor, [])),
    ];
    const winds = scoreLog(sits, [], null).find(({ about }) => about === 'winds')!;
    expect(winds).toMatchObject({ came: 8, of: 8 });
    // Fisher: one table of C(16, 8) each way.
    expect(winds.luck).toBeCloseTo(2 / 12870, 9);
    expect(winds.sentence).toMatch(/better than luck/);
  });

  test('tells whether deer keep to the drawn routes, against the share of the view that lies on one', () => {
    const frame = frameOf(120, 120, 2.5);
    const routes = [
      {
        id: 'r',
        from: 'a',
        to: 'b',
        when: 'any' as const,
        path: [
          [0, 150],
          [300, 150],
        ] as [number, number][],
        length: 300,
        minutes: 7,
        share: 1,
      },
    ];
    const share = viewOnRoutes(
      sightGround(frame, () => 50),
      [standAt(150, 150, { seatHeight: 3 })],
      routes,
      'off',
    );
    // Open ground all in view but what lies past 250 m: a band of 50 m in a square of 300 m.
    expect(share).toBeCloseTo(50 / 300, 1);
    const wind = caseOf('W', 0.4, 0.1, true);
    const on = Array.from({ length: 9 }, () => sit(wind, [null], [90, 160]));
    const off = Array.from({ length: 9 }, () => sit(wind, [null], [90, 260]));
    const places = (sits: LoggedSit[]) =>
      scoreLog(sits, routes, share).find(({ about }) => about === 'places')!;
    expect(places(on)).toMatchObject({ came: 9, of: 9 });
    expect(places(on).sentence).toMatch(/keep to the computed travel/);
    expect(places(off)).toMatchObject({ came: 0, of: 9 });
    expect(places(off).sentence).toMatch(/may be luck/);
    expect(scoreLog(on, routes, null).some(({ about }) => about === 'places')).toBe(false);
  });
});
