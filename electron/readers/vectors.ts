import { readFileSync, statSync } from 'node:fs';
import { extname } from 'node:path';
import { looksLikeCounts, readCounts } from './camera-counts.ts';
import { readGeoJson } from './geojson.ts';
import { readGeoPackage } from './geopackage.ts';
import type { InputFile } from './inputs.ts';
import { readGpx, readKml } from './markup.ts';
import { type RawVectors, tidy } from './raw.ts';
import { refusal } from './refusal.ts';
import { readZipped } from './shapefile.ts';
import { unreadable } from './source.ts';

const LARGEST = 200e6;
/** Of files that hold nothing but features. */
export const VECTOR_EXTENSIONS = ['.geojson', '.json', '.kml', '.kmz', '.gpx', '.zip', '.gpkg'];

/**
 * Reads any vector file this program opens: GeoJSON, KML, KMZ, GPX, zipped Shapefile, GeoPackage, and
 * tables of counts at places.
 * @throws Problem naming the file and the fix
 */
export async function readVectors(file: InputFile): Promise<RawVectors> {
  const { name, path } = file;
  let size: number;
  try {
    size = statSync(path).size;
  } catch (error) {
    throw unreadable(error, name);
  }
  if (size === 0) throw refusal(`${name} is empty`, { file: name, fix: 'export it again' });
  if (size > LARGEST)
    throw refusal(`${name} is ${(size / 1e6).toFixed(0)} MB, too large for features of one property`, {
      file: name,
      fix: 'clip it to the neighbourhood of the property first',
    });
  const read = READERS[extname(name).toLowerCase()];
  if (!read)
    throw refusal(`${name} is not a vector file this program opens`, {
      file: name,
      fix:
        extname(name).toLowerCase() === '.shp'
          ? 'put the .shp, .dbf and .prj together into one .zip and give that'
          : 'save it as GeoJSON, KML, GPX, zipped Shapefile or GeoPackage',
    });
  const vectors = await read(file);
  return { ...vectors, features: vectors.features.flatMap((feature) => tidy(feature, name)) };
}

const READERS: Record<string, (file: InputFile) => RawVectors | Promise<RawVectors>> = {
  '.geojson': (file) => readGeoJson(file.name, textOf(file)),
  '.json': (file) => readGeoJson(file.name, textOf(file)),
  '.kml': (file) => readKml(file.name, textOf(file)),
  '.gpx': (file) => readGpx(file.name, textOf(file)),
  '.kmz': (file) => readZipped(file.name, bytesOf(file)),
  '.zip': (file) => readZipped(file.name, bytesOf(file)),
  '.gpkg': (file) => readGeoPackage(file),
  '.csv': (file) => readCounts(file.name, textOf(file)),
};

function bytesOf({ path, name }: InputFile): Uint8Array {
  try {
    return readFileSync(path);
  } catch (error) {
    throw unreadable(error, name);
  }
}

const textOf = (file: InputFile): string => new TextDecoder('utf-8').decode(bytesOf(file));

/** Whether a file is a table of counts at places. */
export function isCounts(file: InputFile): boolean {
  if (extname(file.name).toLowerCase() !== '.csv') return false;
  try {
    return looksLikeCounts(textOf(file).split(/\r?\n/, 1)[0] ?? '');
  } catch {
    return false;
  }
}
