import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { readWind } from '../../../electron/readers/wind.ts';
import { parseAnswer } from '../../../electron/readers/wind-columns.ts';
import { eighthsOf, eighthsOfText } from '../../../electron/readers/wind-sky.ts';
import { columnsAnswer } from '../../../renderer/words/columns.ts';
import { folderOf, problemOf } from './support.ts';

const read = (...given: Parameters<typeof readWind>) => readWind(...given)!;

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
  const wind = read(files({ '724240-13807-2021': `${YEAR_1}\n` }));
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
  const wind = read(files({ 'wind-2022.gz': gzipSync(later), 'wind-2021': `${YEAR_1}\n${YEAR_1}` }));
  expect(wind.hours).toHaveLength(5);
  expect([...wind.hours]).toEqual([...wind.hours].sort((a, b) => a - b));
  expect(wind.notes[1]).toContain('4 records repeat an hour');
});

test('files that are not wind are refused with the line', async () => {
  const month = await problemOf(() =>
    readWind(files({ wind: line(2021, 13, 5, 6, 0, 0, 0, 180, 31, 4, 0, 0) })),
  );
  expect(month.message).toContain('line 1');
  const none = await problemOf(() => readWind(files({ wind: YEAR_1.split('\n').at(-1)! })));
  expect(none.message).toContain('no hour with a wind speed');
  const packed = await problemOf(() => readWind(files({ 'wind.gz': gzipSync(YEAR_1).subarray(0, 60) })));
  expect(packed.message).toContain('wind.gz cannot be unpacked');
});

// Rows in the form of NOAA's Global Hourly tables (Integrated Surface Database format document); values invented.
const GLOBAL = [
  'STATION,DATE,REPORT_TYPE,WND,CIG,TMP,GF1,GA1,OC1',
  '"72424013807","2021-11-05T05:53:00","FM-15","180,1,N,0031,1","01500,1,M,N","-0012,1","04,99,1,99,9,99,9,99999,9,99,9,99,9","","0103,1"',
  '"72424013807","2021-11-05T06:20:00","FM-16","190,1,N,0051,1","99999,9,9,N","-0012,1","","08,1,+00300,1,99,9",""',
  '"72424013807","2021-11-05T06:53:00","FM-15","999,9,C,0000,1","22000,1,9,N","+9999,9","","02,1,+00300,1,99,9",""',
  '"72424013807","2021-11-05T07:53:00","FM-15","999,1,V,0021,1","99999,9,9,N","+0015,1","","",""',
  '"72424013807","2021-11-05T08:53:00","FM-15","200,1,N,0400,3","","+0015,1","","",""',
  '"72424013807","2021-11-05T09:53:00","FM-15","200,3,N,0040,1","00900,3,M,N","+0015,1","09,99,1","",""',
  '"72424013807","2021-11-05T23:59:00","SOD  ","999,9,9,9999,9","","+9999,9","","",""',
].join('\n');

test('Global Hourly: calm, variable, quality, cloud, gusts, and the report nearest to the hour', () => {
  const wind = read(files({ '72424013807.csv': GLOBAL }));
  const at = (hour: number) => Date.UTC(2021, 10, 5, hour) / 3.6e6;
  expect([...wind.hours]).toEqual([at(6), at(7), at(8), at(10)]);
  expect([...wind.direction]).toEqual([180, Number.NaN, Number.NaN, Number.NaN]);
  expect([...wind.speed].map((v) => +v.toFixed(3))).toEqual([3.1, 0, 2.1, 4]);
  expect([...wind.sky]).toEqual([4, 2, Number.NaN, 8]);
  // No ceiling at all is written as 22000; one marked wrong is not told.
  expect([...wind.ceiling!]).toEqual([1500, 22_000, Number.NaN, Number.NaN]);
  expect(wind.gust![0]).toBeCloseTo(10.3, 4);
  expect(wind.temperature[0]).toBeCloseTo(-1.2, 4);
  const notes = wind.notes.join(' ');
  expect(notes).toContain('4 of 7 hourly records');
  expect(notes).toContain('1 (speed marked suspect or wrong)');
  expect(notes).toContain('1 (a sum of a day or month)');
  expect(notes).toContain('1 records repeat an hour');
});

