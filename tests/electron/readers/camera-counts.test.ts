import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { classifyInputs } from '../../../electron/readers/classify.ts';
import { readFeatures } from '../../../electron/readers/features.ts';
import { placed } from '../../../electron/readers/frame.ts';
import { folderOf, problemOf } from './support.ts';

/** UTM zone 16 north; its central meridian, 87 W, is 500 000 m east by definition. */
const frame = placed({
  epsg: 32616,
  west: 499_000,
  north: 4_051_000,
  cellSize: 10,
  width: 200,
  height: 200,
  longitude: 0,
  latitude: 0,
  convergence: 0,
});
const HEADER = 'place,latitude,longitude,date,hour,count';
const read = (rows: string, header = HEADER) =>
  readFeatures(join(folderOf({ 'cameras.csv': `${header}\n${rows}` }), 'cameras.csv'), frame);
const refused = (rows: string, header = HEADER) => problemOf(() => read(rows, header));

describe('counts of cameras', () => {
  test('become one sighting a place, with their sum, days and hours', async () => {
    const { features, notes } = await read(
      [
        'Creek,36.6,-87,2025-11-03,6,2',
        'Creek,36.6,-87,11/4/2025,5:40 pm,3',
        'Creek,36.6,-87,2025-11-02,06:15,1',
        '"Ridge, north",36.601,-87.001,2025-11-03,23,0',
        'Gate,36.602,-87.002,2025-11-05,12 am,4',
      ].join('\r\n'),
    );
    expect(features.map(({ kind, name }) => [kind, name])).toEqual([
      ['sighting', 'Creek'],
      ['sighting', 'Ridge, north'],
      ['sighting', 'Gate'],
    ]);
    const [creek, ridge, gate] = features.map(({ attributes }) => attributes);
    const hours = new Array(24).fill(0);
    [hours[6], hours[17]] = [3, 3];
    expect(creek).toEqual({
      count: 6,
      records: 3,
      firstDay: '2025-11-02',
      lastDay: '2025-11-04',
      byHour: hours.join(','),
    });
    expect(ridge).toEqual({ count: 0, date: '2025-11-03', hour: 23 });
    expect(gate).toEqual({ count: 4, date: '2025-11-05', hour: 0 });
    expect((features[0]!.geometry as GeoJSON.Point).coordinates[0]).toBeCloseTo(500_000, 3);
    expect(notes.join()).toContain('5 counts at 3 places, 10 deer in all; 1 of the places showed none');
  });

  test('may leave out all but the places, and stand in any order under like names', async () => {
    const { features } = await read('-87;36.6;Oak', 'lon;lat;camera');
    expect(features[0]).toMatchObject({ kind: 'sighting', name: 'Oak', attributes: { count: 1 } });
  });

  test.each([
    ['Creek,36.6,-87,2025-11-03,6,2\n\nCreek,96.6,-87,2025-11-03,6,2', 'line 4', 'latitude is “96.6”'],
    ['Creek,36.6,,2025-11-03,6,2', 'line 2', 'longitude is “”'],
    ['"two\nlines",36.6,-87,2025-11-03,6,2\nCreek,36.6,-87,2025-02-30,6,2', 'line 4', 'date is “2025-02-30”'],
    ['Creek,36.6,-87,3 Nov,6,2', 'line 2', 'date is “3 Nov”'],
    ['Creek,36.6,-87,2025-11-03,24,2', 'line 2', 'hour is “24”'],
    ['Creek,36.6,-87,2025-11-03,13:00 pm,2', 'line 2', 'hour is “13:00 pm”'],
    ['Creek,36.6,-87,2025-11-03,6,two', 'line 2', 'count is “two”'],
    ['Creek,36.6,-87,2025-11-03,6,-1', 'line 2', 'count is “-1”'],
    ['Creek,36.6,-87,2025-11-03,6,', 'line 2', 'count is “”'],
  ])('are refused by the line: %s', async (rows, line, what) => {
    const problem = await refused(rows);
    expect(problem.file).toBe('cameras.csv');
    expect(problem.message).toContain(`cameras.csv, ${line}: the ${what}`);
    expect(problem.fix).toContain(line);
  });

  test('are refused without rows or places', async () => {
    expect((await refused('')).message).toContain('no rows');
    expect((await refused('Creek,3', 'place,count')).message).toContain('latitude and longitude');
  });

  test('are told from hourly wind, which has places too', async () => {
    const folder = folderOf({
      'trail cameras.csv': `${HEADER}\nCreek,36.6,-87,2025-11-03,6,2`,
      'station.csv': 'STATION,DATE,LATITUDE,LONGITUDE,WND\n1,2020-01-01T00:00:00,36,-87,"180,1,N,0036,1"',
    });
    const files = ['trail cameras.csv', 'station.csv'].map((name) => ({ name, path: join(folder, name) }));
    const set = await classifyInputs(files);
    expect(set.features.map(({ name }) => name)).toEqual(['trail cameras.csv']);
    expect(set.wind.map(({ name }) => name)).toEqual(['station.csv']);
  });
});
