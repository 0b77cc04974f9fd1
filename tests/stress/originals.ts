import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync, strToU8, zipSync } from 'fflate';
import { emptySet } from '../../electron/readers/inputs.ts';
import { readProperty } from '../../electron/readers/property.ts';
import { packBackup } from '../../electron/store/backup.ts';
import { createProperty } from '../../electron/store/property-file.ts';
import { las, laz } from '../electron/readers/las-file.ts';
import type { Reading } from './read-child.ts';

const HERE = dirname(fileURLToPath(import.meta.url));
const fixture = (name: string): Uint8Array => readFileSync(join(HERE, '../reference/fixtures/readers', name));

/** A whole file, how it is read, and whether its meaning is in its text or in its bytes. */
export interface Original {
  name: string;
  reading: Reading;
  text: boolean;
  bytes: Uint8Array;
}

const GEOJSON = JSON.stringify({
  type: 'FeatureCollection',
  features: [
    {
      type: 'Feature',
      properties: { kind: 'fence', name: 'north line', height: 1.2, from: '2021-10-01' },
      geometry: {
        type: 'LineString',
        coordinates: [
          [-87.1, 36.5],
          [-87.09, 36.51],
          [-87.08, 36.5],
        ],
      }, // prettier-ignore
    },
    {
      type: 'Feature',
      properties: { kind: 'bedding' },
      geometry: {
        type: 'Polygon',
        coordinates: [
          [
            [-87.1, 36.5],
            [-87.09, 36.5],
            [-87.09, 36.51],
            [-87.1, 36.5],
          ],
        ],
      }, // prettier-ignore
    },
    { type: 'Feature', properties: {}, geometry: { type: 'Point', coordinates: [-87.095, 36.505] } },
  ],
});

const KML = `<?xml version="1.0" encoding="UTF-8"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document><Folder>
<name>fences</name><Placemark><name>A &amp; B</name><LineString><coordinates>-87.1,36.5,0 -87.09,36.51,0</coordinates>
</LineString></Placemark><Placemark><Polygon><outerBoundaryIs><LinearRing><coordinates>-87.1,36.5 -87.09,36.5 -87.09,36.51
-87.1,36.5</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark></Folder></Document></kml>`;

const GPX = `<?xml version="1.0"?><gpx version="1.1" creator="by hand" xmlns="http://www.topografix.com/GPX/1/1">
<wpt lat="36.5" lon="-87.1"><name>scrape</name></wpt><trk><name>walk</name><trkseg>
<trkpt lat="36.5" lon="-87.1"><time>2021-02-03T14:00:00Z</time></trkpt>
<trkpt lat="36.501" lon="-87.101"><time>2021-02-03T14:01:00Z</time></trkpt></trkseg></trk></gpx>`;

const HOURLY = [
  '"STATION","DATE","SOURCE","LATITUDE","LONGITUDE","ELEVATION","NAME","REPORT_TYPE","WND","OC1","TMP"',
  ...Array.from(
    { length: 40 },
    (_, i) =>
      `"72424013807","2021-11-05T${String(i % 24).padStart(2, '0')}:53:00","7","37.9","-85.9","230","INVENTED","FM-15","${String((i * 37) % 360).padStart(3, '0')},1,N,00${20 + i},1","0077,1","+0100,1"`,
  ),
].join('\n');

const TABLE = [
  'datetime_utc,wind_dir,wind_speed_mph',
  ...Array.from(
    { length: 40 },
    (_, i) => `2021-11-05 ${String(i % 24).padStart(2, '0')}:00,${(i * 41) % 360},${i % 12}`,
  ), // prettier-ignore
].join('\n');

const ISD_LITE = Array.from(
  { length: 40 },
  (_, i) =>
    `2021 11 05 ${String(i % 24).padStart(2, '0')}   100    50 10132   ${String((i * 37) % 360).padStart(3)}    ${20 + i}     2 -9999 -9999`, // prettier-ignore
).join('\n');

const CLOUD = Array.from({ length: 400 }, (_, i) => ({
  x: 440000 + (i % 20),
  y: 4050000 - Math.floor(i / 20),
  z: 200 + i * 0.3,
  classification: 2,
}));