test('words of cloud in older reports are eighths, a partly hidden sky is not told', () => {
  expect([0, 8, 9, 10, 12, 15, 19, 99].map(eighthsOf)).toEqual([0, 8, 8, Number.NaN, 4, 6, 8, Number.NaN]);
});

test('a table whose columns speak for themselves is read; one that does not asks what they hold', async () => {
  const plain = read(
    files({
      'wind.csv': 'datetime_utc,wind_dir,wind_speed_mph\n2021-11-05 06:00,270,10\n2021-11-05 07:00,,0\n',
    }),
  );
  expect([...plain.direction]).toEqual([270, Number.NaN]);
  expect(plain.speed[0]).toBeCloseTo(4.4704, 5);
  const text = 'day;at;from;blow\n11/05/2021;6:00 PM;90;36\n11/05/2021;7:00 PM;100;\n';
  const problem = await problemOf(() => readWind(files({ 'wind.csv': text })));
  expect(problem.question!.key).toBe('windColumns:wind.csv');
  expect(problem.question!.columns!.header).toEqual(['day', 'at', 'from', 'blow']);
  expect(problem.question!.columns!.roles.map(({ role }) => role)).toContain('zone');
  const answer = 'time=day; clock=at; direction=from; speed=blow; unit=km/h; zone=-6; dates=month first';
  const matched = read(files({ 'wind.csv': text }), { windColumns: answer });
  expect(matched.hours[0]).toBe(Date.UTC(2021, 10, 6, 0) / 3.6e6);
  expect(matched.speed[0]).toBeCloseTo(10, 5);
  expect(matched.direction[0]).toBe(90);
  expect(matched.notes.join(' ')).toContain('1 (no wind speed)');
  const wrong = await problemOf(() =>
    readWind(files({ 'wind.csv': text }), { windColumns: answer.replace('=blow', '=gale') }),
  );
  expect(wrong.message).toContain('speed');
});

test('each table is asked about by its own name; one with the same header is read alike, and that is said', async () => {
  const first = 'when,from,blow\n2021-11-05 06:00,90,10\n';
  const second = 'when,from,blow\n2022-11-05 06:00,180,20\n';
  const other = 'day,bearing,rate\n2023-11-05 06:00,NNW,30\n';
  const three = files({ 'a.csv': first, 'b.csv': second, 'c.csv': other });
  const answer = 'time=when; direction=from; speed=blow; unit=mph; zone=-6';
  const problem = await problemOf(() => readWind(three, { 'windColumns:a.csv': answer }));
  expect(problem.question!.key).toBe('windColumns:c.csv');
  const both = {
    'windColumns:a.csv': answer,
    'windColumns:c.csv': 'time=day; direction=bearing; speed=rate; unit=knots; zone=0',
  };
  const wind = read(three, both);
  expect([...wind.direction]).toEqual([90, 180, 337.5]);
  // 1 mph is 0.44704 m/s and 1 kn is 1852/3600 m/s exactly (NIST SP 811, appendix B).
  expect([...wind.speed].map((v) => +v.toFixed(3))).toEqual([4.47, 8.941, 15.433]);
  expect(wind.notes.join(' ')).toContain('b.csv: columns taken to hold what those of a.csv do');
  const less = read(three, { ...both, 'windColumns:c.csv': 'leave out' });
  expect(less.hours).toHaveLength(2);
  expect(less.notes.join(' ')).toContain('c.csv is left out, as asked');
});

