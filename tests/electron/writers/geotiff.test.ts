import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fromArrayBuffer } from 'geotiff';
import { afterAll, describe, expect, it } from 'vitest';
import type { Grid, TypedArray } from '../../../core/grid/frame.ts';
import { encodeGeoTiff } from '../../../electron/writers/geotiff.ts';
import { geoTiffOptions } from '../../../electron/writers/grid-catalog.ts';
import { outside } from '../../outside.ts';
import { bytesOf, frame, gridOf, hasGdal, lookWithGdal, numbers } from './support.ts';

const random = numbers(3);
const sizes = [
  frame(),
  frame({ width: 256, height: 256 }),
  frame({ width: 1, height: 1 }),
  frame({ width: 257, height: 3 }),
];

/** Every sample type, with its extremes. */
const rules: [string, new (length: number) => TypedArray, () => number][] = [
  [
    'Float32',
    Float32Array,
    () => (random() < 0.1 ? Number.NaN : (random() - 0.5) * 10 ** (random() * 12 - 3)),
  ],
  ['Uint8', Uint8Array, () => Math.floor(random() * 256)],
  ['Int16', Int16Array, () => Math.floor((random() - 0.5) * 65535)],
  ['Uint16', Uint16Array, () => Math.floor(random() * 65536)],
  ['Int32', Int32Array, () => Math.floor((random() - 0.5) * 2 ** 32)],
  ['Uint32', Uint32Array, () => Math.floor(random() * 2 ** 32)],
];

/** What must stand in the file: NaN is -9999 on disk. */
function onDisk(grid: Grid<TypedArray>): TypedArray {
  return grid.cells instanceof Float32Array
    ? grid.cells.map((value) => (Number.isNaN(value) ? -9999 : value))
    : grid.cells;
}

const folder = mkdtempSync(join(tmpdir(), 'geotiff-test-'));
afterAll(() => rmSync(folder, { recursive: true }));

describe('a written GeoTIFF', () => {
  for (const [name, Type, value] of rules) {
    it(`of ${name} comes back equal through the geotiff library at every size`, async () => {
      for (const on of sizes) {
        const grid = gridOf(on, value, Type);
        const bytes = await encodeGeoTiff(grid);
        const image = await (await fromArrayBuffer(bytes.slice().buffer as ArrayBuffer)).getImage();
        const [cells] = (await image.readRasters()) as unknown as TypedArray[];
        expect(cells).toEqual(onDisk(grid));
        expect(image.getOrigin().slice(0, 2)).toEqual([on.west, on.north]);
        expect(image.getResolution().slice(0, 2)).toEqual([on.cellSize, -on.cellSize]);
        expect(image.getGeoKeys()?.ProjectedCSTypeGeoKey).toBe(on.epsg);
        expect(image.getGDALNoData()).toBe(name === 'Float32' ? -9999 : 0);
      }
    });
  }

  it('rounds 64-bit numbers to 32', async () => {
    const grid = gridOf(frame({ width: 5, height: 4 }), (column, row) => column / 3 + row, Float64Array);
    const image = await (
      await fromArrayBuffer((await encodeGeoTiff(grid)).slice().buffer as ArrayBuffer)
    ).getImage();
    const [cells] = (await image.readRasters()) as unknown as Float32Array[];
    expect(cells).toEqual(Float32Array.from(grid.cells));
  });

  it('packs a smooth surface below half its size', async () => {
    const grid = gridOf(frame(), (column, row) => 300 + column * 0.25 + row * 0.5);
    expect((await encodeGeoTiff(grid)).length).toBeLessThan(grid.cells.byteLength / 2);
  });

  it.skipIf(!hasGdal)('is opened by GDAL with no warning and equal cells', async () => {
    const grids = rules.map(([name, Type, value]) => ({ name, grid: gridOf(frame(), value, Type) }));
    const paths: string[] = [];
    for (const { name, grid } of grids) {
      const path = join(folder, `${name}.tif`);
      writeFileSync(path, await encodeGeoTiff(grid, { description: 'a < b & c', unit: 'm' }));
      paths.push(path);
    }
    const classes = join(folder, 'cover.tif');
    writeFileSync(
      classes,
      await encodeGeoTiff(
        gridOf(frame(), (column) => column % 8, Uint8Array),
        geoTiffOptions('cover'),
      ),
    );
    const { messages, files } = lookWithGdal(...paths, classes);
    expect(messages).toEqual([]);
    const check = outside({
      room: 'writers',
      method: 'GeoTIFFs of every sample type: every cell',
      source: 'GDAL as installed',
      unit: 'files that differ',
      allowed: 0,
    });
    for (const [index, { name, grid }] of grids.entries()) {
      const { raster } = files[index]!;
      expect(raster).toMatchObject({ width: 300, height: 270, epsg: '32617', block: [256, 256] });
      expect(raster!.transform).toEqual([439000.5, 2.5, 0, 4351000.25, 0, -2.5]);
      const band = raster!.bands[0]!;
      expect(band.type).toBe(name === 'Uint8' ? 'Byte' : name.replace('Uint', 'UInt'));
      expect(band.nodata).toBe(name === 'Float32' ? -9999 : 0);
      expect(band).toMatchObject({ description: 'a < b & c', unit: 'm' });
      const wanted = createHash('sha256')
        .update(bytesOf(onDisk(grid)))
        .digest('hex');
      check.same(band.sha256, wanted);
    }
    check.done();
    expect(files.at(-1)!.raster!.bands[0]!.colours).toBe(256);
  });
});
