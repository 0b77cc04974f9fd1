import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import { ASSUMPTION_SUBJECTS, subjectOf } from '../../../core/travel/assumption-groups.ts';
import { ASSUMPTION_SETS } from '../../../core/travel/assumption-sets.ts';
import { travelAssumptions, weightsOf } from '../../../core/travel/assumptions.ts';
import { barriersOf } from '../../../core/travel/barriers.ts';
import { featuresAt } from '../../../core/travel/moment.ts';
import { box, feature, frameOf, line, point, runScene } from './scene.ts';

const weights = weightsOf(travelAssumptions({}));
const costAt = (features: Parameters<typeof featuresAt>[0], date: string | null, year = 0): number | null =>
  barriersOf(featuresAt(features, { date, year }), weights)[0]?.cost ?? null;

describe('features at a moment', () => {
  it('come and go with their season, also over New Year', () => {
    const span = feature('gap', point(5, 0), { type: 'lowered', from: '10-15', to: '01-31' });
    const there = (date: string | null) => featuresAt([span], { date, year: 0 }).length === 1;
    expect(['10-15', '12-31', '01-31'].map(there)).toEqual([true, true, true]);
    expect(['10-14', '02-01', '07-04'].map(there)).toEqual([false, false, false]);
    expect(there(null)).toBe(true);
  });

  it('rot: a barricade is lower every year and gone in the end', () => {
    const tops = feature('barricade', line([0, 0], [50, 0]), { height: 1.5, lasts: 5 });
    const costs = [0, 1, 2, 3].map((year) => costAt([tops], null, year)!);
    for (let k = 1; k < costs.length; k++) expect(costs[k]!).toBeLessThan(costs[k - 1]!);
    expect(costAt([tops], null, 5)).toBeNull();
  });

  it('thicken: a cut hides more with the years', () => {
    const cut = feature('cut', box(0, 0, 50, 50));
    const hidden = [0, 1, 2, 3, 5].map(
      (year) => featuresAt([cut], { date: null, year })[0]!.attributes.screening as number,
    );
    for (let k = 1; k < hidden.length; k++) expect(hidden[k]!).toBeGreaterThanOrEqual(hidden[k - 1]!);
    expect(hidden.at(-1)!).toBeGreaterThan(hidden[0]! + 0.5);
  });

  it('rise: a creek in high water costs more to cross', () => {
    const creek = feature('creek', line([0, 0], [50, 0]), {
      width: 4,
      depth: 0.3,
      highFrom: '03-01',
      highTo: '05-15',
      highDepth: 1.5,
    });
    expect(costAt([creek], '04-01')!).toBeGreaterThan(costAt([creek], '10-01')! + 20);
  });

  it('leave out food with stock in it', () => {
    const pasture = feature('food', box(0, 0, 9, 9), { stockFrom: '05-01', stockTo: '09-30' });
    expect(featuresAt([pasture], { date: '06-15', year: 0 })).toEqual([]);
    expect(featuresAt([pasture], { date: '11-15', year: 0 })).toHaveLength(1);
  });

  it('standing corn hides travel across the field', () => {
    const frame = frameOf(80, 60, 5);
    const corn = feature('crop', box(100, 0, 300, 300), { standingFrom: '06-01', standingTo: '10-20' });
    const at = (date: string) => {
      const features = featuresAt([corn], { date, year: 0 });
      return runScene(frame, () => COVER.open, features, { runs: 0 }).resistance.cells[30 * 80 + 40]!;
    };
    expect(at('09-01')).toBeLessThan(at('11-15'));
  });
});

describe('subjects', () => {
  it('hold every assumption once', () => {
    const held: string[] = Object.values(ASSUMPTION_SUBJECTS).flat();
    expect([...held].sort()).toEqual(
      travelAssumptions({})
        .map(({ key }) => key)
        .sort(),
    );
    expect(subjectOf('creekBank')).toBe('Water and creeks');
  });
});

describe('assumption sets', () => {
  it('name only weights there are, and hold them in range', () => {
    for (const key of Object.keys(ASSUMPTION_SETS) as (keyof typeof ASSUMPTION_SETS)[]) {
      const rows = travelAssumptions({}, key);
      for (const [weight, value] of Object.entries(ASSUMPTION_SETS[key].overrides)) {
        const row = rows.find((r) => r.key === weight)!;
        expect(row.value).toBe(value);
        expect(row.low).toBeLessThanOrEqual(value as number);
        expect(row.high).toBeGreaterThanOrEqual(value as number);
        expect(row.source).toBe('our assumption');
      }
    }
  });

  it('fitted to sightings say so, and are the usual ones before there is one', () => {
    const fitted = { label: 'Fitted to 40 sightings', holds: '', weights: { exposure: 12 } };
    const rows = travelAssumptions({}, 'fitted', fitted);
    const row = rows.find(({ key }) => key === 'exposure')!;
    expect(row).toMatchObject({ value: 12, source: 'fitted to the sightings of this property' });
    expect(rows.filter(({ source }) => source.startsWith('fitted'))).toHaveLength(1);
    expect(travelAssumptions({}, 'fitted')).toEqual(travelAssumptions({}));
    const wrong = { ...fitted, weights: { expossure: 12 } };
    expect(() => travelAssumptions({}, 'fitted', wrong)).toThrow(/expossure/);
  });

  it('yield to the user’s own weights', () => {
    const row = travelAssumptions({ exposure: 2 }, 'pressed').find(({ key }) => key === 'exposure')!;
    expect(row).toMatchObject({ value: 2, source: 'set by the user' });
  });

  it('differ by night and day: open ground costs less in the dark', () => {
    const exposure = (key: 'usual' | 'night' | 'pressed') => weightsOf(travelAssumptions({}, key)).exposure;
    expect(exposure('night')).toBeLessThan(exposure('usual'));
    expect(exposure('pressed')).toBeGreaterThan(exposure('usual'));
  });
});
