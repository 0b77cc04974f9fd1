import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { DEFAULT_SETTINGS } from '../../../core/analysis/settings.ts';
import { Cancelled, type Problem } from '../../../core/grid/problem.ts';
import { crsDefinition, transform, WGS84 } from '../../../electron/readers/crs.ts';
import { classifyInputs, listInputs } from '../../../electron/readers/folder.ts';
import { type Imported, readProperty } from '../../../electron/readers/property.ts';
import { openRaster, readWindow } from '../../../electron/readers/raster.ts';
import { checkSettings } from '../../../electron/readers/settings.ts';
import { bytesOf, expected, fixture, folderOf, polygonOf, problemOf, SAMPLES, tiff } from './support.ts';

type Files = Record<string, string | Uint8Array>;
const importOf = async (files: Files, options: Parameters<typeof readProperty>[1] = {}): Promise<Imported> =>
  readProperty(await listInputs(folderOf(files)), options);
const refusal = (files: Files): Promise<Problem> => problemOf(() => importOf(files));

const toLonLat = transform(crsDefinition(32616), WGS84);
/** A closed ring of degrees from UTM 16 corners. */
const ring = (...corners: [number, number][]): [number, number][] =>
  [...corners, corners[0]!].map(([x, y]) => toLonLat(x, y));
const box = (west: number, south: number, east: number, north: number) =>
  polygonOf(ring([west, south], [east, south], [east, north], [west, north]));

const hill = (column: number, row: number) => 200 + column * 0.5 + row * 0.25;
const ELEVATION = tiff(120, 100, hill);
const BOUNDARY = box(440400, 4049400, 440800, 4049700);

describe('a UTM elevation is kept as it is', () => {
  test('whole raster without a boundary: same cells, same bits, WGS 84 code of its zone', async () => {
    const { frame, sources, notes, missing, files, settings } = await importOf({
      'elevation.tif': ELEVATION,
    });
    expect(frame).toMatchObject({
      epsg: 32616,
      west: 440000,
      north: 4050000,
      cellSize: 10,
      width: 120,
      height: 100,
    });
    expect(sources.elevation.cells).toEqual(
      Float32Array.from({ length: 12000 }, (_, i) => hill(i % 120, Math.floor(i / 120))),
    );
    expect(notes.join('\n')).toContain('NAD83');
    expect(notes.join('\n')).toContain('the whole raster is taken as the property');
    expect(missing.map((line) => line.split(':')[0])).toEqual([
      'Finer elevation',
      'Boundary',
      'Photo or land cover',
      'Wind record',
      'Roads, creeks and fences',
    ]);
    expect(files).toEqual([
      { name: 'elevation.tif', hash: createHash('sha256').update(ELEVATION).digest('hex') },
    ]);
    expect(settings.name).toMatch(/^readers-/);
  });

  test('a boundary with a margin cuts on the raster’s own cell borders', async () => {
    const { frame, sources } = await importOf(
      { 'elevation.tif': ELEVATION, 'boundary.geojson': BOUNDARY },
      { settings: { margin: 100 } },
    );
    expect(frame.cellSize).toBe(10);
    for (const [value, edge] of [
      [frame.west, 440300],
      [frame.north, 4049800],
    ] as const) {
      expect(Math.abs(value - edge)).toBeLessThanOrEqual(10);
      expect(value % 10).toBe(0);
    }
    const column = (frame.west - 440000) / 10;
    const row = (4050000 - frame.north) / 10;
    expect(sources.elevation.cells[0]).toBe(Math.fround(hill(column, row)));
    expect(sources.features).toHaveLength(1);
    expect(sources.features[0]).toMatchObject({ kind: 'boundary', source: 'boundary.geojson' });
  });

  test('the margin is clipped to the data', async () => {
    const { frame } = await importOf({ 'elevation.tif': ELEVATION, 'boundary.geojson': BOUNDARY });
    expect(frame).toMatchObject({ west: 440000, north: 4050000, width: 120, height: 100 });
  });

  test('another cell size is taken from the settings', async () => {
    const { frame, sources } = await importOf({
      'elevation.tif': ELEVATION,
      'property.json': '{"cellSize": 20}',
    });
    expect(frame).toMatchObject({ cellSize: 20, width: 60, height: 50 });
    // The mean of four cells of a plane.
    expect(sources.elevation.cells[0]).toBeCloseTo(
      (hill(0, 0) + hill(1, 0) + hill(0, 1) + hill(1, 1)) / 4,
      4,
    );
  });

  test('cells of a whole number of its own start where they do', async () => {
    const { frame, sources } = await importOf({
      'elevation.tif': tiff(121, 100, hill, { west: 440003 }),
      'property.json': '{"cellSize": 30}',
    });
    expect(frame).toMatchObject({ cellSize: 30, west: 440003, north: 4050000 });
    expect(sources.elevation.cells[0]).toBeCloseTo(hill(1, 1), 4);
  });
});

