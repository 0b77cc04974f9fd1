import { describe, expect, test } from 'vitest';
import { CRUISING, wilson } from '../../../core/air/season.ts';
import type { WindRecord } from '../../../core/air/types.ts';
import type { Frame, Grid, Point } from '../../../core/grid/frame.ts';
import {
  type CaseVerdict,
  HUNTED,
  runsIn,
  type StandCases,
  standCases,
} from '../../../core/stands/case-verdict.ts';
import { DEFAULT_HUNT } from '../../../core/stands/hunt-settings.ts';
import { cleanSits, scentMask } from '../../../core/stands/scent-mask.ts';
import { makeWinds, seasonAir, WINDS } from '../../../core/stands/scent-study.ts';
import { apartPairs, mayJoin, seasonSheet, takenBy, together } from '../../../core/stands/season-sheet.ts';
import { standVerdict } from '../../../core/stands/verdict.ts';
import type { Route } from '../../../core/travel/types.ts';

// Level open ground: wind goes where the wind blows, so what comes clean can be told by hand.
const frame: Frame = {
  epsg: 26917,
  west: 400_000,
  north: 4_200_000,
  cellSize: 20,
  width: 50,
  height: 50,
  longitude: -82,
  latitude: 38,
  convergence: 0,
};
const count = frame.width * frame.height;
const grid = (value: number): Grid => ({ frame, cells: new Float32Array(count).fill(value) });
const place = (east: number, south: number): Point => [frame.west + east, frame.north - south];
const start = Date.parse('2022-10-20T00:00:00Z') / 3_600_000;
const hours = Int32Array.from({ length: 40 * 24 }, (_, k) => start + k);
// West wind on odd days, east wind on even days, always 4 m/s.
const record: WindRecord = {
  station: 'invented',
  hours,
  direction: Float32Array.from(hours, (hour) => (Math.floor((hour - 17) / 24) % 2 === 0 ? 90 : 270)),
  speed: new Float32Array(hours.length).fill(4),
  temperature: new Float32Array(hours.length).fill(Number.NaN),
  sky: new Float32Array(hours.length).fill(8),
  notes: [],
};
const route = (
  id: string,
  path: Point[],
  when: Route['when'],
  share: number,
  from = 'Bed',
  to = 'Field',
): Route => ({
  id,
  from,
  to,
  when,
  path,
  length: 1,
  minutes: 1,
  share,
});
// The stand is in the middle. Deer come from the west to within reach at dusk, from the east at dawn, and pass far north.
const routes = [
  route('from west', [place(100, 500), place(495, 500)], 'dusk', 0.5),
  route('from east', [place(900, 500), place(505, 500)], 'dawn', 0.3, 'Field', 'Bed'),
  route('far', [place(100, 60), place(900, 60)], 'any', 0.2, 'Bed', 'Other bed'),
];
const reach: Grid<Uint8Array> = {
  frame,
  cells: Uint8Array.from({ length: count }, (_, i) => {
    const x = (i % 50) * 20 + 10;
    const y = Math.floor(i / 50) * 20 + 10;
    return Math.hypot(x - 500, y - 500) < 40 ? 1 : 0;
  }),
};
const inputs = {
  elevation: grid(200),
  cover: { frame, cells: new Uint8Array(count).fill(1) },
  canopy: grid(0),
  poolDepth: grid(0),
  wind: record,
  ground: {
    areas: { frame, cells: new Int32Array(count) },
    travelAreas: [],
    routes,
    channels: [],
    features: [],
  },
  reach,
};
const subject = {
  type: 'stand' as const,
  id: 's',
  name: 'Middle stand',
  at: place(500, 500),
  seatHeight: 1.5,
  proposed: false,
};
const noon = Date.parse('2022-11-05T17:00:00Z') / 3_600_000;
const air = seasonAir(inputs, CRUISING, noon, 50);
makeWinds(air, ['midday', 'evening'], 0, () => {});
const found = standCases(subject, inputs, air, { hunt: DEFAULT_HUNT });
const one = (part: string, wind: string): CaseVerdict =>
  found.cases.find((each) => each.part === part && each.wind === wind)!;

