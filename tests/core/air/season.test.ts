import { expect, test } from 'vitest';
import {
  CRUISING,
  DAY_PARTS,
  dayPart,
  inSeason,
  seasonWind,
  TOGETHER,
  wilson,
} from '../../../core/air/season.ts';
import { sunriseSunset } from '../../../core/air/sun.ts';
import type { WindRecord } from '../../../core/air/types.ts';
import { outside } from '../../outside.ts';

const at = (text: string) => Math.round(Date.parse(text) / 3_600_000);
const LONGITUDE = -82;
const LATITUDE = 38;

/** Two years of invented hours: west wind by day, calm at night, north-west in the season. */
const hours = Int32Array.from({ length: 2 * 365 * 24 }, (_, k) => at('2020-01-01T00:00:00Z') + k);
const byDay = (hour: number) => {
  const sun = sunriseSunset(hour, LONGITUDE, LATITUDE)!;
  return hour >= sun.rise && hour < sun.set;
};
const record: WindRecord = {
  station: 'invented',
  hours,
  direction: Float32Array.from(hours, (hour) =>
    byDay(hour) ? (inSeason(hour, LONGITUDE, CRUISING) ? 315 : 270) : Number.NaN,
  ),
  speed: Float32Array.from(hours, (hour) => (byDay(hour) ? 4 : 0)),
  temperature: new Float32Array(hours.length).fill(Number.NaN),
  sky: new Float32Array(hours.length).fill(Number.NaN),
  notes: [],
};

test('parts of the day follow the sun of the place', () => {
  const sun = sunriseSunset(at('2021-11-05T17:00:00Z'), LONGITUDE, LATITUDE)!;
  expect(dayPart(sun.rise - 2.1, LONGITUDE, LATITUDE)).toBe('night');
  expect(dayPart(sun.rise - 0.1, LONGITUDE, LATITUDE)).toBe('before sunrise');
  expect(dayPart(sun.rise + 0.1, LONGITUDE, LATITUDE)).toBe('morning');
  expect(dayPart((sun.rise + sun.set) / 2, LONGITUDE, LATITUDE)).toBe('midday');
  expect(dayPart(sun.set - 0.1, LONGITUDE, LATITUDE)).toBe('evening');
  expect(dayPart(sun.set + 0.9, LONGITUDE, LATITUDE)).toBe('evening');
  expect(dayPart(sun.set + 1.1, LONGITUDE, LATITUDE)).toBe('night');
});

test('a season counts its own days, over the turn of the year as well', () => {
  expect(inSeason(at('2021-10-25T17:00:00Z'), LONGITUDE, CRUISING)).toBe(true);
  expect(inSeason(at('2021-10-24T17:00:00Z'), LONGITUDE, CRUISING)).toBe(false);
  expect(inSeason(at('2021-11-15T17:00:00Z'), LONGITUDE, CRUISING)).toBe(true);
  // Three in the morning UTC is still the evening before at 82 degrees west.
  expect(inSeason(at('2021-11-16T03:00:00Z'), LONGITUDE, CRUISING)).toBe(true);
  const winter = { from: { month: 12, day: 20 }, to: { month: 1, day: 10 } };
  expect(inSeason(at('2021-12-31T17:00:00Z'), LONGITUDE, winter)).toBe(true);
  expect(inSeason(at('2021-01-05T17:00:00Z'), LONGITUDE, winter)).toBe(true);
  expect(inSeason(at('2021-02-05T17:00:00Z'), LONGITUDE, winter)).toBe(false);
});

test('every hour is counted once, in its part and sector', () => {
  const { parts } = seasonWind(record, LONGITUDE, LATITUDE, null);
  expect(parts.map(({ part }) => part)).toEqual([...DAY_PARTS]);
  expect(parts.reduce((sum, { total }) => sum + total, 0)).toBe(hours.length);
  for (const part of parts)
    expect(part.calms + part.variable + part.sectors.reduce((sum, { hours: n }) => sum + n, 0)).toBe(
      part.total,
    );
  const midday = parts[2]!;
  expect(midday.calms).toBe(0);
  expect(midday.sectors[12]!.hours).toBeGreaterThan(10 * midday.sectors[14]!.hours);
  expect(midday.sectors[12]!.speed).toBe(4);
  expect(parts[4]!.calms).toBe(parts[4]!.total);
  expect(parts[4]!.stability['calm drainage']).toBe(parts[4]!.total);
});