describe('what comes with the elevation', () => {
  test('two tiles are joined without a seam', async () => {
    const { frame, sources, notes } = await importOf({
      'Elevation_west.tif': bytesOf('tile-west.tif'),
      'ELEVATION_east.TIF': bytesOf('tile-east.tif'),
    });
    expect(frame).toMatchObject({ west: 440000, width: 50, height: 44 });
    for (const [row, column, value] of expected.rasters['float32-none-strips.tif']!.samples!)
      expect(sources.elevation.cells[row * 50 + column]).toBe(Math.fround(value!));
    expect(notes.join()).toContain('2 elevation files are joined');
  });

  test('heights in US survey feet become metres', async () => {
    const { sources, notes } = await importOf({ 'elevation.tif': bytesOf('float32-feet.tif') });
    const [row, column, value] = expected.rasters['float32-feet.tif']!.samples![0]!;
    expect(sources.elevation.cells[row * 50 + column]).toBeCloseTo((value! * 1200) / 3937, 3);
    expect(notes.join()).toContain('US survey feet, as the file states');
  });

  test('a state plane raster in feet lands in the UTM zone of its middle, against gdalwarp', async () => {
    const { frame, sources } = await importOf({ 'elevation.tif': bytesOf('state-plane-feet.tif') });
    expect(frame).toMatchObject({ epsg: 32616, cellSize: 9.1 });
    const { values, bounds, size } = expected.warps['state-plane-feet.tif']!;
    for (const [row, column, value] of values) {
      const x = bounds[0] + (column + 0.5) * size;
      const y = bounds[3] - (row + 0.5) * size;
      const at = Math.floor((frame.north - y) / 9.1) * frame.width + Math.floor((x - frame.west) / 9.1);
      // Half a cell away at most, on slopes below 0.7.
      if (value !== null) expect(Math.abs(sources.elevation.cells[at]! - value)).toBeLessThan(5);
    }
  });

  test('a near-infrared photo: colours on the frame, and sharp for the map', async () => {
    const { frame, sources, display } = await importOf(
      { 'elevation.tif': tiff(25, 22, hill, { cell: 20 }), 'imagery.tif': bytesOf('rgbn-deflate-pixel.tif') },
      {},
    );
    expect(sources.imagery!.bands).toHaveLength(4);
    expect(display!.frame).toMatchObject({
      west: frame.west,
      north: frame.north,
      cellSize: 10,
      width: 50,
      height: 44,
    });
    for (const [row, column, values] of expected.rasters['rgbn-deflate-pixel.tif']!.bands!)
      expect(display!.bands.map((band) => band[row * 50 + column])).toEqual(values);
    // Each coarse cell is the mean of four.
    const four = [0, 1, 50, 51].map((i) => display!.bands[3]![i]!);
    expect(Math.abs(sources.imagery!.bands[3]![0]! - four.reduce((a, b) => a + b) / 4)).toBeLessThanOrEqual(
      0.5,
    );
    expect(sources.imagery!.valid.every((value) => value === 1)).toBe(true);
  });

  test('a transparency band is not taken for near infrared', async () => {
    const { sources, missing } = await importOf({
      'elevation.tif': tiff(50, 44, hill),
      'imagery.tif': bytesOf('rgba.tif'),
    });
    expect(sources.imagery!.bands).toHaveLength(3);
    expect(sources.imagery!.valid[45]).toBe(0);
    expect(sources.imagery!.valid[5]).toBe(1);
    expect(missing.join()).toContain('Near-infrared');
  });

  test('a 16-bit photo is scaled to 0..255, bands together', async () => {
    const { sources, notes } = await importOf({
      'elevation.tif': tiff(50, 44, hill),
      'imagery.tif': bytesOf('rgbn-uint16.tif'),
    });
    const bands = sources.imagery!.bands;
    expect(Math.max(...bands[3]!)).toBe(255);
    expect(notes.join()).toMatch(/16-bit samples from \d+ to \d+ \(2 to 98 %\)/);
    // Order between bands is kept: the file's infrared is brighter than its red everywhere.
    for (let i = 0; i < bands[0]!.length; i++) expect(bands[3]![i]!).toBeGreaterThanOrEqual(bands[0]![i]!);
  });

  test('land cover in a user-defined Albers system', async () => {
    const [x, y] = [
      expected.warps['landcover-albers.tif']!.bounds[0],
      expected.warps['landcover-albers.tif']!.bounds[3],
    ];
    const { sources } = await importOf({
      'elevation.tif': tiff(60, 60, hill, { west: x, north: y }),
      'landcover.tif': bytesOf('landcover-albers.tif'),
    });
    const wrong = expected.warps['landcover-albers.tif']!.values.filter(
      ([row, column, value]) => sources.landcover!.cells[row * 60 + column] !== value,
    );
    expect(wrong.length).toBeLessThanOrEqual(1);
  });

  test('features, wind and settings', async () => {
    const at = (x: number, y: number) => toLonLat(x, y);
    const features = {
      type: 'FeatureCollection',
      features: [
        {
          type: 'Feature',
          properties: { kind: 'stand', name: 'Oak' },
          geometry: { type: 'Point', coordinates: at(440500, 4049500) },
        },
        {
          type: 'Feature',
          properties: { kind: 'creek' },
          geometry: { type: 'LineString', coordinates: [at(440100, 4049100), at(440900, 4049300)] },
        },
      ],
    };
    const { sources, settings, missing } = await importOf({
      'elevation.tif': ELEVATION,
      'boundary.geojson': BOUNDARY,
      'features.geojson': JSON.stringify(features),
      'wind-2021': '2021 11  5  6   -12   -30 10231   180    31     4 -9999 -9999\n',
      'property.json': '{"name": "Test farm", "ground": {"contourInterval": 3}}',
    });
    expect(settings).toMatchObject({
      name: 'Test farm',
      ground: { ...DEFAULT_SETTINGS.ground, contourInterval: 3 },
    });
    expect(sources.features.map(({ kind }) => kind)).toEqual(['boundary', 'stand', 'creek']);
    const [x, y] = (sources.features[1]!.geometry as GeoJSON.Point).coordinates as [number, number];
    expect(Math.hypot(x - 440500, y - 4049500)).toBeLessThan(1e-3);
    expect(sources.wind!.hours).toHaveLength(1);
    expect(missing.map((line) => line.split(':')[0])).toEqual(['Finer elevation', 'Photo or land cover']);
  });
});