describe('scent kept apart from travel', () => {
  const mask = scentMask(subject, inputs, air);
  test('gives every case what the verdict gives it, for the usual nose', () => {
    const sits = cleanSits(mask, routes, reach, DEFAULT_HUNT);
    expect(mask.cases.map(({ part, wind }) => [part, WINDS[wind]])).toEqual(
      found.cases.map(({ part, wind }) => [part, wind]),
    );
    found.cases.forEach(({ hunt, fate }, k) => {
      expect(sits.usual[k]).toBeCloseTo(hunt.usual ? fate!.clean : 0, 12);
      expect(sits.keen[k]! > 0).toBe(hunt.keen);
      expect(sits.dull[k]! > 0).toBe(hunt.dull);
    });
    expect(sits.usual.some((share) => share > 0)).toBe(true);
    expect(sits.usual.some((share) => share === 0)).toBe(true);
  });
  test('judges other travel past the same stand, and nothing where no clean way leads in', () => {
    // All of it comes from the west at dusk, half of it did: what is clean in a west wind's lee doubles.
    const all = routes.map((each) => ({ ...each, share: each.id === 'from west' ? 1 : 0 }));
    const evening = found.cases.findIndex(({ part, hunt }) => part === 'evening' && hunt.usual);
    expect(found.cases[evening]!.fate!.clean).toBeCloseTo(0.5 / 0.7, 12);
    expect(cleanSits(mask, all, reach, DEFAULT_HUNT).usual[evening]).toBeCloseTo(1, 12);
    expect(cleanSits(mask, all, reach, DEFAULT_HUNT, ['evening']).usual[evening]).toBe(0);
  });
});

describe('cases', () => {
  test('every part of the day with light meets 16 winds and the calm, and shares add up', () => {
    expect(found.cases).toHaveLength(4 * 17);
    for (const { fate } of found.cases) expect(fate!.clean + fate!.spoiled + fate!.never).toBeCloseTo(1, 12);
  });
  test('deer that come with the wind in their faces meet the scent first, those from behind it do not', () => {
    // By day in a steady wind: dusk deer come from the west.
    expect(one('evening', 'W').fate!.spoiled).toBe(0);
    expect(one('evening', 'W').fate!.clean).toBeCloseTo(0.5 / 0.7, 10);
    expect(one('evening', 'E').fate!.clean).toBe(0);
    expect(one('evening', 'E').fate!.spoiled).toBeCloseTo(0.5 / 0.7, 10);
    expect(one('evening', 'E').spoilt).toMatchObject({ from: 'Bed', to: 'Field' });
    expect(one('morning', 'E').fate!.clean).toBeCloseTo(0.3 / 0.5, 10);
    expect(one('morning', 'W').fate!.clean).toBe(0);
    // Nothing in reach runs at midday.
    expect(one('midday', 'W').fate!.never).toBe(1);
    expect(one('evening', 'W').hunt.usual).toBe(true);
    expect(one('evening', 'E').hunt.usual).toBe(false);
  });
  test('travel runs at dawn or dusk or at any hour', () => {
    expect(HUNTED.filter((part) => runsIn('dawn', part))).toEqual(['before sunrise', 'morning']);
    expect(HUNTED.filter((part) => runsIn('dusk', part))).toEqual(['evening']);
    expect(HUNTED.filter((part) => runsIn('any', part))).toEqual([...HUNTED]);
  });
  test('a band holds its share, and a first look of fewer winds agrees with the whole', () => {
    for (const { clean } of found.cases) {
      expect(clean!.low).toBeLessThanOrEqual(clean!.usual);
      expect(clean!.high).toBeGreaterThanOrEqual(clean!.usual);
    }
    const look = standCases(subject, inputs, air, {
      hunt: DEFAULT_HUNT,
      winds: [WINDS.indexOf('W')],
      parts: ['evening'],
    });
    expect(look.cases).toEqual([one('evening', 'W')]);
  });
});

