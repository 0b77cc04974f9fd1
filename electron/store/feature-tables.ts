import type { Database } from 'better-sqlite3';
import type { FeatureCollection } from 'geojson';
import type { Feature } from '../../core/features/feature.ts';
import { extentOf } from '../writers/bounds.ts';
import { type Bounds, dropContent, registerContent, touchContent } from './container.ts';
import { packGeometry, unpackGeometry } from './geometry-blob.ts';

/** Feature tables: the property's own features, which are the truth, and result tables written for other programs. */

export function createFeaturesTable(db: Database, epsg: number): void {
  db.exec(`CREATE TABLE features (
    fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
    geom GEOMETRY,
    id TEXT NOT NULL UNIQUE,
    kind TEXT NOT NULL,
    status TEXT NOT NULL,
    name TEXT,
    attributes TEXT NOT NULL,
    source TEXT NOT NULL
  )`);
  registerFeatures(db, 'features', 'What was drawn or brought in', 'GEOMETRY', null, epsg);
}

function registerFeatures(
  db: Database,
  table: string,
  description: string,
  geometryType: string,
  bounds: Bounds | null,
  epsg: number,
): void {
  registerContent(db, { table, type: 'features', description, bounds, epsg });
  db.prepare("INSERT INTO gpkg_geometry_columns VALUES (?, 'geom', ?, ?, 0, 0)").run(
    table,
    geometryType,
    epsg,
  );
}

interface FeatureRecord {
  geom: Buffer;
  id: string;
  kind: string;
  status: string;
  name: string | null;
  attributes: string;
  source: string;
}

const featureOf = (record: FeatureRecord): Feature =>
  ({
    id: record.id,
    kind: record.kind,
    status: record.status,
    name: record.name,
    geometry: unpackGeometry(record.geom),
    attributes: JSON.parse(record.attributes),
    source: record.source,
  }) as Feature;

/** Every feature, in the order they came. */
export const readFeatures = (db: Database): Feature[] =>
  db.prepare<[], FeatureRecord>('SELECT * FROM features ORDER BY fid').all().map(featureOf);

/** The feature and its place in the order, or null. */
export function findFeature(db: Database, id: string): { fid: number; feature: Feature } | null {
  const record = db
    .prepare<[string], FeatureRecord & { fid: number }>('SELECT * FROM features WHERE id = ?')
    .get(id);
  return record ? { fid: record.fid, feature: featureOf(record) } : null;
}

/** Adds a feature or replaces the one of the same id; `fid` puts it back at the place it once had. */
export function putFeature(db: Database, feature: Feature, epsg: number, fid: number | null): void {
  db.prepare(
    `INSERT INTO features (fid, geom, id, kind, status, name, attributes, source) VALUES (?, ?, ?, ?, ?, ?, ?, ?)
     ON CONFLICT (id) DO UPDATE SET geom = excluded.geom, kind = excluded.kind, status = excluded.status,
       name = excluded.name, attributes = excluded.attributes, source = excluded.source`,
  ).run(
    fid,
    packGeometry(feature.geometry, epsg),
    feature.id,
    feature.kind,
    feature.status,
    feature.name,
    JSON.stringify(feature.attributes),
    feature.source,
  );
}

export function removeFeature(db: Database, id: string): void {
  db.prepare('DELETE FROM features WHERE id = ?').run(id);
}

/** Sets the extent other programs zoom to. */
export function touchFeatures(db: Database): void {
  touchContent(db, 'features', extentOf(readFeatures(db).map(({ geometry }) => geometry)));
}

/** Writes a table of results anew: one column a property, of the type its values have. */
export function writeResultTable(
  db: Database,
  table: string,
  collection: FeatureCollection,
  description: string,
  epsg: number,
): void {
  dropContent(db, table);
  const { features } = collection;
  const types = new Map<string, string>();
  for (const { properties } of features) {
    for (const [column, value] of Object.entries(properties ?? {})) {
      types.set(
        column,
        value === null || value === undefined ? (types.get(column) ?? '') : widen(types.get(column), value),
      );
    }
  }
  // An id of ours may be a number or missing; the table's own key is `fid`.
  const columns = [...types].map(([column, type]) => `${quoted(column)} ${type || 'TEXT'}`);
  db.exec(
    `CREATE TABLE ${quoted(table)} (fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, geom ${geometryType(features)}${
      columns.length > 0 ? `, ${columns.join(', ')}` : ''
    })`,
  );
  registerFeatures(
    db,
    table,
    description,
    geometryType(features),
    extentOf(features.map(({ geometry }) => geometry)),
    epsg,
  );
  const names = ['geom', ...types.keys()];
  const add = db.prepare(
    `INSERT INTO ${quoted(table)} (${names.map(quoted).join(', ')}) VALUES (${names.map(() => '?').join(', ')})`,
  );
  for (const { geometry, properties } of features) {
    const values = [...types.keys()].map((column) => plain(properties?.[column]));
    add.run(packGeometry(geometry, epsg), ...values);
  }
}

const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;

const plain = (value: unknown): string | number | null => {
  if (value === undefined || value === null) return null;
  if (typeof value === 'boolean') return value ? 1 : 0;
  return typeof value === 'number' || typeof value === 'string' ? value : JSON.stringify(value);
};

/** The narrowest column type for what was seen so far and one more value. */
function widen(type: string | undefined, value: unknown): string {
  const own =
    typeof value === 'boolean'
      ? 'BOOLEAN'
      : typeof value === 'number'
        ? Number.isInteger(value)
          ? 'INTEGER'
          : 'REAL'
        : 'TEXT';
  if (!type || type === own) return own;
  return (type === 'INTEGER' && own === 'REAL') || (type === 'REAL' && own === 'INTEGER') ? 'REAL' : 'TEXT';
}

function geometryType(features: FeatureCollection['features']): string {
  const types = new Set(features.map(({ geometry }) => geometry.type.toUpperCase()));
  return types.size === 1 ? [...types][0]! : 'GEOMETRY';
}