test('an answer that does not work is asked again with what was answered and why it failed', async () => {
  const one = files({ 'wind.csv': 'when,from,blow,note\n2021-11-05 06:00,90,10,fair\n' });
  const answer = 'time=when; direction=from; speed=note; unit=mph; zone=-6';
  const problem = await problemOf(() => readWind(one, { 'windColumns:wind.csv': answer }));
  const { key, columns } = problem.question!;
  expect(key).toBe('windColumns:wind.csv');
  expect(columns!.trouble).toContain('1 with no wind speed');
  expect(columns!.roles.find(({ role }) => role === 'speed')!.guess).toBe('note');
});

test('headers with semicolons, quotes and twice the same name can be matched', async () => {
  const text = '"at; local","wind ""true""",value,value\n2021-11-05 06:00,90,10,3\n';
  const one = files({ 'wind.csv': text });
  const problem = await problemOf(() => readWind(one));
  expect(problem.question!.columns!.header).toEqual(['at; local', 'wind "true"', 'value', 'value (4)']);
  const picked = [
    ['time', 'at; local'],
    ['clock', ''],
    ['direction', 'wind "true"'],
    ['speed', 'value (4)'],
    ['unit', 'm/s'],
    ['zone', '0'],
  ] as const;
  const answer = columnsAnswer(picked);
  expect([...parseAnswer(answer)]).toEqual(picked.filter(([, value]) => value !== ''));
  const wind = read(one, { 'windColumns:wind.csv': answer });
  expect([...wind.speed]).toEqual([3]);
});

test('whether day or month comes first is told by a number over 12, else asked; a day that is none is left out', async () => {
  const header = 'date,dir,speed_mph\n';
  const answer = 'time=date; direction=dir; speed=speed_mph; unit=mph; zone=0';
  const told = read(files({ 'wind.csv': `${header}5/11/2021 6:00,90,10\n25/11/2021 6:00,90,10\n` }), {
    windColumns: `${answer}; dates=day first`,
  });
  expect(told.hours[0]).toBe(Date.UTC(2021, 10, 5, 6) / 3.6e6);
  const unsure = files({ 'wind.csv': `${header}5/11/2021 6:00,90,10\n` });
  const problem = await problemOf(() => readWind(unsure, { windColumns: answer }));
  expect(problem.message).toContain('order of the dates');
  const wrong = files({ 'wind.csv': `${header}5/11/2021 6:00,90,10\n2/30/2021 6:00,90,10\n` });
  const left = read(wrong, { windColumns: `${answer}; dates=month first` });
  expect(left.hours).toHaveLength(1);
});

test('tables as spreadsheets save them, with a mark of their encoding, and the words of aviation reports for cloud', () => {
  const table = 'time,wind_dir,wind_speed_ms,sky\n2021-11-05T05:00Z,90,3,CLR\n2021-11-05T06:00Z,90,3,SCT\n';
  for (const bytes of [
    Buffer.concat([Buffer.from([0xef, 0xbb, 0xbf]), Buffer.from(table)]),
    Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(table, 'utf16le')]),
  ]) {
    const wind = read(files({ 'saved.csv': bytes }));
    expect([...wind.speed]).toEqual([3, 3]);
    expect([...wind.sky]).toEqual([0, 3.5]);
    expect(wind.notes.join(' ')).toContain('time = time');
  }
  // Hundredths where the column says so; else more than eight eighths are none.
  expect(['100', '50', '0', '', 'M'].map((text) => eighthsOfText(text, true))).toEqual([8, 4, 0, NaN, NaN]);
  expect(['8', '9', 'OVC020', 'VV'].map((text) => eighthsOfText(text, false))).toEqual([8, NaN, 8, 8]);
});

test('remarks ahead of the header are passed over', () => {
  const text = '#DEBUG: 1\n#DEBUG: 2\ntime_utc,drct,sknt\n2021-11-05 06:53,180,10\n';
  const wind = read(files({ 'wind.csv': text }));
  expect([...wind.direction]).toEqual([180]);
});
