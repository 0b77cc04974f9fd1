import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { classifyInputs, listInputs } from '../../../electron/readers/folder.ts';
import { seasonOf } from '../../../electron/readers/imagery.ts';
import { readProperty } from '../../../electron/readers/property.ts';
import { checkOff, tilesFor } from '../../../electron/readers/to-fetch.ts';
import { folderOf, polygonOf, problemOf, SAMPLES } from './support.ts';

type Box = [number, number, number, number];
const namesOf = (box: Box, kind: string) =>
  tilesFor(box)
    .filter((file) => file.kind === kind)
    .map(({ name }) => name);

describe('public tiles by their published names', () => {
  test('1-degree squares by their north-west corner', () => {
    const degree = (box: Box) => namesOf(box, 'elevation').filter((name) => name.startsWith('USGS_13'));
    expect(degree([-84.21, 36.59, -84.19, 36.61])).toEqual(['USGS_13_n37w085']);
    expect(degree([-84.01, 36.99, -83.99, 37.01])).toEqual([
      'USGS_13_n37w085',
      'USGS_13_n37w084',
      'USGS_13_n38w085',
      'USGS_13_n38w084',
    ]);
    // A box on the very line needs one side only.
    expect(degree([-84.5, 36.2, -84, 37])).toEqual(['USGS_13_n37w085']);
  });

  test('10 km squares of the UTM grid by their north-west corner', () => {
    // 750461 E, 4054151 N in zone 16 (PROJ, the fixture's first point).
    const names = namesOf([-84.2005, 36.5995, -84.1995, 36.6005], 'elevation');
    expect(names.filter((name) => name.startsWith('USGS_1M'))).toEqual(['USGS_1M_16_x75y406']);
  });

  test('quarter quadrangles, numbered in rows from the north-west', () => {
    const at = (longitude: number, latitude: number) =>
      namesOf([longitude - 0.001, latitude - 0.001, longitude + 0.001, latitude + 0.001], 'imagery');
    // Corners of the 1-degree square whose south-east corner is 36 N, 84 W: quadrangles 01, 08, 57 and 64.
    expect(at(-84.99, 36.99)).toEqual(['m_3608401_nw']);
    expect(at(-84.01, 36.99)).toEqual(['m_3608408_ne']);
    expect(at(-84.99, 36.01)).toEqual(['m_3608457_sw']);
    expect(at(-84.01, 36.01)).toEqual(['m_3608464_se']);
    // 8 rows and columns of 7.5 minutes: 36.6 lies in row 4 from the north (36.5 to 36.625), -84.2 in column 7.
    expect(at(-84.2, 36.6)).toEqual(['m_3608431_nw']);
    // Four quarters meet at a corner of their grid.
    expect(at(-84.25, 36.5)).toHaveLength(4);
  });

  test('what was dropped in is checked off by name, or by covering the need', () => {
    const need: Box = [-84.21, 36.59, -84.19, 36.61];
    const wanted = tilesFor(need);
    const named = checkOff(
      wanted,
      [{ kind: 'elevation', name: 'usgs_13_N37W085_20230101.tif', box: [0, 0, 0, 0] }],
      need,
    );
    expect(named.filter(({ have }) => have).map(({ name }) => name)).toEqual(['USGS_13_n37w085']);
    const half: Box = [-84.3, 36.5, -84.2, 36.7];
    const other: Box = [-84.2, 36.5, -84.1, 36.7];
    const covering = (boxes: Box[]) =>
      checkOff(
        wanted,
        boxes.map((box) => ({ kind: 'imagery' as const, name: 'photo.tif', box })),
        need,
      )
        .filter(({ kind }) => kind === 'imagery')
        .every(({ have }) => have);
    expect(covering([half])).toBe(false);
    expect(covering([half, other])).toBe(true);
  });
});

test('a boundary dropped alone is told which elevation to fetch', async () => {
  const boundary = polygonOf([
    [-84.205, 36.595],
    [-84.195, 36.595],
    [-84.195, 36.605],
    [-84.205, 36.605],
    [-84.205, 36.595],
  ]);
  const path = join(folderOf({ 'farm.geojson': boundary }), 'farm.geojson');
  const set = await classifyInputs([{ name: 'farm.geojson', path }]);
  const problem = await problemOf(() => readProperty(set));
  expect(problem.message).toBe('There is no elevation among the files.');
  expect(problem.fix).toContain(
    'USGS_1M_16_x75y406 (1 m cells, where the ground was flown), else USGS_13_n37w085',
  );
});

test('coarse elevation without a photo says what to fetch and what going without costs', async () => {
  const { missing } = await readProperty(await listInputs(join(SAMPLES, 'ridge-and-valley-srtm3.tif')));
  const text = missing.join('\n');
  expect(text).toMatch(/cells of 90 m cannot show a creek bed or a saddle.*Fetch USGS_1M_16_x\d\dy40\d/);
  expect(text).toMatch(/Photo or land cover: .*Fetch m_36084\d\d_/);
});

test('a quarter quadrangle says its date and leaf state by its name', () => {
  expect(seasonOf('m_3608434_ne_16_060_20210710.tif')).toContain('2021-07-10, leaves on');
  expect(seasonOf('m_3608434_ne_16_1_20181120_20190209.tif')).toContain('2018-11-20, leaves off');
  expect(seasonOf('imagery.tif')).toBeNull();
});
