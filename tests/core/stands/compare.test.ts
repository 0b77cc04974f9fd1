import { describe, expect, test } from 'vitest';
import { HUNTED, type StandCases } from '../../../core/stands/case-verdict.ts';
import {
  cleanOverall,
  comparedSentences,
  comparedStand,
  type Sitting,
} from '../../../core/stands/compare.ts';
import { DEFAULT_HUNT } from '../../../core/stands/hunt-settings.ts';
import { lookFrom } from '../../../core/stands/look.ts';
import { DEFAULT_STANDS } from '../../../core/stands/settings.ts';
import { type PartWay, usableHours, windsToWalkIn } from '../../../core/stands/sitting.ts';
import { standVerdict } from '../../../core/stands/verdict.ts';
import { frameOf, sightGround, standAt } from './scene.ts';

// Two winds at every part of the day; what is clean, and how often each blows, is given by hand.
const lawful = { 'before sunrise': 0, morning: 10, midday: 20, evening: 30 };
const casesOf = (id: string, clean: number, share: number | null): StandCases => ({
  stand: { type: 'stand', id, name: id, at: [0, 0], proposed: false },
  cases: HUNTED.flatMap((part) =>
    ['W', 'E'].map((wind) => ({
      part,
      wind,
      speed: 3,
      share: { share: share === null ? null : wind === 'W' ? share : 1 - share, low: 0, high: 1 },
      air: 'D' as const,
      fate: { clean, spoiled: 0, never: 1 - clean, alarmed: 0 },
      clean: { usual: clean, low: clean / 2, high: Math.min(1, clean * 2) },
      directions: [],
      bedding: [],
      hangs: false,
      spoilt: null,
      hunt: { usual: wind === 'W', keen: wind === 'W', dull: true },
      why: '',
    })),
  ),
  reach: { 'before sunrise': 1, morning: 1, midday: 1, evening: 1 },
  inView: 40,
  routes: [],
  reached: new Int32Array(0),
  scented: [],
  spacing: 5,
});
const ground = {
  ...sightGround(frameOf(60, 60, 5), () => 200),
  features: [],
  corridors: [],
  necks: [],
  junctions: [],
  routes: [],
};
const sitting = (id: string, clean: number, share: number | null, ways: PartWay[], x = 150): Sitting => {
  const spot = standAt(x, 150, { id, name: id });
  const cases = casesOf(id, clean, share);
  const { reach } = lookFrom(spot, ground, DEFAULT_STANDS, 'us');
  return { spot, cases, verdict: standVerdict(cases, lawful, DEFAULT_HUNT), reach, ways };
};
const way = (part: PartWay['part'], clean: boolean | null): PartWay => ({ part, walks: [], clean });

describe('stands side by side', () => {
  test('the clean share is a mean over the hours hunted, weighed by light and wind', () => {
    // W blows a quarter of the time: 60 h × 0.25 are hunted, all at the same clean share.
    const one = comparedStand(sitting('a', 0.4, 0.25, []), lawful);
    expect(one.clean).toEqual({ usual: 0.4, low: 0.2, high: 0.8 });
    expect(one.verdict.hours!.usual).toBeCloseTo(15, 10);
    // Two parts with different clean shares, recounted by hand: (10 h × 0.1 + 20 h × 0.4) / 30 h.
    const cases = casesOf('b', 0.4, 1);
    for (const each of cases.cases) {
      if (each.part === 'morning') each.clean = { usual: 0.1, low: 0.1, high: 0.1 };
      if (each.part === 'evening') each.hunt = { usual: false, keen: false, dull: false };
    }
    expect(cleanOverall(cases, lawful)!.usual).toBeCloseTo((10 * 0.1 + 20 * 0.4) / 30, 10);
  });
  test('hours whose way in is not clean are not usable; a way that is not known is not held against it', () => {
    const { verdict } = sitting('a', 0.4, 0.5, []);
    // 5 h in the morning, 10 at midday, 15 in the evening.
    expect(
      usableHours(verdict, [way('morning', true), way('midday', false), way('evening', null)]),
    ).toBeCloseTo(20, 10);
    expect(windsToWalkIn(verdict)).toEqual({ morning: 'W', midday: 'W', evening: 'W' });
  });
  test('what is not known is said and is null, never a number', () => {
    const bare = comparedStand(sitting('a', 0.4, null, [way('morning', null)]), lawful);
    expect(bare.verdict.hours).toBeNull();
    expect(bare.usable).toBeNull();
    expect(bare.shareInReach).toBeNull();
    expect(bare.unknown.join(' ')).toMatch(
      /Without a wind record.*Without drawn routes.*Where you come from/,
    );
    // Without a record every wind counts alike: half of the light, whose clean share is 0.4.
    expect(bare.clean!.usual).toBeCloseTo(0.4, 10);
  });
  test('says which is best at what, and which hunt the same deer', () => {
    const stands = [
      sitting('Ridge', 0.4, 0.25, [way('morning', false)]),
      sitting('Bottom', 0.1, 0.75, [way('morning', true)], 190),
    ].map((each) => comparedStand(each, lawful));
    const said = comparedSentences(stands, 150, 'metric').join(' ');
    // Ridge: 0.25 × 0.4 of all hours; Bottom: 0.75 × 0.1, but three times the hours.
    expect(said).toContain('Ridge meets the most travel clean: 10%');
    expect(said).toContain('Bottom can be hunted the most hours: 45.0 a week.');
    expect(said).toContain('Only Bottom can be walked to cleanly');
    expect(said).toContain('Ridge and Bottom stand 40 m apart');
  });
});