describe('the verdict of a season', () => {
  const lawful = { 'before sunrise': 3.5, morning: 24, midday: 24, evening: 28 };
  test('weighs the hours of light by the wind', () => {
    const verdict = standVerdict(found, lawful, DEFAULT_HUNT);
    // Recounted by hand from the cases and their shares of the record.
    let expected = 0;
    for (const part of HUNTED)
      for (const each of found.cases)
        if (each.part === part && each.hunt.usual) expected += lawful[part] * each.share.share!;
    expect(expected).toBeGreaterThan(10);
    expect(verdict.hours!.usual).toBeCloseTo(expected, 10);
    expect(verdict.best!.part).toBe('evening');
    expect(verdict.best!.winds).toContain('W');
    const lost = verdict.spoils.reduce((sum, spoil) => sum + spoil.hours, 0);
    expect(lost + expected).toBeCloseTo(79.5, 6);
    expect(verdict.spoils.map(({ cause }) => cause).join()).toMatch(/from Bed to Field meet the scent first/);
    // Resting four days after each sit of four hours leaves 7 / 5 sits.
    expect(verdict.rested).toBeCloseTo(5.6, 10);
  });
  test('without a record no hours are told, but the winds are', () => {
    const bare = { ...found, cases: found.cases.map((each) => ({ ...each, share: wilson(0, 0) })) };
    const verdict = standVerdict(bare, lawful, DEFAULT_HUNT);
    expect(verdict.hours).toBeNull();
    expect(verdict.rested).toBeNull();
    expect(verdict.parts.find(({ part }) => part === 'evening')!.winds).toContain('W');
    expect(verdict.sentences[0]).toMatch(/No wind record/);
  });
});

describe('the season sheet', () => {
  const other: StandCases = {
    ...structuredClone(found),
    stand: { ...found.stand, id: 'far', name: 'Far stand', at: [found.stand.at[0] + 400, found.stand.at[1]] },
  };
  for (const each of other.cases) {
    each.hunt = { usual: each.wind === 'E', keen: false, dull: true };
    if (each.clean) each.clean = { usual: 0.3, low: 0.2, high: 0.4 };
  }
  const windows = [{ name: 'cruising', from: '10-25', to: '11-15' }];
  const sheet = seasonSheet([found, other], windows, () => 0.1, 150);

  test('has a line for every wind and part of the day, the best stand first or stay home', () => {
    expect(sheet.cases).toHaveLength(4 * 17);
    const west = sheet.cases.find(({ part, wind }) => part === 'evening' && wind === 'W')!;
    expect(west.choices.map(({ stand }) => stand)).toEqual(['s']);
    const east = sheet.cases.find(({ part, wind }) => part === 'evening' && wind === 'E')!;
    expect(east.choices).toEqual([{ stand: 'far', clean: 0.3, firm: false, ways: [] }]);
    const north = sheet.cases.find(({ part, wind }) => part === 'midday' && wind === 'N')!;
    expect(north.choices).toEqual([]);
    expect(north.home).toMatch(/Far stand|Middle stand/);
  });
  test('stands that take each other’s deer or stand too close are not sat together', () => {
    // The other has the same routes and scent, so where one spoils nothing the other does not either.
    const near = { ...other, stand: { ...other.stand, at: found.stand.at } };
    expect(apartPairs([found, near], 150)[0]!.cases).toBeNull();
    const k = found.cases.findIndex(({ part, wind }) => part === 'evening' && wind === 'W');
    expect(takenBy(found, k, new Int32Array(3).fill(-1))).toBe(0);
    expect(takenBy(found, k, new Int32Array(3).fill(0))).toBe(1);
    // Of travel at that part of the day only: the dawn route does not count in the evening.
    expect(takenBy(found, k, Int32Array.of(-1, 0, 0))).toBe(0);
    const upwind = { ...other, scented: other.scented.map(() => new Int32Array(3).fill(0)) };
    const apart = apartPairs([found, upwind], 150);
    expect(mayJoin(apart, 's', 'far', 'evening', 'W')).toBe(false);
    expect(mayJoin(apart, 's', 'far', 'midday', 'N')).toBe(true);
  });
  test('several hunters get the best stands that go together', () => {
    const choice = (stand: string, clean: number) => ({ stand, clean, firm: true });
    const choices = [choice('a', 0.5), choice('b', 0.4), choice('c', 0.3)];
    const apart = [{ stands: ['a', 'b'] as [string, string], cases: null, why: '' }];
    const names = (hunters: number) =>
      together(choices, hunters, apart, 'evening', 'W').map(({ stand }) => stand);
    expect(names(1)).toEqual(['a']);
    expect(names(2)).toEqual(['a', 'c']);
    // Three cannot go: two is the most.
    expect(names(3)).toEqual(['a', 'c']);
  });
});
