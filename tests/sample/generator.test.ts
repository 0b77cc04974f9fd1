import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { fromFile } from 'geotiff';
import { beforeAll, describe, expect, test } from 'vitest';
import { makeGround } from '../../sample-rasters/generator/ground.ts';
import { makeImagery } from '../../sample-rasters/generator/imagery.ts';
import * as place from '../../sample-rasters/generator/scenario.ts';
import { makeBoundary, makeFeatures } from '../../sample-rasters/generator/vectors.ts';
import { makeVegetation } from '../../sample-rasters/generator/vegetation.ts';
import { makeWindYear, WIND_YEARS } from '../../sample-rasters/generator/wind.ts';
import { SAMPLE } from './run-job.ts';

const file = (name: string): string => join(SAMPLE, name);

/** Cells that differ between two arrays of equal length; quicker than an assertion for each. */
function differences(a: ArrayLike<number>, b: ArrayLike<number>): number {
  expect(a.length).toBe(b.length);
  let n = 0;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) n++;
  return n;
}

describe('the committed sample is what its generator makes', () => {
  let ground: Float32Array;
  beforeAll(() => {
    ground = makeGround();
  });

  test('elevation, cell for cell, in metres and in its place', async () => {
    const image = await (await fromFile(file('elevation.tif'))).getImage();
    const [cells] = await image.readRasters();
    expect(differences(cells as Float32Array, ground)).toBe(0);
    expect(image.getBoundingBox()).toEqual([
      place.WEST,
      place.SOUTH,
      place.WEST + place.WIDTH,
      place.SOUTH + place.HEIGHT,
    ]);
    expect(image.getGeoKeys()).toMatchObject({ ProjectedCSTypeGeoKey: 32617, VerticalUnitsGeoKey: 9001 });
  });

  test('photo, cell for cell, in four bands', async () => {
    const image = await (await fromFile(file('imagery.tif'))).getImage();
    expect(image.getSamplesPerPixel()).toBe(4);
    const cells = await image.readRasters({ interleave: true });
    expect(differences(cells as Uint8Array, makeImagery(ground, makeVegetation()))).toBe(0);
  });

  test('boundary and features', () => {
    expect(JSON.parse(readFileSync(file('boundary.geojson'), 'utf8'))).toEqual(makeBoundary());
    expect(JSON.parse(readFileSync(file('features.geojson'), 'utf8'))).toEqual(makeFeatures());
  });

  test.each(WIND_YEARS)('wind of %i', (year) => {
    expect(gunzipSync(readFileSync(file(`wind-${year}.gz`))).toString()).toBe(makeWindYear(year));
  });
});

describe('what is committed', () => {
  test('is under 12 MB, the real raster with it', () => {
    const sizes = readdirSync(SAMPLE).map((name) => statSync(file(name)).size);
    sizes.push(statSync(join(SAMPLE, '../ridge-and-valley-srtm3.tif')).size);
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBeLessThan(12e6);
  });

  test('says that it is invented, wherever it is read', () => {
    expect(JSON.parse(readFileSync(file('property.json'), 'utf8'))).toMatchObject({ invented: true });
    for (const name of ['boundary.geojson', 'features.geojson'])
      expect(JSON.parse(readFileSync(file(name), 'utf8')).note).toMatch(/invented/i);
    for (const name of ['elevation.tif', 'imagery.tif'])
      expect(readFileSync(file(name)).subarray(0, 2000).toString('latin1')).toMatch(/Invented/);
  });
});