test('in the season only its wind is seen, and a sky without record is said', () => {
  const { parts, notes } = seasonWind(record, LONGITUDE, LATITUDE, CRUISING);
  expect(parts[2]!.sectors[14]!.hours).toBe(parts[2]!.total);
  expect(notes.join(' ')).toMatch(/100% of the hours have no cloud/);
});

test('the stability of each hour is by its own cloud and ceiling, not by those of the season', () => {
  // 4 m/s is 7.8 knots: by Turner's table B, C and D under index 4, 3 and 0 by day, E and D under -2 and 0 at night.
  const noon = at('2021-06-21T17:00:00Z');
  const midnight = at('2021-06-21T05:00:00Z');
  const skies = [
    { sky: 0, ceiling: Number.NaN },
    { sky: 8, ceiling: Number.NaN },
    { sky: 8, ceiling: 3000 },
  ];
  const of = (hour: number) => {
    const days = Int32Array.from(skies, (_, k) => hour + 24 * k);
    const one: WindRecord = {
      ...record,
      hours: days,
      direction: new Float32Array(3).fill(200),
      speed: new Float32Array(3).fill(4),
      sky: Float32Array.from(skies, ({ sky }) => sky),
      ceiling: Float32Array.from(skies, ({ ceiling }) => ceiling),
    };
    return seasonWind(one, LONGITUDE, LATITUDE, null);
  };
  expect(of(noon).parts[2]!.stability).toEqual({ B: 1, C: 1, D: 1 });
  // An overcast of middle height lets a night go on cooling: index -1, still D at this speed.
  expect(of(midnight).parts[4]!.stability).toEqual({ E: 1, D: 2 });
  expect(of(noon).notes.join(' ')).toMatch(/33% of the hours have cloud over half .* no ceiling/);
});

test("Wilson's interval: published values, and wider for fewer independent hours", () => {
  // Newcombe (1998), Statistics in Medicine 17, table I, method 3: 81 of 263 gives 0.2553 to 0.3662, 15 of 148 gives
  // 0.0624 to 0.1605, 0 of 20 gives 0 to 0.1611.
  const check = outside({
    room: 'air',
    method: 'Wilson’s interval of a share',
    source: 'Newcombe 1998, table I, method 3',
    unit: 'share',
    allowed: 6e-5,
  });
  for (const [count, total, low, high] of [
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
  ] as const) {
    const found = wilson(count, total);
    check.compare(found.low, low);
    check.compare(found.high, high);
  }
  check.done();
  const few = wilson(30, 100, 10);
  const many = wilson(30, 100);
  expect(few.high - few.low).toBeGreaterThan(many.high - many.low);
});

test('parts counted as one hold the hours of each, with the interval of their days', () => {
  const { parts, together } = seasonWind(record, LONGITUDE, LATITUDE, CRUISING, TOGETHER);
  const [sitting, day] = together;
  expect(sitting!.part).toBe('first light to early afternoon');
  const three = parts.filter(({ part }) => ['before sunrise', 'morning', 'midday'].includes(part));
  expect(sitting!.total).toBe(three.reduce((sum, { total }) => sum + total, 0));
  expect(sitting!.calms).toBe(three.reduce((sum, { calms }) => sum + calms, 0));
  expect(day!.total).toBe(parts.reduce((sum, { total }) => sum + total, 0));
  // 22 days of two years, each counted once (Wilson 1927).
  const from = 14;
  expect(sitting!.sectors[from]!.share).toEqual(wilson(sitting!.sectors[from]!.hours, sitting!.total, 44));
});