describe('the cell size of elevation that is not on UTM', () => {
  test('is measured on the ground: Web Mercator metres are longer than metres', async () => {
    // Scale of Mercator at 36.6 degrees north is 1 / cos 36.6 = 1.246; 12.46 of its metres are 10 on the ground.
    const [west, north] = transform(WGS84, '+proj=merc +a=6378137 +b=6378137 +units=m +no_defs')(-84.2, 36.6);
    const elevation = tiff(60, 50, hill, { epsg: 3857, cell: 12.46, west, north });
    const { frame } = await importOf({ 'elevation.tif': elevation });
    expect(frame).toMatchObject({ epsg: 32616, cellSize: 10 });
  });
});

describe('the vertical unit', () => {
  const bare = tiff(50, 44, hill, { unit: false });
  test('is asked for where the file does not state it', async () => {
    const problem = await refusal({ 'elevation.tif': bare });
    expect(problem.question).toEqual({
      key: 'verticalUnit',
      choices: [
        { value: 'metre', label: expect.any(String) },
        { value: 'foot', label: expect.any(String) },
        { value: 'us-survey-foot', label: expect.any(String) },
      ],
    });
  });
  test('is settled by an answer, given here or in property.json', async () => {
    const given = await importOf({ 'elevation.tif': bare }, { answers: { verticalUnit: 'foot' } });
    expect(given.sources.elevation.cells[0]).toBeCloseTo(200 * 0.3048, 4);
    expect(given.settings.answers).toEqual({ verticalUnit: 'foot' });
    const written = await importOf({
      'elevation.tif': bare,
      'property.json': '{"answers":{"verticalUnit":"metre"}}',
    });
    expect(written.sources.elevation.cells[0]).toBe(200);
  });
  test('is refused when the answer is none', async () => {
    const problem = await refusal({
      'elevation.tif': bare,
      'property.json': '{"answers":{"verticalUnit":"yards"}}',
    });
    expect(problem.message).toContain('“yards” is not a unit of height');
  });
  test('is asked about when the ground comes out too steep or too high for it', async () => {
    const steep = tiff(50, 44, (column) => 100 + column * 9);
    const problem = await refusal({ 'elevation.tif': steep });
    expect(problem.message).toMatch(/half of the ground is steeper than 42°.*read in metres/);
    expect(problem.question!.key).toBe('verticalUnitForAll');
    const mended = await importOf({ 'elevation.tif': steep }, { answers: { verticalUnitForAll: 'foot' } });
    expect(mended.sources.elevation.cells[0]).toBeCloseTo(30.48, 4);
    expect(mended.notes.join()).not.toContain('Doubt');
    const kept = await importOf({ 'elevation.tif': steep }, { answers: { verticalUnitForAll: 'metre' } });
    expect(kept.notes.join()).toContain('Doubt: half of the ground');

    // 5,280 read as metres in Kentucky.
    const high = await refusal({ 'elevation.tif': tiff(50, 44, (column) => 5280 + column) });
    expect(high.message).toMatch(/the ground rises to 53\d\d m, higher than any land/);
  });
});

