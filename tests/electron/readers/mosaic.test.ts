import { describe, expect, test } from 'vitest';
import type { Frame } from '../../../core/grid/frame.ts';
import { crsDefinition, transform } from '../../../electron/readers/crs.ts';
import { listInputs } from '../../../electron/readers/folder.ts';
import { startMosaic } from '../../../electron/readers/mosaic.ts';
import { readProperty } from '../../../electron/readers/property.ts';
import { folderOf, tiff } from './support.ts';

const frame: Frame = {
  epsg: 32616,
  west: 0,
  north: 0,
  cellSize: 1,
  width: 120,
  height: 40,
  longitude: 0,
  latitude: 0,
  convergence: 0,
};
const tile = (value: (x: number, y: number) => number) =>
  Float32Array.from({ length: 120 * 40 }, (_, i) => value(i % 120, Math.floor(i / 120)));

describe('the feathered seam', () => {
  test('tiles that agree are joined without a trace', () => {
    const ground = (x: number, y: number) => 100 + 0.3 * x - 0.1 * y;
    const { cells, add } = startMosaic(frame);
    add(tile((x, y) => (x < 70 ? ground(x, y) : Number.NaN)));
    const overlap = add(tile((x, y) => (x >= 50 ? ground(x, y) : Number.NaN)));
    for (let i = 0; i < cells.length; i++)
      expect(Math.abs(cells[i]! - ground(i % 120, Math.floor(i / 120)))).toBeLessThan(1e-4);
    expect(overlap).toEqual({ cells: 20 * 40, median: 0 });
  });

  test('a step of 4 m between tiles is spread over the overlap; each tile is itself beyond', () => {
    for (const width of [6, 20, 60]) {
      const west = 60 - width / 2;
      const east = 60 + width / 2;
      const { cells, add } = startMosaic(frame);
      add(tile((x) => (x < east ? 100 : Number.NaN)));
      expect(add(tile((x) => (x >= west ? 104 : Number.NaN)))!.median).toBe(4);
      for (let y = 0; y < 40; y++)
        for (let x = 0; x < 120; x++) {
          const value = cells[y * 120 + x]!;
          if (x < west) expect(value).toBe(100);
          if (x >= east) expect(value).toBe(104);
          if (x > 0) {
            expect(value).toBeGreaterThanOrEqual(cells[y * 120 + x - 1]!);
            // The overlap has `width` cells to climb in, or the feather's 20 where it is wider.
            expect(value - cells[y * 120 + x - 1]!).toBeLessThan((4 / Math.min(width, 20)) * 1.7);
          }
        }
      // Deep inside a wide overlap the first tile is not blurred by the second.
      if (width === 60) expect(cells[20 * 120 + west + 25]).toBe(100);
    }
  });

  test('three tiles and a hole in the first', () => {
    const { cells, add } = startMosaic(frame);
    add(tile((x, y) => (x > 40 && x < 46 && y > 10 && y < 16 ? Number.NaN : x < 80 ? 100 : Number.NaN)));
    add(tile((x) => (x > 20 && x < 100 ? 103 : Number.NaN)));
    add(tile((x) => (x > 60 ? 106 : Number.NaN)));
    expect(cells[13 * 120 + 43]).toBe(103);
    for (const value of cells) expect(value >= 100 && value <= 106).toBe(true);
    expect(cells[20 * 120 + 119]).toBe(106);
  });
});

test('tiles in two UTM zones become one surface of the finer tile’s zone, without a seam', async () => {
  // The ground is a function of longitude and latitude, sampled in zone 16 at 10 m and in zone 17 at 12 m.
  const ground = (lon: number, lat: number) => 300 + 4000 * (lon + 84) - 3000 * (lat - 36.5);
  const sampled = (
    epsg: number,
    cell: number,
    west: number,
    north: number,
    width: number,
    height: number,
  ) => {
    const toLonLat = transform(crsDefinition(epsg), '+proj=longlat +datum=WGS84 +no_defs');
    return tiff(
      width,
      height,
      (column, row) => ground(...toLonLat(west + (column + 0.5) * cell, north - (row + 0.5) * cell)),
      { epsg, cell, west, north },
    );
  };
  const [x16, y16] = transform('+proj=longlat +datum=WGS84 +no_defs', crsDefinition(32616))(-84.004, 36.503);
  const [x17, y17] = transform('+proj=longlat +datum=WGS84 +no_defs', crsDefinition(32617))(-84.0, 36.503);
  const imported = await readProperty(
    await listInputs(
      folderOf({
        'elevation-a.tif': sampled(32616, 10, Math.round(x16), Math.round(y16), 60, 60),
        'elevation-b.tif': sampled(32617, 12, Math.round(x17), Math.round(y17), 60, 50),
      }),
    ),
  );
  const { frame: joined, sources, notes } = imported;
  expect(joined).toMatchObject({ epsg: 32616, cellSize: 10 });
  expect(notes.join()).toContain('2 elevation files are joined');
  expect(notes.join()).not.toContain('Doubt');
  const toLonLat = transform(crsDefinition(32616), '+proj=longlat +datum=WGS84 +no_defs');
  let known = 0;
  for (let i = 0; i < sources.elevation.cells.length; i++) {
    const value = sources.elevation.cells[i]!;
    if (Number.isNaN(value)) continue;
    known++;
    const x = joined.west + ((i % joined.width) + 0.5) * 10;
    const y = joined.north - (Math.floor(i / joined.width) + 0.5) * 10;
    expect(Math.abs(value - ground(...toLonLat(x, y)))).toBeLessThan(0.35);
  }
  expect(known).toBeGreaterThan(60 * 60 + 1000);
});

test('tiles that disagree are doubted', async () => {
  const hill = (column: number, row: number) => 200 + column * 0.5 + row * 0.25;
  const { notes } = await readProperty(
    await listInputs(
      folderOf({
        'elevation-a.tif': tiff(60, 60, hill),
        'elevation-b.tif': tiff(60, 60, (column, row) => hill(column + 40, row) + 12.5, { west: 440400 }),
      }),
    ),
  );
  expect(notes.join()).toMatch(
    /Doubt: elevation-b.tif lies 12.5 m above the other elevation where they overlap/,
  );
});
