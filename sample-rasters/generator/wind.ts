/**
 * Five years of invented hourly wind over open ground, free of terrain, in NOAA's ISD-Lite layout: year, month,
 * day, hour (UTC), then air temperature, dew point, sea-level pressure, wind direction, wind speed, sky cover
 * and two precipitation sums in columns of six; tenths where the format says so, -9999 missing, direction 0
 * when calm.
 */

import { seededRandom } from '../../core/grid/random.ts';
import { clamp } from './lines.ts';
import { normal } from './random.ts';
import { SEED } from './scenario.ts';

export const WIND_YEARS = [2019, 2020, 2021, 2022, 2023];
const HOUR = 3_600_000;
/** Hours from UTC to mean solar time at 81.7° W. */
const SOLAR = -81.7 / 15;

/** One year's records as ISD-Lite text. */
export function makeWindYear(year: number): string {
  const random = seededRandom(SEED * 7919 + year);
  const start = Date.UTC(year, 0, 1);
  const hours = (Date.UTC(year + 1, 0, 1) - start) / HOUR;
  const lines: string[] = [];
  // A wandering weather map: two parts of the wind, pressure and cloud, each forgetting itself over a day or two.
  let east = 0;
  let north = 0;
  let pressure = 0;
  let warmth = 0;
  let cloud = 0;
  let outage = 0;
  for (let hour = 0; hour < hours; hour++) {
    const when = new Date(start + hour * HOUR);
    const day = (start + hour * HOUR - Date.UTC(year, 0, 1)) / (24 * HOUR);
    const season = Math.cos((2 * Math.PI * (day - 20)) / 365.25);
    const solar = (((when.getUTCHours() + SOLAR) % 24) + 24) % 24;
    const sun = Math.max(0, Math.cos((2 * Math.PI * (solar - 13.5)) / 24) + 0.35 - 0.25 * season) / 1.35;
    east = 0.965 * east + 0.262 * normal(random);
    north = 0.965 * north + 0.262 * normal(random);
    pressure = 0.985 * pressure + 0.173 * normal(random);
    warmth = 0.98 * warmth + 0.199 * normal(random);
    cloud = 0.95 * cloud + 0.312 * normal(random);
    const rain = random();
    const gap = random();
    const gust = normal(random);
    const turn = normal(random);

    // Mean flow from the south-west, stronger and more westerly in winter; by day it mixes down, at night it dies.
    const strength = (2.4 + 0.6 * season) * (0.42 + 0.75 * sun);
    const u = 0.55 + 0.2 * season + 1.1 * east;
    const v = 0.48 - 0.35 * season + 1.1 * north;
    const speed = Math.max(0, strength * Math.sqrt(u * u + v * v) * (1 + 0.16 * gust));
    const knots = Math.round(speed / 0.514444);
    const calm = knots < 2;
    const from = (((Math.atan2(-u, -v) * 180) / Math.PI + 6 * turn) % 360) + 360;
    // Stations report tens of degrees with 360 for north; light airs now and then have no direction at all.
    const variable = !calm && knots <= 4 && gap > 0.93;
    const tens = (Math.round(from / 10) * 10) % 360 || 360;
    const eighths = clamp(Math.round(4 + 0.8 * season + 3.4 * cloud), 0, 8);
    const temperature =
      11 - 11.5 * season + 5 * sun * (1 - eighths / 14) - 2.5 * (1 - sun) * (1 - eighths / 10) + 3.6 * warmth;
    const dew = Math.min(
      temperature - 0.4,
      temperature - 2 - 7 * sun * (1 - eighths / 12) - 1.2 * (1 - eighths / 8),
    );
    if (outage > 0) outage--;
    else if (gap < 0.0006) outage = 3 + Math.floor(rain * 60);
    if (outage > 0 && gap < 0.5) continue;
    const lost = outage > 0 || (gap > 0.0006 && gap < 0.008);
    lines.push(
      `${year} ${two(when.getUTCMonth() + 1)} ${two(when.getUTCDate())} ${two(when.getUTCHours())}` +
        [
          Math.round(temperature * 10),
          Math.round(dew * 10),
          gap > 0.985 ? -9999 : Math.round((1017 + 7 * pressure + 2 * season) * 10),
          lost || variable ? -9999 : calm ? 0 : tens,
          lost ? -9999 : calm ? 0 : Math.round(knots * 5.14444),
          gap > 0.97 ? -9999 : eighths,
          eighths >= 7 && rain > 0.8 ? Math.round(20 * (rain - 0.8) * (2 - season)) : 0,
          -9999,
        ]
          .map((value) => String(value).padStart(6))
          .join(''),
    );
  }
  return `${lines.join('\n')}\n`;
}

const two = (value: number): string => String(value).padStart(2, '0');