describe('real public elevation', () => {
  test('the lone SRTM file is a property: metres by the product’s definition, 90 m cells in UTM 16', async () => {
    const imported = await readProperty(await listInputs(join(SAMPLES, 'ridge-and-valley-srtm3.tif')));
    expect(imported.frame).toMatchObject({ epsg: 32616, cellSize: 90 });
    expect(imported.notes.join()).toContain('SRTM product, which is defined in metres');
    expect(imported.settings.name).toBe('ridge-and-valley-srtm3');
    const { frame, sources } = imported;
    // The file's own extremes (gdalinfo: 236 to 1076 m) bound what interpolation can give.
    let [low, high] = [Infinity, -Infinity];
    for (const value of sources.elevation.cells) {
      if (value < low) low = value;
      if (value > high) high = value;
    }
    expect(low).toBeGreaterThanOrEqual(236);
    expect(low).toBeLessThan(250);
    expect(high).toBeLessThanOrEqual(1076);
    expect(high).toBeGreaterThan(1060);
    expect(frame.longitude).toBeCloseTo(-84.2458, 2);
  });
});

describe('bad input is refused with the file and the fix', () => {
  test('a folder that is not there, an empty one, one without elevation', async () => {
    expect((await problemOf(() => listInputs('/nowhere/at all'))).message).toBe(
      'There is no folder or file /nowhere/at all.',
    );
    expect((await refusal({})).message).toMatch(/The folder readers-.* is empty/);
    expect((await refusal({ 'boundary.geojson': BOUNDARY })).message).toMatch(/holds no elevation/);
  });
  test('a single file that is not a raster', async () => {
    const folder = folderOf({ 'notes.docx': 'x' });
    expect((await problemOf(() => listInputs(join(folder, 'notes.docx')))).message).toContain(
      'not an elevation raster',
    );
  });
  test('a wrong or truncated elevation', async () => {
    expect((await refusal({ 'elevation.tif': '<html>not found</html>' })).message).toBe(
      'elevation.tif is not a GeoTIFF.',
    );
    const cut = bytesOf('float32-feet.tif').subarray(0, 6000);
    expect((await refusal({ 'elevation.tif': cut })).message).toMatch(/elevation.tif.*cut short/);
  });
  test('no projection', async () => {
    const problem = await refusal({ 'elevation.tif': bytesOf('no-projection.tif') });
    expect(problem.message).toContain('does not say which coordinate system');
    const stated = await importOf(
      { 'elevation.tif': bytesOf('no-projection.tif') },
      { answers: { elevationEpsg: '26916', verticalUnit: 'metre' } },
    );
    expect(stated.frame.epsg).toBe(32616);
    expect(
      (await problemOf(() => importOf({ 'elevation.tif': ELEVATION }, { answers: { elevationEpsg: 'UTM' } })))
        .message,
    ).toContain('not an EPSG code');
  });
  test('NAD27', async () => {
    expect((await refusal({ 'elevation.tif': bytesOf('nad27.tif') })).message).toContain('NAD27');
  });
  test('all no data', async () => {
    const files = {
      'elevation.tif': bytesOf('all-nodata.tif'),
      'property.json': '{"answers":{"verticalUnit":"metre"}}',
    };
    expect((await refusal(files)).message).toContain('every cell is no data');
  });
  test('60 GB of claimed pixels, without reading them', async () => {
    const before = process.memoryUsage().rss;
    const problem = await refusal({ 'elevation.tif': bytesOf('claims-60-gb.tif') });
    expect(problem.message).toMatch(/122880 x 122880 cells.*claims 60 GB of pixels/);
    expect(problem.fix).toMatch(/boundary.*cellSize to \d+ m/);
    expect(process.memoryUsage().rss - before).toBeLessThan(200e6);
  });
  test('a small part of such a file is read by window', async () => {
    const south = 4050000 - 60000;
    const problem = await refusal({
      'elevation.tif': bytesOf('claims-60-gb.tif'),
      'boundary.geojson': box(500000, south, 500400, south + 400),
    });
    // GDAL left it empty, so the window is read and found to be without data.
    expect(problem.message).toMatch(/no elevation anywhere|has no elevation/);
  });
  test('a boundary off the raster, and one partly off', async () => {
    const off = await refusal({
      'elevation.tif': ELEVATION,
      'boundary.geojson': box(460000, 4049000, 460400, 4049400),
    });
    expect(off.message).toContain('The boundary lies outside elevation.tif');
    const partly = await importOf({
      'elevation.tif': ELEVATION,
      'boundary.geojson': box(439800, 4049400, 440800, 4049700),
    });
    expect(partly.notes.join()).toContain('The boundary reaches beyond the elevation');
  });
  test('a boundary over ground the file leaves empty, wholly or in part', async () => {
    const westOnly = tiff(120, 100, (column, row) => (column < 60 ? hill(column, row) : -9999));
    const all = await refusal({
      'elevation.tif': westOnly,
      'boundary.geojson': box(440700, 4049400, 440900, 4049600),
    });
    expect(all.message).toContain('None of the ground inside the boundary has elevation');
    const half = await importOf({
      'elevation.tif': westOnly,
      'boundary.geojson': box(440500, 4049400, 440700, 4049600),
    });
    expect(half.notes.join()).toContain('About 50 % of the ground inside the boundary has no elevation');
    const none = await importOf({ 'elevation.tif': ELEVATION, 'boundary.geojson': BOUNDARY });
    expect(none.notes.join()).not.toContain('no elevation');
  });
  test('a boundary that crosses itself, with the place', async () => {
    const bow = polygonOf(ring([440400, 4049400], [440800, 4049700], [440800, 4049400], [440400, 4049700]));
    const problem = await refusal({ 'elevation.tif': ELEVATION, 'boundary.geojson': bow });
    const [longitude, latitude] = toLonLat(440600, 4049550);
    const [, lat, lon] = /near (-?\d+\.\d+), (-?\d+\.\d+)/.exec(problem.message)!;
    expect(Number(lat)).toBeCloseTo(latitude, 4);
    expect(Number(lon)).toBeCloseTo(longitude, 4);
  });
  test('a boundary that is no area, and a closed line', async () => {
    const line = (closed: boolean) => {
      const corners = ring([440400, 4049400], [440800, 4049400], [440800, 4049700], [440400, 4049700]);
      return JSON.stringify({ type: 'LineString', coordinates: closed ? corners : corners.slice(0, 4) });
    };
    expect(
      (await refusal({ 'elevation.tif': ELEVATION, 'boundary.geojson': line(false) })).message,
    ).toContain('does not come back');
    const point = JSON.stringify({ type: 'Point', coordinates: toLonLat(440500, 4049500) });
    expect((await refusal({ 'elevation.tif': ELEVATION, 'boundary.geojson': point })).message).toContain(
      'holds no area',
    );
    const closed = await importOf({ 'elevation.tif': ELEVATION, 'boundary.geojson': line(true) });
    expect(closed.sources.features[0]!.geometry.type).toBe('Polygon');
    expect(closed.notes.join()).toContain('the boundary is a closed line');
  });
  test('two boundaries', async () => {
    const problem = await refusal({
      'elevation.tif': ELEVATION,
      'boundary.geojson': BOUNDARY,
      'boundary.kml': '<kml/>',
    });
    expect(problem.message).toBe('There are two boundaries: boundary.geojson and boundary.kml.');
  });
  test('a photo of one band, or off the property', async () => {
    const gray = { 'elevation.tif': ELEVATION, 'imagery.tif': ELEVATION };
    expect((await refusal(gray)).message).toContain('imagery.tif has 1 colour band; a photo needs 3 or 4');
    const off = { 'elevation.tif': tiff(50, 44, hill, { west: 480000 }), 'imagery.tif': bytesOf('rgba.tif') };
    expect((await refusal(off)).message).toContain('imagery.tif does not cover the property');
  });
  test('land cover without public codes', async () => {
    const problem = await refusal({ 'elevation.tif': ELEVATION, 'landcover.tif': ELEVATION });
    expect(problem.message).toContain('none of the public land-cover');
  });
  test('heights the file forgot to call no data', async () => {
    const { sources, notes } = await importOf({ 'elevation.tif': bytesOf('unlisted-voids.tif') });
    const { holes } = sources;
    expect(notes.join()).toContain('not ground on earth');
    // The hole of 4 x 6 cells is filled from its rim, near to the ground the file was cut from, and marked.
    expect(notes.join()).toContain('1 hole (24 cells) in the elevation is filled');
    expect(holes!.cells.reduce((sum, value) => sum + value)).toBe(24);
    const [, , hidden] = expected.rasters['float32-none-strips.tif']!.samples!.find(
      ([row, column]) => row === 11 && column === 22,
    )!;
    expect(holes!.cells[11 * 50 + 22]).toBe(1);
    expect(Math.abs(sources.elevation.cells[11 * 50 + 22]! - hidden!)).toBeLessThan(2);
  });
  test('property.json', async () => {
    const withSettings = (text: string) => refusal({ 'elevation.tif': ELEVATION, 'property.json': text });
    expect((await withSettings('{"name": ')).message).toContain('property.json is not valid JSON');
    const typo = await withSettings('{"cellsize": 3}');
    expect(typo.message).toBe('property.json has the unknown key “cellsize”.');
    expect(typo.fix).toContain('cellSize');
    expect((await withSettings('{"cellSize": "3 m"}')).message).toContain('the value of “cellSize” is wrong');
    expect((await withSettings('{"air": {"hours": 99}}')).message).toContain('“air.hours”');
    expect((await withSettings('[]')).message).toContain('one object');
    expect(checkSettings({}, 'x')).toEqual(DEFAULT_SETTINGS);
  });
  test('cancelling stops the import', async () => {
    const cancel = () => {
      throw new Cancelled();
    };
    await expect(importOf({ 'elevation.tif': ELEVATION }, { progress: cancel })).rejects.toBeInstanceOf(
      Cancelled,
    );
  });
});

