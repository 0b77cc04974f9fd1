/** Writes the invented sample property: `npx node sample-rasters/generate.ts [folder]`. Same seed, same files. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { encodeGeotiff } from './generator/geotiff.ts';
import { makeGround } from './generator/ground.ts';
import { makeImagery } from './generator/imagery.ts';
import * as place from './generator/scenario.ts';
import { makeBoundary, makeFeatures } from './generator/vectors.ts';
import { makeVegetation } from './generator/vegetation.ts';
import { makeWindYear, WIND_YEARS } from './generator/wind.ts';

const folder = process.argv[2] ?? join(import.meta.dirname, 'invented-farm');
mkdirSync(folder, { recursive: true });
let total = 0;

function put(name: string, content: Uint8Array | string): void {
  const bytes = typeof content === 'string' ? Buffer.from(content) : content;
  writeFileSync(join(folder, name), bytes);
  total += bytes.length;
  process.stdout.write(`${name}: ${bytes.length} bytes\n`);
}

const json = (value: unknown): string => `${JSON.stringify(value, null, 1)}\n`;
const placed = { epsg: place.EPSG, west: place.WEST, north: place.SOUTH + place.HEIGHT };
const ground = makeGround();
put(
  'elevation.tif',
  encodeGeotiff({
    ...placed,
    width: place.WIDTH / place.GROUND_CELL,
    height: place.HEIGHT / place.GROUND_CELL,
    bands: 1,
    cells: ground,
    cellSize: place.GROUND_CELL,
    description: 'Invented ground elevation, metres',
    metres: true,
  }),
);
put(
  'imagery.tif',
  encodeGeotiff({
    ...placed,
    width: place.WIDTH / place.PHOTO_CELL,
    height: place.HEIGHT / place.PHOTO_CELL,
    bands: 4,
    cells: makeImagery(ground, makeVegetation()),
    cellSize: place.PHOTO_CELL,
    description: 'Invented air photo: red, green, blue, near infrared; leaves on',
    metres: false,
  }),
);
put('boundary.geojson', json(makeBoundary()));
put('features.geojson', json(makeFeatures()));
for (const year of WIND_YEARS) put(`wind-${year}.gz`, gzipSync(makeWindYear(year), { level: 9 }));
put('property.json', json({ name: place.NAME, invented: true, units: 'us' }));
process.stdout.write(`${(total / 1e6).toFixed(2)} MB in all\n`);
