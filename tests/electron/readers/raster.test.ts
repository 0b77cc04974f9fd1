import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { openRaster, readWindow } from '../../../electron/readers/raster.ts';
import { outside } from '../../outside.ts';
import { bytesOf, expected, fixture, folderOf, problemOf, tiff } from './support.ts';

const whole = { x: 0, y: 0, width: 1e6, height: 1e6 };

describe('GeoTIFFs written by GDAL open with the values GDAL reads (fixture by GDAL)', () => {
  for (const [name, { samples, geotransform, unit }] of Object.entries(expected.rasters)) {
    if (!samples) continue;
    test(name, async () => {
      const raster = await openRaster(fixture(name));
      const level = raster.levels[0]!;
      const { bands } = await readWindow(raster, level, [0], whole);
      const check = outside({
        room: 'readers',
        method: 'Values of GeoTIFFs of every sample type, packing and layout',
        source: 'GDAL 3.6, which wrote and read them',
        unit: 'of the value',
        allowed: 1e-7,
      });
      for (const [row, column, value] of samples)
        check.compare(
          bands[0]![row * level.width + column]!,
          value === null ? Number.NaN : Math.fround(value),
          Math.abs(value ?? 1) || 1,
        );
      check.done();
      expect(raster.affine).toEqual(geotransform);
      expect(raster.verticalUnit).toBe(
        ({ '': null, metre: 'metre', 'US survey foot': 'us-survey-foot' } as Record<string, string | null>)[
          unit
        ],
      );
      expect(raster.crs.epsg).toBe(26916);
      // A window across block borders holds the same cells as the whole.
      const part = await readWindow(raster, level, [0], { x: 13, y: 9, width: 8, height: 12 });
      expect(part).toMatchObject({ x: 13, y: 9, width: 8, height: 12 });
      for (let row = 0; row < 12; row++)
        for (let column = 0; column < 8; column++)
          expect(part.bands[0]![row * 8 + column]).toEqual(bands[0]![(row + 9) * level.width + column + 13]);
      await raster.bytes.close();
    });
  }
});

describe('photos written by GDAL', () => {
  for (const [name, { bands: samples }] of Object.entries(expected.rasters)) {
    if (!samples) continue;
    test(name, async () => {
      const raster = await openRaster(fixture(name));
      const level = raster.levels[0]!;
      const wanted = Array.from({ length: level.bands }, (_, i) => i);
      const { bands } = await readWindow(raster, level, wanted, whole);
      // JPEG decoders may differ by a grey level or two in the inverse transform.
      const tolerance = /jpeg|cog/.test(name) ? 3 : 0;
      for (const [row, column, values] of samples) {
        // Under the mask: no values.
        if (values.length === 0)
          for (const cells of bands) expect(cells[row * level.width + column]).toBeNaN();
        values.forEach((value, band) => {
          expect(Math.abs(bands[band]![row * level.width + column]! - value)).toBeLessThanOrEqual(tolerance);
        });
      }
      expect(raster.alpha).toBe(name === 'rgba.tif' ? 3 : null);
      await raster.bytes.close();
    });
  }
});

test('overviews are found, finest first', async () => {
  const raster = await openRaster(fixture('fine-1m-overviews.tif'));
  expect(raster.levels.map(({ width }) => width)).toEqual([240, 120, 60]);
  await raster.bytes.close();
});

