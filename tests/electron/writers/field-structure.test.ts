import { unzipSync } from 'fflate';
import type { Geometry } from 'geojson';
import { describe, expect, it } from 'vitest';
import { FEATURE_KINDS } from '../../../core/features/feature.ts';
import { fieldPlan } from '../../../electron/writers/field-files.ts';
import { gpxOf, walkGpxOf } from '../../../electron/writers/gpx.ts';
import { kmlOf, kmzOf } from '../../../electron/writers/kml.ts';
import { feature, field, line, point } from '../../core/plan/scene.ts';
import { outside } from '../../outside.ts';
import { GPX, KML, type Structure } from './published-structures.ts';
import { reportOf } from './report.ts';
import { structureFaults } from './structure-faults.ts';

const polygon = field(0, 0, 90, 60) as Extract<Geometry, { type: 'Polygon' }>;
const hole = (field(20, 20, 10, 10) as typeof polygon).coordinates[0]!;
const path = line([0, 0], [50, 80], [90, 85]) as Extract<Geometry, { type: 'LineString' }>;
const SHAPES: Geometry[] = [
  point(5, 5),
  { type: 'MultiPoint', coordinates: path.coordinates },
  path,
  { type: 'MultiLineString', coordinates: [path.coordinates, path.coordinates] },
  { type: 'Polygon', coordinates: [polygon.coordinates[0]!, hole] },
  { type: 'MultiPolygon', coordinates: [polygon.coordinates, [hole]] },
  { type: 'GeometryCollection', geometries: [point(1, 1), path, polygon] },
];
/** Every kind in every shape, existing and proposed. */
const features = FEATURE_KINDS.flatMap((kind) =>
  SHAPES.flatMap((geometry, k) =>
    (['existing', 'proposed'] as const).map((status) =>
      feature(`${kind} ${k} <${status}> & "more"`, kind, geometry, {}, status),
    ),
  ),
);
const plan = fieldPlan({ features }, reportOf());
const without = { ...plan, places: [], stops: [], start: null };
/** Where a number that is almost nothing would be written with an exponent, and with signs XML has no place for. */
const odd = {
  ...without,
  title: 'Far \ud800 \uffff \u0007 out',
  stops: [{ name: 'Meridian', about: 'and equator', at: [5e-8, -0.00000012] }],
};
const kmzText = new TextDecoder().decode(unzipSync(kmzOf(plan, new Date('2026-03-04')))['doc.kml']!);

describe('files for the phone by their published structure', () => {
  it.each<[string, string, Structure, string[]]>([
    [
      'GPX',
      'gpx.xsd of GPX 1.1 (Topografix), its rules as a table',
      GPX,
      [plan, without, odd].flatMap((each) => [gpxOf(each), walkGpxOf(each)]),
    ],
    [
      'KML and KMZ',
      'ogckml22.xsd of OGC 07-147r2, its rules as a table from memory',
      KML,
      [kmlOf(plan), kmzText, kmlOf(without), kmlOf(odd)],
    ],
  ])('%s has its elements where they may stand', (name, source, structure, texts) => {
    const check = outside({
      room: 'writers',
      method: `Structure of ${name}`,
      source,
      unit: 'faults',
      allowed: 0,
    });
    for (const text of texts) {
      expect(structureFaults(text, structure).slice(0, 5)).toEqual([]);
      check.same(structureFaults(text, structure), []);
    }
    check.done();
  });

  it.each<[string, Structure, string, (text: string) => string]>([
    [
      'a name after its type',
      GPX,
      'name may not stand there',
      (text) => text.replace(/(<name>[^<]*<\/name>)(<desc>[^<]*<\/desc>)(<type>[^<]*<\/type>)/, '$2$3$1'),
    ],
    [
      'a track before a waypoint',
      GPX,
      'wpt may not stand there',
      (text) => text.replace('<wpt ', '<trk/><wpt '),
    ],
    ['a point without a latitude', GPX, 'lat is null', (text) => text.replace(/ lat="[^"]*"/, '')],
    ['a latitude beyond the pole', GPX, 'lat is 90.5', (text) => text.replace(/ lat="[^"]*"/, ' lat="90.5"')],
    ['a longitude of 180', GPX, 'lon is 180', (text) => text.replace(/ lon="[^"]*"/, ' lon="180"')],
    [
      'a longitude with an exponent',
      GPX,
      'lon is -8e1',
      (text) => text.replace(/ lon="[^"]*"/, ' lon="-8e1"'),
    ],
    ['an element of its own', GPX, 'status[1]: not known', (text) => text.replace('<wpt ', '<status/><wpt ')],
    [
      'another version',
      GPX,
      'version is 1.0',
      (text) => text.replace('<gpx version="1.1"', '<gpx version="1.0"'),
    ],
    ['no namespace', GPX, 'in namespace null', (text) => text.replace(/ xmlns="[^"]*"/, '')],
    [
      'a style that is not there',
      KML,
      'no style #',
      (text) => text.replace(/<Style id="[^"]*"/, '<Style id="elsewhere"'),
    ],
    [
      'a style given twice',
      KML,
      'twice',
      (text) => text.replace(/(<Style id="[^"]*"><\/?.*?<\/Style>)/, '$1$1'),
    ],
    ['a colour of three bytes', KML, 'color', (text) => text.replace(/<color>..([^<]*)</, '<color>$1<')],
    [
      'places apart by semicolons',
      KML,
      'coordinates',
      (text) => text.replace(/(<coordinates>[^<,]*),/, '$1;'),
    ],
    [
      'a shape before its description',
      KML,
      'may not stand there',
      (text) => text.replace('<Placemark>', '<Placemark><Point><coordinates>1,2</coordinates></Point>'),
    ],
  ])('would not pass with %s', (_, structure, fault, spoil) => {
    const whole = structure === GPX ? gpxOf(plan) : kmlOf(plan);
    const spoiled = spoil(whole);
    expect(spoiled).not.toBe(whole);
    expect(structureFaults(spoiled, structure).join('\n')).toContain(fault);
  });
});
