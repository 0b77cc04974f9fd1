import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { readWind } from '../../../electron/readers/wind.ts';
import { folderOf, problemOf } from './support.ts';

/** A line in the fixed columns of the format document (NOAA NCEI, ISD-Lite, 2006): 4+3+3+3 then eight of width 6. */
const line = (...values: number[]) =>
  values.map((value, i) => String(value).padStart(i === 0 ? 4 : i < 4 ? 3 : 6)).join('');

const files = (contents: Record<string, string | Uint8Array>) => {
  const folder = folderOf(contents);
  return Object.keys(contents).map((name) => ({ name, path: join(folder, name) }));
};

const YEAR_1 = [
  line(2021, 11, 5, 6, -12, -30, 10231, 180, 31, 4, -9999, -9999),
  line(2021, 11, 5, 7, -15, -30, 10231, 0, 0, 0, -9999, -9999),
  line(2021, 11, 5, 8, 0, -30, -9999, -9999, 21, 9, -9999, -9999),
  line(2021, 11, 5, 9, 0, -30, -9999, 360, 15, -9999, -9999, -9999),
  line(2021, 11, 5, 10, 0, -30, -9999, 90, -9999, -9999, -9999, -9999),
].join('\n');

test('calm, variable, missing and scaled values, by the format document', () => {
  const wind = readWind(files({ '724240-13807-2021': `${YEAR_1}\n` }));
  expect(wind.station).toBe('724240-13807');
  expect(wind.hours[0]).toBe(Date.UTC(2021, 10, 5, 6) / 3.6e6);
  expect([...wind.direction]).toEqual([180, Number.NaN, Number.NaN, 0]);
  expect([...wind.speed].map((v) => +v.toFixed(3))).toEqual([3.1, 0, 2.1, 1.5]);
  expect([...wind.temperature].map((v) => +v.toFixed(3))).toEqual([-1.2, -1.5, 0, 0]);
  expect([...wind.sky]).toEqual([4, 0, 8, Number.NaN]);
  expect(wind.notes[0]).toContain(
    '4 of 5 hourly records have a wind speed and are kept; 1 calm, 1 with no direction',
  );
});

test('several years, packed or not, are joined in order without repeats', () => {
  const later = line(2022, 1, 1, 0, 50, 0, -9999, 270, 40, 2, -9999, -9999);
  const wind = readWind(files({ 'wind-2022.gz': gzipSync(later), 'wind-2021': `${YEAR_1}\n${YEAR_1}` }));
  expect(wind.hours).toHaveLength(5);
  expect([...wind.hours]).toEqual([...wind.hours].sort((a, b) => a - b));
  expect(wind.notes[1]).toContain('4 records repeat an hour');
});

test('files that are not wind are refused with the line', async () => {
  const bad = await problemOf(() => readWind(files({ 'wind.csv': 'date,dir,speed\n2021-11-05,180,3' })));
  expect(bad.message).toContain('wind.csv is not an ISD-Lite hourly record: line 1');
  const month = await problemOf(() =>
    readWind(files({ wind: line(2021, 13, 5, 6, 0, 0, 0, 180, 31, 4, 0, 0) })),
  );
  expect(month.message).toContain('line 1');
  const none = await problemOf(() => readWind(files({ wind: YEAR_1.split('\n').at(-1)! })));
  expect(none.message).toContain('no hour with a wind speed');
  const packed = await problemOf(() => readWind(files({ 'wind.gz': gzipSync(YEAR_1).subarray(0, 60) })));
  expect(packed.message).toContain('wind.gz cannot be unpacked');
});