describe('files that cannot be used are refused with the file and the fix', () => {
  const open = (name: string, bytes: Uint8Array | string) => {
    const path = join(folderOf({ [name]: bytes }), name);
    return problemOf(() => openRaster({ name, path }));
  };

  test('a text file named .tif', async () => {
    const problem = await open('elevation.tif', 'this is no raster, whatever its name says');
    expect(problem.message).toBe('elevation.tif is not a GeoTIFF.');
    expect(problem.file).toBe('elevation.tif');
  });
  test('an empty file', async () => {
    expect((await open('elevation.tif', '')).message).toBe('elevation.tif is empty.');
  });
  test('a file that is not there', async () => {
    const problem = await problemOf(() => openRaster({ name: 'gone.tif', path: '/nowhere/gone.tif' }));
    expect(problem.message).toBe('gone.tif is not there.');
  });
  test('a header cut short', async () => {
    const problem = await open('cut.tif', bytesOf('float32-none-strips.tif').subarray(0, 60));
    expect(problem.message).toMatch(/^cut.tif (ends before|is not a GeoTIFF)/);
  });
  test('no projection', async () => {
    const problem = await problemOf(() => openRaster(fixture('no-projection.tif')));
    expect(problem.message).toBe('no-projection.tif does not say which coordinate system it is in.');
    expect(problem.fix).toContain('elevationEpsg');
  });
  test('no projection, but the code is stated', async () => {
    const raster = await openRaster(fixture('no-projection.tif'), 26916);
    expect(raster.crs.name).toContain('NAD83 / UTM zone 16N');
    await raster.bytes.close();
  });
  test('no position', async () => {
    const problem = await problemOf(() => openRaster(fixture('no-position.tif')));
    expect(problem.message).toBe('no-position.tif does not say where on earth it lies.');
  });
  test('NAD27', async () => {
    const problem = await problemOf(() => openRaster(fixture('nad27.tif')));
    expect(problem.message).toContain('NAD27');
    expect(problem.fix).toContain('Reproject');
  });
  test('an unknown code', async () => {
    const problem = await problemOf(() => openRaster(fixture('float32-point.tif'), 999999));
    expect(problem.message).toContain('999999 is not in the table');
  });
});

describe('data cut short is refused when it is read', () => {
  for (const name of [
    'float32-none-strips.tif',
    'int16-lzw-strips.tif',
    'float64-deflate.tif',
    'float32-bigtiff.tif',
  ])
    test(name, async () => {
      const bytes = bytesOf(name);
      const folder = folderOf({});
      const path = join(folder, name);
      writeFileSync(path, bytes.subarray(0, bytes.length - 900));
      const problem = await problemOf(async () => {
        const raster = await openRaster({ name, path });
        try {
          await readWindow(raster, raster.levels[0]!, [0], whole);
        } finally {
          await raster.bytes.close();
        }
      });
      expect(problem.message).toContain(name);
      expect(problem.message).toMatch(/cut short|damaged/);
      expect(problem.fix).toContain('again');
    });
});

test('a block whose bytes are garbled is refused', async () => {
  const bytes = new Uint8Array(bytesOf('float64-deflate.tif'));
  bytes.fill(0x55, bytes.length - 2000, bytes.length - 1000);
  const path = join(folderOf({ 'bad.tif': bytes }), 'bad.tif');
  const raster = await openRaster({ name: 'bad.tif', path });
  const problem = await problemOf(() => readWindow(raster, raster.levels[0]!, [0], whole));
  expect(problem.message).toContain('bad.tif is damaged');
  await raster.bytes.close();
});

test('an unpacked strip that holds the whole raster is read in parts', async () => {
  const [width, height] = [1500, 1100];
  const bytes = tiff(width, height, (column, row) => column + row * 2);
  const path = join(folderOf({ 'one-strip.tif': bytes }), 'one-strip.tif');
  const raster = await openRaster({ name: 'one-strip.tif', path });
  let read = 0;
  const fetch = raster.bytes.fetch.bind(raster.bytes);
  raster.bytes.fetch = (slices) => {
    for (const { length } of slices) read += length;
    return fetch(slices);
  };
  const window = await readWindow(raster, raster.levels[0]!, [0], { x: 40, y: 690, width: 5, height: 30 });
  for (let row = 0; row < 30; row++)
    for (let column = 0; column < 5; column++)
      expect(window.bands[0]![row * 5 + column]).toBe(column + 40 + (row + 690) * 2);
  expect(read).toBeLessThanOrEqual(2 * (4 << 20));
  expect(bytes.length).toBeGreaterThan(6e6);
  await raster.bytes.close();
});
