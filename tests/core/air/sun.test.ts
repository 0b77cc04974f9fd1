import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { solarTime, sunAt, sunriseSunset } from '../../../core/air/sun.ts';
import { sunPosition } from '../../../core/terrain/sun.ts';
import { outside } from '../../outside.ts';

const at = (text: string) => Date.parse(text) / 3_600_000;

// Reda & Andreas, "Solar position algorithm for solar radiation applications", NREL/TP-560-34302 (2004), the worked
// example: 39.742476 N, 105.1786 W, 17 October 2003, 12:30:30 local standard time (UTC-7). Values from memory.
test('the worked example of the NREL solar position algorithm', () => {
  const { height, bearing } = sunAt(at('2003-10-17T19:30:30Z'), -105.1786, 39.742476);
  const check = outside({
    room: 'air',
    method: 'Height and bearing of the sun by the short series',
    source: 'Reda & Andreas 2004, worked example (values from memory)',
    unit: 'degrees',
    allowed: 0.01,
  });
  check.compare(height, 39.872046);
  check.compare(bearing, 194.34024);
  check.done();
  const day = sunriseSunset(at('2003-10-17T19:30:30Z'), -105.1786, 39.742476)!;
  expect(Math.abs(day.rise - at('2003-10-17T13:12:43Z')) * 60).toBeLessThan(0.2);
  // Its sunset, 17:20:19, is the one on the UTC date, which is the local evening before.
  const before = sunriseSunset(at('2003-10-16T19:30:30Z'), -105.1786, 39.742476)!;
  expect(Math.abs(before.set - at('2003-10-17T00:20:19Z')) * 60).toBeLessThan(0.2);
});

test('a day at the equinox is a little over twelve hours, and noon lies in its middle', () => {
  for (const latitude of [-35, 0, 40]) {
    const day = sunriseSunset(at('2021-03-20T17:00:00Z'), -82, latitude)!;
    expect(day.set - day.rise).toBeGreaterThan(12.05);
    expect(day.set - day.rise).toBeLessThan(12.3);
    expect(Math.abs(solarTime((day.rise + day.set) / 2, -82) - 12)).toBeLessThan(0.02);
  }
});

test('every hour of a day finds the same sunrise', () => {
  const first = sunriseSunset(at('2022-11-05T05:40:00Z'), -82, 38)!;
  for (let hour = 0; hour < 23; hour++) {
    const day = sunriseSunset(at('2022-11-05T05:40:00Z') + hour, -82, 38)!;
    expect(Math.abs(day.rise - first.rise) * 60).toBeLessThan(1);
  }
});

test('sunrise and sunset at four places through the year: the astronomical ephemeris, to half a minute', () => {
  const { times } = JSON.parse(
    readFileSync(new URL('../../reference/fixtures/terrain/sun.json', import.meta.url), 'utf8'),
  ) as { times: { place: [number, number, number]; sunrise: number; sunset: number }[] };
  const check = outside({
    room: 'air',
    method: 'Sunrise and sunset by the short series',
    source: 'PyEphem 4.1',
    unit: 's',
    allowed: 30,
  });
  for (const { place, sunrise, sunset } of times) {
    const day = sunriseSunset((sunrise + sunset) / 2 / 3_600_000, place[0], place[1])!;
    check.compare(day.rise * 3600, sunrise / 1000);
    check.compare(day.set * 3600, sunset / 1000);
  }
  check.done();
});

test('no sunrise in the polar night', () => {
  expect(sunriseSunset(at('2022-12-21T12:00:00Z'), 20, 75)).toBeNull();
});

test('the long algorithm of the ground stage says the same', () => {
  // NREL's (Reda & Andreas 2004) against NOAA's short series, over a year of hours at two places.
  for (const [longitude, latitude] of [
    [-82, 38],
    [150, -33],
  ] as const)
    for (let hour = at('2022-01-01T00:00:00Z'); hour < at('2022-12-31T00:00:00Z'); hour += 97) {
      const short = sunAt(hour, longitude, latitude);
      const long = sunPosition(hour * 3_600_000, { longitude, latitude, elevation: 0 });
      expect(Math.abs(short.height - long.trueAltitude)).toBeLessThan(0.02);
      if (long.trueAltitude < 80)
        expect(Math.abs(((short.bearing - long.azimuth + 540) % 360) - 180)).toBeLessThan(0.05);
    }
});