const RASTERS = [
  'float32-none-strips.tif',
  'int16-lzw-predictor2.tif',
  'float32-deflate-predictor3.tif',
  'float32-zstd-predictor3.tif',
  'float32-lerc-zstd.tif',
  'float32-bigtiff.tif',
  'cog-elevation.tif',
  'rgb-jpeg-ycbcr.tif',
  'landcover-albers.tif',
];

/** A movie header alone, as a phone writes it (ISO/IEC 14496-12). */
function clip(): Uint8Array {
  const bytes = new Uint8Array(16 + 8 + 108);
  const view = new DataView(bytes.buffer);
  const box = (at: number, length: number, type: string) => {
    view.setUint32(at, length);
    bytes.set(strToU8(type), at + 4);
  };
  box(0, 16, 'ftyp');
  box(16, 116, 'moov');
  box(24, 108, 'mvhd');
  view.setUint32(36, 3_700_000_000);
  return bytes;
}

/** A property made from a raster and some lines, and a back-up of it. */
async function kept(folder: string): Promise<{ property: Uint8Array; backup: Uint8Array }> {
  const at = (name: string, bytes: Uint8Array) => {
    const path = join(folder, name);
    writeFileSync(path, bytes);
    return { name, path };
  };
  const inputs = {
    ...emptySet('kept'),
    elevation: [at('elevation.tif', fixture('float32-none-strips.tif'))],
    wind: [at('wind-2021', strToU8(ISD_LITE))],
  };
  const path = join(folder, 'kept.gpkg');
  createProperty(path, await readProperty(inputs, { answers: { verticalUnit: 'metre' } })).close();
  const zip = join(folder, 'kept.zip');
  await packBackup([{ path, name: 'kept', client: 'nobody', archived: false }], zip, () => {});
  return { property: readFileSync(path), backup: readFileSync(zip) };
}

/**
 * One small whole file of each format the program reads.
 * @param folder empty, for what is made on the way
 */
export async function originals(folder: string): Promise<Original[]> {
  const { property, backup } = await kept(folder);
  const binary = (name: string, reading: Reading, bytes = fixture(name)): Original => ({
    name,
    reading,
    text: false,
    bytes,
  }); // prettier-ignore
  const text = (name: string, reading: Reading, content: string): Original => ({
    name,
    reading,
    text: true,
    bytes: strToU8(content),
  }); // prettier-ignore
  return [
    ...RASTERS.map((name) => binary(name, 'elevation')),
    binary('cloud.las', 'elevation', las(CLOUD)),
    binary('cloud.laz', 'elevation', laz(CLOUD, { format: 6 })),
    binary('shapes.gpkg', 'features'),
    binary('shapes.zip', 'features'),
    binary('lines.kmz', 'features', zipSync({ 'doc.kml': strToU8(KML) })),
    text('lines.geojson', 'features', GEOJSON),
    text('lines.kml', 'features', KML),
    text('walk.gpx', 'features', GPX),
    text('wind-2021', 'wind', ISD_LITE),
    binary('wind-2021.gz', 'wind', gzipSync(strToU8(ISD_LITE))),
    text('wind-hourly.csv', 'wind', HOURLY),
    text('wind-table.csv', 'wind', TABLE),
    binary('placed.jpg', 'photo', fixture('photos/placed.jpg')),
    binary('scan.jpg', 'scan', fixture('scans/on-its-side.jpg')),
    binary('scan.png', 'scan', fixture('scans/plain.png')),
    binary('scan.tif', 'scan', fixture('scans/colour-tiled.tif')),
    binary('clip.mp4', 'clip', clip()),
    binary('kept.gpkg', 'property', property),
    binary('shelf.zip', 'backup', backup),
    binary('timed.jpg', 'photo', fixture('photos/timed.jpg')),
    text(
      'property.json',
      'settings',
      readFileSync(join(HERE, '../../sample-rasters/invented-farm/property.json'), 'utf8'),
    ), // prettier-ignore
  ];
}
