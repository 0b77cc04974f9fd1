import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type SeasonWind, seasonWind } from '../../../core/air/season.ts';
import type { WindRecord } from '../../../core/air/types.ts';
import { SECTORS } from '../../../core/air/types.ts';
import { daysOf } from '../../../core/stands/calendar.ts';
import { type CaseVerdict, HUNTED, type StandCases } from '../../../core/stands/case-verdict.ts';
import { type CalendarInput, hourCalendar } from '../../../core/stands/hour-calendar.ts';
import { legalLight } from '../../../core/stands/legal-light.ts';
import { WINDS } from '../../../core/stands/scent-study.ts';
import { outside } from '../../outside.ts';

const place = { longitude: -81.7, latitude: 39.3, elevation: 250 };
const rule = { before: 30, after: 20 };
const GOOD: Record<string, string[]> = {
  'before sunrise': ['W'],
  morning: ['W', 'WNW', 'NW'],
  midday: [],
  evening: ['S', 'calm'],
};

/** A stand with some good winds by part of the day; a duller nose bears one more in the morning. */
function stand(id: string, good: Record<string, string[]> = GOOD): Pick<StandCases, 'stand' | 'cases'> {
  const cases = HUNTED.flatMap((part) =>
    WINDS.map((wind) => {
      const usual = good[part]!.includes(wind);
      const dull = usual || (part === 'morning' && wind === 'N');
      return { part, wind, hunt: { usual, keen: usual, dull }, why: `Reasons of ${wind}.` } as CaseVerdict;
    }),
  );
  return { stand: { type: 'stand', id, name: id, at: [0, 0], proposed: false }, cases };
}

/** By the same rule as in tests/reference/stands/make_hours.py. */
function madeRecord(): WindRecord {
  const count = 24 * 400;
  const start = Date.UTC(2021, 8, 1) / 3_600_000;
  const numbers = Array.from({ length: count }, (_, k) => k);
  return {
    station: 'made',
    hours: Int32Array.from(numbers, (k) => start + k),
    direction: Float32Array.from(numbers, (k) =>
      k % 11 === 0 || k % 23 === 0 ? Number.NaN : (k * 7919) % 360,
    ),
    speed: Float32Array.from(numbers, (k) => (k % 11 === 0 ? 0 : 3)),
    temperature: new Float32Array(count).fill(Number.NaN),
    sky: new Float32Array(count).fill(0),
    notes: [],
  };
}

const months = new Map<number, SeasonWind>();
function wind(month: number, part: string) {
  let table = months.get(month);
  if (!table) {
    const season = { from: { month, day: 1 }, to: { month, day: 31 } };
    table = seasonWind(madeRecord(), place.longitude, place.latitude, season);
    months.set(month, table);
  }
  return table.parts.find((each) => each.part === part)!;
}

function inputOf(date: string, of: Partial<CalendarInput> = {}): CalendarInput {
  return {
    date,
    midnight: Date.parse(`${date}T05:00:00Z`),
    light: legalLight(date, place, rule),
    stands: [stand('a')],
    barred: [],
    ...of,
  };
}