describe('dropped files are told apart by content', () => {
  test('rasters, vectors, wind, and what is left over', async () => {
    const folder = folderOf({
      'dem 10m.tif': ELEVATION,
      'naip.tif': bytesOf('rgbn-deflate-band.tif'),
      'cover 2021.tif': bytesOf('landcover-albers.tif'),
      'my land.geojson': BOUNDARY,
      'deer roads.geojson': box(440100, 4049100, 440200, 4049200),
      'stuff.gpkg': bytesOf('shapes.gpkg'),
      '724240-13807-2021': '2021 11  5  6   -12   -30 10231   180    31     4 -9999 -9999\n',
      'notes.docx': 'bring the saw',
    });
    const names = [
      'dem 10m.tif',
      'naip.tif',
      'cover 2021.tif',
      'my land.geojson',
      'deer roads.geojson',
      'stuff.gpkg',
      '724240-13807-2021',
      'notes.docx',
    ];
    const set = await classifyInputs(names.map((name) => ({ name, path: join(folder, name) })));
    const named = (files: { name: string }[]) => files.map(({ name }) => name);
    expect(named(set.elevation)).toEqual(['dem 10m.tif']);
    expect(named(set.imagery)).toEqual(['naip.tif']);
    expect(named(set.landcover)).toEqual(['cover 2021.tif']);
    expect(named(set.boundary)).toEqual(['my land.geojson']);
    expect(named(set.features)).toEqual(['deer roads.geojson', 'stuff.gpkg']);
    expect(named(set.wind)).toEqual(['724240-13807-2021']);
    expect(named(set.unknown)).toEqual(['notes.docx']);
  });

  test('a folder without the usual names is looked into', async () => {
    const imported = await importOf({ 'dem.tif': ELEVATION, 'list.xlsx': 'x' });
    expect(imported.frame.width).toBe(120);
    expect(imported.notes.join()).toContain('list.xlsx is not used');
  });

  test('vector files named for a kind, and station files of wind, are taken in a folder too', async () => {
    const set = await listInputs(
      folderOf({
        'elevation.tif': ELEVATION,
        'stands.geojson': '{"type":"Point","coordinates":[-87.66,36.59]}',
        '724240-13807-2021': '2021 11  5  6   -12   -30 10231   180    31     4 -9999 -9999\n',
        'list.xlsx': 'x',
        'elevation.tif.aux.xml': '<x/>',
      }),
    );
    expect(set.features.map(({ name }) => name)).toEqual(['stands.geojson']);
    expect(set.wind.map(({ name }) => name)).toEqual(['724240-13807-2021']);
    expect(set.unknown.map(({ name }) => name)).toEqual(['list.xlsx']);
  });
});

test('only the blocks under the frame are read', async () => {
  const raster = await openRaster(fixture('fine-1m.tif'));
  let bytes = 0;
  const fetch = raster.bytes.fetch.bind(raster.bytes);
  raster.bytes.fetch = (slices) => {
    for (const { length } of slices) bytes += length;
    return fetch(slices);
  };
  await readWindow(raster, raster.levels[0]!, [0], { x: 100, y: 100, width: 10, height: 10 });
  expect(bytes).toBeGreaterThan(0);
  expect(bytes).toBeLessThan(readFileSync(fixture('fine-1m.tif').path).length / 20);
  await raster.bytes.close();
});
