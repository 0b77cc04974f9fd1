import { expect, it } from 'vitest';
import type { Point } from '../../../core/grid/frame.ts';
import { draftRulings } from '../../../core/plan/draft-rulings.ts';
import { draftStands } from '../../../core/plan/draft-stands.ts';
import { rateOf, rateTable } from '../../../core/plan/rates.ts';
import type { StandRuling, TriedChange } from '../../../core/stands/ruling-types.ts';
import type { JudgedSite } from '../../../core/stands/site-judge.ts';
import { feature, point } from './scene.ts';

/** A square of 400 m that is the client's. */
const rings: Point[][] = [
  [
    [0, 0],
    [400, 0],
    [400, 400],
    [0, 400],
    [0, 0],
  ],
];
const rules = { rate: rateOf(rateTable({})), units: 'us' as const, prefix: 'draft' };

const site = (name: string, at: Point, value: number, faults: JudgedSite['faults'] = []): JudgedSite =>
  ({
    spot: { id: name, name, at, seatHeight: 5, weapon: 'bow', range: 27, seatKnown: true, proposed: true },
    seat: 'tower',
    value,
    potential: value,
    faults,
    reasons: ['Its wind lets it be hunted 16 h a week.'],
  }) as unknown as JudgedSite;

it('stands go where a search found nothing against them, and never within ten metres of the line', () => {
  const { ideas, passed } = draftStands(
    {
      sites: [
        site('Site 1', [200, 200], 0.03),
        site('Site 2', [395, 200], 0.03),
        site('Site 3', [100, 100], 0.002),
      ],
      ifWay: [site('Site 4', [300, 300], 0.02, [{ key: 'way', sentence: 'No clean way in.' }])],
      passed: [],
    },
    rings,
    rules,
  );
  expect(ideas).toHaveLength(1);
  expect(ideas[0]!.feature).toMatchObject({
    kind: 'stand',
    status: 'proposed',
    attributes: { structure: 'tower', towerHeight: 5, range: 27 },
  });
  expect(ideas[0]!.reasons[0]).toContain('3.0% of all travel');
  expect(passed.map(({ why }) => why)).toEqual([
    'It would hang within 11 yd of the property line.',
    'It would meet 0.2% of all travel clean: too little for the work.',
    'It would meet 2.0% of all travel clean, but: No clean way in.',
  ]);
});

const change = (more: Partial<TriedChange>): TriedChange => ({
  ruling: 'move',
  what: 'Move it 40 yd.',
  hours: 12,
  gained: 10,
  worth: 0.04,
  seen: null,
  at: null,
  lines: [],
  doubts: ['A fault.'],
  ...more,
});
const ruling = (word: StandRuling['ruling'], given: TriedChange | null): StandRuling => ({
  stand: { id: 'perch', name: 'Perch', at: [200, 200] },
  ruling: word,
  hours: 2,
  byWind: 12,
  worth: 0.01,
  worst: null,
  change: given,
  tried: [],
  sentence: 'Retire Perch.',
  doubts: [],
});
const perch = feature('perch', 'stand', point(200, 200), { seatHeight: 6, weapon: 'bow' }, 'existing');

it('a ruling that moves or screens a stand is proposed on own ground, others are told', () => {
  const { ideas, passed, advice } = draftRulings(
    [
      ruling('move', change({ at: [240, 200] })),
      ruling('move', change({ at: [440, 200] })),
      ruling(
        'screen',
        change({
          ruling: 'screen',
          lines: [
            [
              [100, 100],
              [150, 100],
            ],
          ],
        }),
      ),
      ruling(
        'new way in',
        change({
          ruling: 'new way in',
          what: 'Rake it.',
          lines: [
            [
              [0, 0],
              [50, 50],
            ],
          ],
        }),
      ),
      ruling('retire', null),
      ruling('keep', null),
    ],
    [perch],
    rings,
    rules,
  );
  expect(ideas.map(({ feature: made }) => [made.kind, made.geometry.type])).toEqual([
    ['stand', 'Point'],
    ['screen', 'MultiLineString'],
  ]);
  expect(ideas[0]!.gain).toBeCloseTo(0.03, 12);
  expect(ideas[0]!.feature.attributes).toEqual({ seatHeight: 6, weapon: 'bow' });
  expect(ideas[0]!.cautions).toEqual(['Perch comes down where it hangs.', 'A fault.']);
  expect(passed).toHaveLength(1);
  expect(advice).toEqual([
    { what: 'Perch: new way in', why: 'Rake it. Usable 12 h a week with it, 2.0 h now.' },
    { what: 'Perch: retire', why: 'Retire Perch.' },
  ]);
});
