import { describe, expect, test } from 'vitest';
import { crsOfEpsg } from '../../../electron/readers/crs.ts';
import type { Raster } from '../../../electron/readers/raster.ts';
import { verticalScale } from '../../../electron/readers/vertical.ts';
import { problemOf } from './support.ts';

/** As much of a raster's header as the rule looks at. */
const raster = (name: string, epsg: number, seconds: number, format: number, bits: number): Raster =>
  ({
    name,
    crs: crsOfEpsg(epsg, name),
    affine: [-84, seconds / 3600, 0, 37, 0, -seconds / 3600],
    levels: [{ format, bits }],
    verticalUnit: null,
  }) as unknown as Raster;

describe('metres where the publisher’s product definition fixes them, and nowhere else', () => {
  test.each([
    ['SRTM 3 arc-seconds', raster('a.tif', 4326, 3, 2, 16), 'SRTM product'],
    ['SRTM 1 arc-second', raster('a.tif', 4326, 1, 2, 16), 'SRTM product'],
    ['seamless 1/3 arc-second', raster('a.tif', 4269, 1 / 3, 3, 32), 'USGS seamless'],
    ['a tile by its name', raster('USGS_1M_16_x74y406_KY.tif', 4326, 0.5, 3, 32), 'USGS elevation tile'],
  ])('%s', (_, file, words) => {
    const scale = verticalScale(file, {});
    expect(scale.metres).toBe(1);
    expect(scale.note).toContain(words);
  });

  test.each([
    ['another spacing', raster('a.tif', 4326, 3.01, 2, 16)],
    ['another sample type', raster('a.tif', 4326, 3, 3, 32)],
    ['another datum', raster('a.tif', 4269, 3, 2, 16)],
    ['an original survey, which may be in feet', raster('USGS_OPR_KY_2019.tif', 4269, 0.5, 3, 32)],
  ])('%s is asked about', async (_, file) => {
    expect((await problemOf(() => verticalScale(file, {}))).question!.key).toBe('verticalUnit');
  });
});

test('answers: for files that state none; for all', () => {
  const stated = { ...raster('a.tif', 4269, 0.5, 3, 32), verticalUnit: 'metre' } as Raster;
  expect(verticalScale(stated, { verticalUnit: 'foot' }).unit).toBe('metre');
  expect(verticalScale(stated, { verticalUnitForAll: 'us-survey-foot' }).metres).toBe(1200 / 3937);
  expect(verticalScale(raster('a.tif', 4326, 3, 2, 16), { verticalUnit: 'foot' }).unit).toBe('foot');
});
