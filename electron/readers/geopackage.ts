import Database from 'better-sqlite3';
import type { Geometry } from 'geojson';
import GeoJSON from 'ol/format/GeoJSON.js';
import WKB from 'ol/format/WKB.js';
import { Problem } from '../../core/grid/problem.ts';
import { crsOfEpsg, crsOfWkt } from './crs.ts';
import type { InputFile } from './inputs.ts';
import { type RawFeature, type RawVectors, toLonLat } from './raw.ts';
import { refusal } from './refusal.ts';

interface LayerRow {
  tableName: string;
  columnName: string;
  organization: string;
  code: number;
  definition: string;
}

/** Bytes of the envelope in a GeoPackage geometry header, by its code (OGC 12-128r18, 2.1.3). */
const ENVELOPE = [0, 32, 48, 48, 64];
const MOST_FEATURES = 200_000;

/**
 * Every feature table of a GeoPackage, opened read-only.
 * @throws Problem when it is not a GeoPackage or a table is not in a known system
 */
export function readGeoPackage({ name, path }: InputFile): RawVectors {
  const vectors: RawVectors = { features: [], notes: [] };
  let database: InstanceType<typeof Database> | null = null;
  try {
    database = new Database(path, { readonly: true, fileMustExist: true });
    const layers = database
      .prepare(
        `SELECT c.table_name AS tableName, g.column_name AS columnName, s.organization AS organization,
                s.organization_coordsys_id AS code, s.definition AS definition
         FROM gpkg_contents c JOIN gpkg_geometry_columns g ON g.table_name = c.table_name
         LEFT JOIN gpkg_spatial_ref_sys s ON s.srs_id = g.srs_id
         WHERE c.data_type = 'features'`,
      )
      .all() as LayerRow[];
    for (const layer of layers) {
      const { features, notes } = readLayer(database, layer, name);
      vectors.features.push(...features);
      vectors.notes.push(...notes);
    }
    if (layers.length === 0)
      throw refusal(`${name} holds no feature layers`, {
        file: name,
        fix: 'export the features into it',
      });
    return vectors;
  } catch (error) {
    if (error instanceof Problem) throw error;
    throw refusal(`${name} is not a GeoPackage, or is damaged`, {
      file: name,
      fix: 'export it again as GeoPackage or GeoJSON',
    });
  } finally {
    database?.close();
  }
}

function readLayer(database: InstanceType<typeof Database>, layer: LayerRow, file: string): RawVectors {
  const quoted = `"${layer.tableName.replaceAll('"', '""')}"`;
  const rows = database.prepare(`SELECT * FROM ${quoted} LIMIT ${MOST_FEATURES + 1}`).all() as Record<
    string,
    unknown
  >[];
  if (rows.length > MOST_FEATURES)
    throw refusal(`${file}: the layer ${layer.tableName} has more than ${MOST_FEATURES} features`, {
      file,
      fix: 'clip it to the neighbourhood of the property first',
    });
  const features: RawFeature[] = [];
  for (const row of rows) {
    const { [layer.columnName]: blob, fid, ...properties } = row;
    const geometry = blob instanceof Uint8Array ? geometryOf(blob) : null;
    if (geometry) features.push({ id: null, geometry, properties, layer: layer.tableName });
  }
  const epsg = /^epsg$/i.test(layer.organization ?? '') ? layer.code : null;
  if (!epsg && !layer.definition)
    throw refusal(`${file}: the layer ${layer.tableName} does not say which coordinate system it is in`, {
      file,
      fix: 'export it again with its coordinate system',
    });
  return toLonLat(features, epsg ? crsOfEpsg(epsg, file) : crsOfWkt(layer.definition, file), file);
}

/** Well-known binary behind the GeoPackage header; null for an empty geometry. */
function geometryOf(blob: Uint8Array): Geometry | null {
  if (blob[0] !== 0x47 || blob[1] !== 0x50) throw new Error('not a GeoPackage geometry');
  const flags = blob[3]!;
  if (flags & 0x10) return null;
  // A copy: the blob is a view into a larger buffer, and the parser takes whole buffers.
  const start = 8 + ENVELOPE[(flags >> 1) & 7]!;
  const geometry = new WKB().readGeometry(Uint8Array.from(blob.subarray(start)).buffer);
  return geometry && (new GeoJSON().writeGeometryObject(geometry) as Geometry);
}