describe('the calendar of hours', () => {
  it('counts lawful minutes and hours in a good wind as a recount by another sun does', () => {
    const { days } = JSON.parse(
      readFileSync(new URL('../../reference/fixtures/stands/hours.json', import.meta.url), 'utf8'),
    ) as { days: { date: string; cells: [hour: number, minutes: number, good: number][] }[] };
    const found = hourCalendar(
      daysOf({ from: '10-25', to: '11-15' }, 2026).map((date) => inputOf(date)),
      wind,
    );
    const about = { room: 'stands', source: 'PyEphem 4.1 and a recount in Python', unit: 'minutes' } as const;
    const light = outside({ ...about, method: 'Lawful light of an hour', allowed: 0.1 });
    // Where the two suns part by seconds, an hour of the record may fall in the next part of the day.
    const good = outside({ ...about, method: 'Time of an hour in a good wind', allowed: 0.5 });
    expect(found.days.map(({ date }) => date)).toEqual(days.map(({ date }) => date));
    days.forEach(({ cells }, k) => {
      const own = found.days[k]!.cells;
      expect(own.map(({ hour }) => hour)).toEqual(cells.map(([hour]) => hour));
      cells.forEach(([, minutes, wanted], n) => {
        const { from, to, share } = own[n]!;
        light.compare(to - from, minutes);
        good.compare(share!.usual * (to - from), wanted);
      });
      const sum = cells.reduce((total, [, , wanted]) => total + wanted, 0);
      expect(Math.abs(found.days[k]!.hours!.usual - sum / 60)).toBeLessThan(0.1);
    });
    light.done();
    good.done();
    // The wind blows from every sector in turn, so three of sixteen are good in the morning less calm and variable.
    const morning = found.chances.find(({ part, month }) => part === 'morning' && month === 11)!;
    expect(morning.share!.usual).toBeGreaterThan(0.13);
    expect(morning.share!.high).toBeGreaterThan(morning.share!.usual);
    expect(morning.share!.low).toBe(morning.share!.usual);
    expect(morning.variable!).toBeGreaterThan(0.02);
    const midday = found.chances.find(({ part }) => part === 'midday')!;
    expect(midday.against).toMatchObject({ stand: 'a', why: `Reasons of ${midday.against!.wind}.` });
    expect(SECTORS.length).toBe(16);
  });

  it('counts an hour once however many stands are good in it, and leaves out who rests or is closed', () => {
    const both = [stand('a'), stand('b', { ...GOOD, morning: ['W', 'E'] })];
    const resting = [{ stand: 'b', by: 'rest' as const, why: 'b rests 2 more days.' }];
    const closed = { stand: 'a', by: 'closed' as const, why: 'The top is closed all year.' };
    const { days, chances } = hourCalendar(
      [
        inputOf('2026-11-02', { stands: both }),
        inputOf('2026-11-03', { stands: both, barred: resting }),
        inputOf('2026-11-04', { stands: both, barred: [...resting, closed] }),
        inputOf('2026-11-05', { barred: [closed] }),
      ],
      wind,
    );
    const morning = (k: number) => {
      const cell = days[k]!.cells.find(({ hour }) => hour === 8)!;
      return chances[cell.chances[0]!.of]!;
    };
    expect(new Set(morning(0).winds)).toEqual(new Set(['W', 'WNW', 'NW', 'E']));
    const sectors = wind(11, 'morning').sectors;
    const hours = ['W', 'WNW', 'NW', 'E'].map((name) => sectors[WINDS.indexOf(name)]!.hours);
    expect(morning(0).share!.usual).toBeCloseTo(
      hours.reduce((a, b) => a + b) / wind(11, 'morning').total,
      12,
    );
    expect(
      morning(0)
        .stands.map(({ id }) => id)
        .sort(),
    ).toEqual(['a', 'b']);
    expect(morning(1).stands.map(({ id }) => id)).toEqual(['a']);
    expect(days[2]!.cells.every(({ state, share }) => state === 'rest' && share === null)).toBe(true);
    expect(days[3]!.cells.every(({ state }) => state === 'closed')).toBe(true);
    expect([days[2]!.hours, days[3]!.hours]).toEqual([
      { usual: 0, low: 0, high: 0 },
      { usual: 0, low: 0, high: 0 },
    ]);
  });

  it('says not known without a record, and nothing of light it does not judge', () => {
    const bare = hourCalendar([inputOf('2026-11-02')], () => null);
    const at = (hour: number) => bare.days[0]!.cells.find((cell) => cell.hour === hour)!;
    expect(at(8)).toMatchObject({ state: 'open', share: null });
    expect(at(12)).toMatchObject({ state: 'none', share: null });
    expect(bare.days[0]!.hours).toBeNull();
    expect(bare.chances.every(({ counted, share }) => counted === null && share === null)).toBe(true);
    // Light two hours after sunset is lawful where the rule says so, but nobody judged the night.
    const late = hourCalendar(
      [inputOf('2026-11-02', { light: legalLight('2026-11-02', place, { before: 0, after: 120 }) })],
      wind,
    );
    expect(late.days[0]!.cells.at(-1)!.state).toBe('unjudged');
    const dark = hourCalendar([inputOf('2026-11-02', { light: null })], wind);
    expect(dark.days[0]).toMatchObject({ lawful: 0, cells: [], hours: { usual: 0 } });
  });
});
