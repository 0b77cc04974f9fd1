import { unzipSync } from 'fflate';
import type { Geometry } from 'geojson';
import { parseDbf, parseShp } from 'shpjs';
import { Problem } from '../../core/grid/problem.ts';
import { crsOfWkt } from './crs.ts';
import { readGeoJson } from './geojson.ts';
import { readKml } from './markup.ts';
import { type RawFeature, type RawVectors, toLonLat } from './raw.ts';
import { refusal } from './refusal.ts';

/** Unpacked size of one member and of all that are read. */
const LARGEST_MEMBER = 300e6;
const LARGEST_TOTAL = 600e6;
const WANTED = /\.(shp|dbf|prj|cpg|kml|geojson|json)$/i;

/**
 * A zip with Shapefiles (each with its .prj), KML (a KMZ) or GeoJSON.
 * @throws Problem when it is not a zip, unpacks to too much, or holds nothing to read
 */
export function readZipped(name: string, bytes: Uint8Array): RawVectors {
  const members = unzip(name, bytes);
  const vectors: RawVectors = { features: [], notes: [] };
  const add = (more: RawVectors) => {
    vectors.features.push(...more.features);
    vectors.notes.push(...more.notes);
  };
  let found = 0;
  for (const [path, content] of members) {
    const label = `${name} (${path})`;
    if (/\.shp$/i.test(path)) add(readShapefile(name, path, members));
    else if (/\.kml$/i.test(path)) add(readKml(label, new TextDecoder().decode(content)));
    else if (/\.(geo)?json$/i.test(path)) add(readGeoJson(label, new TextDecoder().decode(content)));
    else continue;
    found++;
  }
  if (found === 0)
    throw refusal(`${name} holds no Shapefile, KML or GeoJSON`, {
      file: name,
      fix: 'zip the .shp together with its .dbf and .prj',
    });
  return vectors;
}

function unzip(name: string, bytes: Uint8Array): Map<string, Uint8Array> {
  let total = 0;
  try {
    const unpacked = unzipSync(bytes, {
      filter: ({ name: path, originalSize }) => {
        if (!WANTED.test(path) || path.includes('__MACOSX')) return false;
        total += originalSize;
        if (originalSize > LARGEST_MEMBER || total > LARGEST_TOTAL)
          throw refusal(`${name} unpacks to more than a property's features can be (${path})`, {
            file: name,
            fix: 'clip the features to the neighbourhood of the property first',
          });
        return true;
      },
    });
    return new Map(Object.entries(unpacked));
  } catch (error) {
    if (error instanceof Problem) throw error;
    throw refusal(`${name} is not a zip file, or is damaged`, {
      file: name,
      fix: 'download or zip it again',
    });
  }
}

/** ESRI Shapefile (white paper of July 1998) in the system of its .prj. */
function readShapefile(name: string, path: string, members: Map<string, Uint8Array>): RawVectors {
  const sibling = (extension: string): Uint8Array | undefined => {
    const wanted = path.replace(/\.shp$/i, extension).toLowerCase();
    for (const [other, content] of members) if (other.toLowerCase() === wanted) return content;
    return undefined;
  };
  const prj = sibling('.prj');
  if (!prj)
    throw refusal(`${name}: ${path} has no .prj file, so its coordinates cannot be placed`, {
      file: name,
      fix: 'put the .prj that belongs to it into the zip, or export it as GeoJSON',
    });
  const crs = crsOfWkt(new TextDecoder().decode(prj), name);
  const dbf = sibling('.dbf');
  let shapes: (Geometry | null)[];
  let rows: Record<string, unknown>[] = [];
  try {
    shapes = parseShp(whole(members.get(path)!)) as (Geometry | null)[];
    if (dbf) rows = parseDbf(whole(dbf), sibling('.cpg') as never) as Record<string, unknown>[];
  } catch {
    throw refusal(`${name}: ${path} is damaged`, { file: name, fix: 'export and zip it again' });
  }
  const layer = path
    .split('/')
    .at(-1)!
    .replace(/\.shp$/i, '');
  const features: RawFeature[] = [];
  shapes.forEach((geometry, i) => {
    if (geometry) features.push({ id: null, geometry, properties: { ...rows[i] }, layer });
  });
  return toLonLat(features, crs, name);
}

const whole = (bytes: Uint8Array): Buffer => Buffer.from(bytes);
