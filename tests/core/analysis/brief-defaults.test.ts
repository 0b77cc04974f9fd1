import { describe, expect, test } from 'vitest';
import { briefDefaults, takenFromBrief, withBrief } from '../../../core/analysis/brief-defaults.ts';
import { DEFAULT_SETTINGS, laidOver, type Settings } from '../../../core/analysis/settings.ts';

const changed = (settings: Settings, patch: Record<string, unknown>): Settings =>
  laidOver(settings, withBrief(settings, patch)) as unknown as Settings;
const answered = (brief: Partial<Settings['brief']>, from = DEFAULT_SETTINGS): Settings =>
  changed(from, { brief });

describe('what the brief sets', () => {
  test('nothing while nobody answered, and words alone set nothing', () => {
    expect(briefDefaults(DEFAULT_SETTINGS, 'us')).toEqual([]);
    const { brief, ...rest } = answered({ hunters: 'two brothers', weapon: 'bow' });
    expect(brief.hunters).toBe('two brothers');
    expect({ ...rest, brief: DEFAULT_SETTINGS.brief }).toEqual(DEFAULT_SETTINGS);
  });

  test('pace and the longest way in by how they walk, the start, when and how they come', () => {
    const { hunt, plan, stands } = answered({
      onFoot: 'short and level',
      arrive: 'vehicle',
      startFrom: 'gate-1',
      season: { from: '10-01', to: '12-31' },
      parts: 'evenings',
      neighbour: 'may be crossed',
    });
    expect(hunt.legs).toEqual({ pace: 0.65, longest: 400 });
    expect(hunt).toMatchObject({ arrive: 'vehicle', startFrom: 'gate-1', parts: ['evening'] });
    expect(hunt.season).toEqual({ from: '10-01', to: '12-31' });
    expect(plan.calendar.season).toEqual({ from: '10-01', to: '12-31' });
    expect(stands.allowNeighbour).toBe(true);
  });

  test('money, days, a machine of their own and stock for the work', () => {
    const { plan } = answered({
      budget: 4000,
      crewDays: 6,
      machine: 'their own',
      stockSpan: { from: '04-15', to: '10-31' },
    });
    expect(plan).toMatchObject({ budget: 4000, crewDays: 6 });
    expect(plan.rates).toEqual({ 'machine.move': 0, 'machine.least': 0 });
    expect(plan.calendar.stock).toEqual({ from: '04-15', to: '10-31' });
  });

  test('far and steep is an answer too, though it sets no limit', () => {
    const rows = briefDefaults(answered({ onFoot: 'far and steep' }), 'us');
    expect(rows[0]).toMatchObject({ key: 'hunt.legs.longest', asked: 'no limit', fromBrief: true });
  });
});

describe('by hand and by the brief', () => {
  const byHand = changed(answered({ season: { from: '10-01', to: '12-31' }, budget: 4000 }), {
    plan: { budget: 9000 },
  });

  test('what was set by hand counts and is told as such', () => {
    expect(byHand.plan.budget).toBe(9000);
    const row = briefDefaults(byHand, 'us').find(({ key }) => key === 'plan.budget');
    expect(row).toEqual({
      key: 'plan.budget',
      title: 'Money a year',
      asked: '$4,000',
      set: '$9,000',
      fromBrief: false,
    });
    // Another answer does not move it either; what was left to the brief follows.
    const later = answered({ budget: 5000, season: { from: '11-01', to: '11-30' } }, byHand);
    expect(later.plan.budget).toBe(9000);
    expect(later.hunt.season.from).toBe('11-01');
  });

  test('can be given back to the brief', () => {
    const patch = takenFromBrief(byHand, 'plan.budget')!;
    expect(patch).toEqual({ plan: { budget: 4000 } });
    expect(changed(byHand, patch).plan.budget).toBe(4000);
    expect(takenFromBrief(byHand, 'plan.crewDays')).toBeNull();
  });

  test('an answer taken back leaves the usual value, and the table’s rate', () => {
    const none = withBrief(answered({ machine: 'their own', parts: 'evenings' }), {
      brief: { machine: null, parts: null },
    });
    expect(none.hunt).toEqual({ parts: DEFAULT_SETTINGS.hunt.parts });
    // Null takes a rate of one's own away.
    expect(none.plan).toEqual({ rates: { 'machine.move': null, 'machine.least': null } });
  });

  test('a change that sets the same setting itself wins', () => {
    const both = changed(DEFAULT_SETTINGS, { brief: { budget: 4000 }, plan: { budget: 100 } });
    expect(both.plan.budget).toBe(100);
  });
});
