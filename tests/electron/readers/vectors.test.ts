import { join } from 'node:path';
import { strToU8, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import type { Feature } from '../../../core/features/feature.ts';
import type { Frame } from '../../../core/grid/frame.ts';
import { readFeatures } from '../../../electron/readers/features.ts';
import { placed } from '../../../electron/readers/frame.ts';
import { kindOf } from '../../../electron/readers/kinds.ts';
import { readVectors } from '../../../electron/readers/vectors.ts';
import { bytesOf, expected, fixture, folderOf, problemOf } from './support.ts';

const frame: Frame = placed({
  epsg: 32616,
  west: 440000,
  north: 4050000,
  cellSize: 10,
  width: 50,
  height: 44,
  longitude: 0,
  latitude: 0,
  convergence: 0,
});

const read = (name: string, content: string | Uint8Array) =>
  readFeatures(join(folderOf({ [name]: content }), name), frame);
const refused = (name: string, content: string | Uint8Array) => problemOf(() => read(name, content));

const positions = (feature: Feature): number[] =>
  (feature.geometry as Exclude<GeoJSON.Geometry, GeoJSON.GeometryCollection>).coordinates.flat(3) as number[];

/** Each expected shape is there with its kind and name, its corners within `tolerance` metres of PROJ's. */
function expectShapes(features: Feature[], tolerance: number, names = true) {
  expect(features).toHaveLength(3);
  for (const shape of expected.shapes) {
    const found = features.find(({ kind }) => kind === shape.kind)!;
    expect(found.geometry.type).toBe(shape.geometry.type);
    if (names) expect(found.name).toBe(shape.name);
    const wanted = positions({ ...found, geometry: shape.geometry }).sort((a, b) => a - b);
    const got = positions(found).sort((a, b) => a - b);
    expect(got).toHaveLength(wanted.length);
    got.forEach((value, i) => {
      expect(Math.abs(value - wanted[i]!)).toBeLessThan(tolerance);
    });
  }
}

const LON_LAT = `{"type":"FeatureCollection","features":[
 {"type":"Feature","id":7,"properties":{"kind":"fence","name":"North fence","height_ft":5},"geometry":{"type":"LineString","coordinates":[[-87.665,36.59,210],[-87.664,36.5905,211],[-87.663,36.59,212]]}},
 {"type":"Feature","properties":{"kind":"stand","name":"Oak stand","status":"proposed","seatHeight":5.5},"geometry":{"type":"Point","coordinates":[-87.6645,36.589]}},
 {"type":"Feature","properties":{"kind":"food","name":"Clover plot"},"geometry":{"type":"Polygon","coordinates":[[[-87.6648,36.588],[-87.664,36.588],[-87.664,36.5886],[-87.6648,36.5886],[-87.6648,36.588]]]}}]}`;

describe('one set of shapes in every form, against PROJ (fixture)', () => {
  test('GeoJSON in degrees, with attributes in SI units and height dropped', async () => {
    const { features, notes } = await read('features.geojson', LON_LAT);
    expectShapes(features, 1e-3);
    expect(notes).toEqual([]);
    expect(features[0]).toMatchObject({ id: '7', status: 'existing', source: 'features.geojson' });
    expect(features[0]!.attributes.height).toBeCloseTo(1.524, 9);
    expect(features[1]).toMatchObject({ status: 'proposed', attributes: { seatHeight: 5.5 } });
  });

  test('GeoJSON with the old crs member', async () => {
    const projected = {
      type: 'FeatureCollection',
      crs: { type: 'name', properties: { name: 'urn:ogc:def:crs:EPSG::32616' } },
      features: expected.shapes.map(({ kind, name, geometry }) => ({
        type: 'Feature',
        properties: { kind, name },
        geometry,
      })),
    };
    expectShapes((await read('features.geojson', JSON.stringify(projected))).features, 1e-3);
  });

  test('GeoPackage in NAD83 UTM, written by OGR', async () => {
    const { features, notes } = await readFeatures(fixture('shapes.gpkg').path, frame);
    expectShapes(features, 2e-3);
    expect(notes.join()).toContain('NAD83');
  });

  test('zipped Shapefiles in state plane feet, written by OGR', async () => {
    const { features } = await readFeatures(fixture('shapes.zip').path, frame);
    expectShapes(features, 5e-3);
  });

  const placemarks = `
    <Folder><name>Fences</name><Placemark><name>North fence</name><LineString><coordinates>-87.665,36.59,0 -87.664,36.5905,0 -87.663,36.59,0</coordinates></LineString></Placemark></Folder>
    <Folder><name>Stands 2026</name><Placemark><name>Oak stand</name><Point><coordinates>-87.6645,36.589</coordinates></Point></Placemark></Folder>
    <Placemark><name>Clover plot</name><Polygon><outerBoundaryIs><LinearRing><coordinates>-87.6648,36.588 -87.664,36.588 -87.664,36.5886 -87.6648,36.5886 -87.6648,36.588</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark>`;
  const kml = `<?xml version="1.0" encoding="UTF-8"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document>${placemarks}</Document></kml>`;

  test('KML: the folder, else the name, says the kind', async () => {
    expectShapes((await read('farm.kml', kml)).features, 1e-3);
  });
  test('KMZ', async () => {
    expectShapes((await read('farm.kmz', zipSync({ 'doc.kml': strToU8(kml) }))).features, 1e-3);
  });

  test('GPX: waypoints by symbol or name, tracks by name', async () => {
    const gpx = `<?xml version="1.0"?><gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1">
      <wpt lat="36.589" lon="-87.6645"><name>Oak stand</name></wpt>
      <trk><name>North fence</name><trkseg><trkpt lat="36.59" lon="-87.665"/><trkpt lat="36.5905" lon="-87.664"/><trkpt lat="36.59" lon="-87.663"/></trkseg></trk></gpx>`;
    const { features } = await read('walk.gpx', gpx);
    expect(features.map(({ kind, name }) => [kind, name])).toEqual(
      expect.arrayContaining([
        ['stand', 'Oak stand'],
        ['fence', 'North fence'],
      ]),
    );
    const stand = features.find(({ kind }) => kind === 'stand')!;
    const wanted = expected.shapes.find(({ kind }) => kind === 'stand')!.geometry as GeoJSON.Point;
    expect(positions(stand)[0]).toBeCloseTo(wanted.coordinates[0]!, 3);
  });
});

describe('kinds', () => {
  test('words of the trade and of public data', () => {
    const found = (properties: object, layer: string | null = null) => kindOf({ ...properties }, layer, null);
    expect(found({ kind: 'Stream' })).toEqual({ kind: 'creek' });
    expect(found({ highway: 'residential' })).toEqual({ kind: 'road' });
    expect(found({ waterway: 'something' })).toEqual({ kind: 'creek' });
    expect(found({ type: 'food_plot' })).toEqual({ kind: 'food' });
    expect(found({ name: 'Ladder stand 3' })).toEqual({ kind: 'stand' });
    expect(found({}, 'Property lines')).toEqual({ kind: 'boundary' });
    expect(found({ kind: 'power line' })).toEqual({ kind: 'powerline' });
    expect(found({ name: 'Fence row gate' })).toEqual({ kind: 'gap' });
  });

  test('a stated kind that is not known is reported, not guessed from the name', async () => {
    const data = JSON.parse(LON_LAT);
    data.features[0].properties = { kind: 'wallow', name: 'by the fence' };
    const { features, notes } = await read('features.geojson', JSON.stringify(data));
    expect(features).toHaveLength(2);
    expect(notes).toEqual([expect.stringMatching(/1 feature of the kind “wallow” is left out/)]);
  });

  test('a file of one kind gives its kind to features that say nothing', async () => {
    const point = '{"type":"Point","coordinates":[-87.66,36.59]}';
    const path = join(folderOf({ 'a.geojson': point }), 'a.geojson');
    expect((await readFeatures(path, frame, 'stand')).features[0]!.kind).toBe('stand');
  });
});

test('a file named for a kind gives it to features that say nothing', async () => {
  const point = '{"type":"Point","coordinates":[-87.66,36.59]}';
  expect((await read('tree stands.geojson', point)).features[0]!.kind).toBe('stand');
  expect((await read('things.geojson', point)).features).toEqual([]);
});

describe('files that cannot be used are refused with the fix', () => {
  test('cut short', async () => {
    expect((await refused('a.geojson', LON_LAT.slice(0, 300))).message).toContain('not valid GeoJSON');
    expect((await refused('a.kml', '<kml><Document>')).message).toContain('not valid KML');
    expect((await refused('a.zip', bytesOf('shapes.zip').subarray(0, 900))).message).toContain('not a zip');
    expect((await refused('a.gpkg', bytesOf('shapes.gpkg').subarray(0, 5000))).message).toContain(
      'not a GeoPackage',
    );
  });
  test('the wrong content', async () => {
    expect((await refused('a.json', '{"name":"x"}')).message).toContain('not GeoJSON');
    expect((await refused('a.kml', '<html></html>')).message).toContain('outermost element is html');
    expect((await refused('a.gpx', '<kml></kml>')).message).toContain('not valid GPX');
    expect((await refused('a.gpkg', 'text')).message).toContain('not a GeoPackage');
    expect((await refused('a.zip', zipSync({ 'a.txt': strToU8('x') }))).message).toContain('no Shapefile');
    expect((await refused('a.shp', 'x')).fix).toContain('.zip');
    expect((await refused('a.geojson', '')).message).toBe('a.geojson is empty.');
  });
  test('coordinates that are not degrees', async () => {
    const problem = await refused('a.geojson', '{"type":"Point","coordinates":[440000,4050000]}');
    expect(problem.message).toContain('not longitude and latitude');
  });
  test('coordinates that are not lists of numbers', async () => {
    for (const coordinates of ['"abc"', '[["x", 1]]', '[1]', '{}', '[[[1, 2]]]'])
      expect(
        (await refused('a.geojson', `{"type":"LineString","coordinates":${coordinates}}`)).message,
      ).toMatch(/not lists of numbers/);
    expect((await refused('a.geojson', '{"type":"Curve","coordinates":[[1, 2]]}')).message).toContain(
      'not lists',
    );
  });
  test('document types and entities in markup', async () => {
    const problem = await refused('a.kml', '<!DOCTYPE x [<!ENTITY a "b">]><kml></kml>');
    expect(problem.message).toContain('document type');
  });
  test('a shapefile without its projection', async () => {
    const { unzipSync } = await import('fflate');
    const members = unzipSync(bytesOf('shapes.zip'), { filter: ({ name }) => !name.endsWith('.prj') });
    expect((await refused('a.zip', zipSync(members))).message).toContain('no .prj');
  });
  test('a zip that unpacks to too much', async () => {
    // The directory of the zip claims 320 MB for a member of a few bytes.
    const bomb = zipSync({ 'a.geojson': strToU8('{}') });
    const view = new DataView(bomb.buffer);
    for (let at = 0; at < bomb.length - 4; at++)
      if (view.getUint32(at, true) === 0x02014b50) view.setUint32(at + 24, 320e6, true);
    expect((await refused('a.zip', bomb)).message).toContain('unpacks to more');
  });
  test('a file that is not there', async () => {
    const problem = await problemOf(() => readVectors({ name: 'gone.kml', path: '/nowhere/gone.kml' }));
    expect(problem.message).toBe('gone.kml is not there.');
  });
});
