import type { Database } from 'better-sqlite3';
import type { Frame } from '../../core/grid/frame.ts';
import { crsName, crsWkt, WGS84_WKT } from './crs-wkt.ts';

/** The tables every GeoPackage has (OGC 12-128r17, GeoPackage 1.3, annex C), and the rows that register content. */

/** `GPKG` in the header of the SQLite file. */
export const APPLICATION_ID = 0x47504b47;
/** GeoPackage 1.3.0. */
const USER_VERSION = 10300;

const TABLES = `
CREATE TABLE gpkg_spatial_ref_sys (
  srs_name TEXT NOT NULL,
  srs_id INTEGER PRIMARY KEY,
  organization TEXT NOT NULL,
  organization_coordsys_id INTEGER NOT NULL,
  definition TEXT NOT NULL,
  description TEXT
);
CREATE TABLE gpkg_contents (
  table_name TEXT NOT NULL PRIMARY KEY,
  data_type TEXT NOT NULL,
  identifier TEXT UNIQUE,
  description TEXT DEFAULT '',
  last_change DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')),
  min_x DOUBLE,
  min_y DOUBLE,
  max_x DOUBLE,
  max_y DOUBLE,
  srs_id INTEGER,
  CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id)
);
CREATE TABLE gpkg_geometry_columns (
  table_name TEXT NOT NULL,
  column_name TEXT NOT NULL,
  geometry_type_name TEXT NOT NULL,
  srs_id INTEGER NOT NULL,
  z TINYINT NOT NULL,
  m TINYINT NOT NULL,
  CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name),
  CONSTRAINT uk_gc_table_name UNIQUE (table_name),
  CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name),
  CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys (srs_id)
);
CREATE TABLE gpkg_tile_matrix_set (
  table_name TEXT NOT NULL PRIMARY KEY,
  srs_id INTEGER NOT NULL,
  min_x DOUBLE NOT NULL,
  min_y DOUBLE NOT NULL,
  max_x DOUBLE NOT NULL,
  max_y DOUBLE NOT NULL,
  CONSTRAINT fk_gtms_table_name FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name),
  CONSTRAINT fk_gtms_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys (srs_id)
);
CREATE TABLE gpkg_tile_matrix (
  table_name TEXT NOT NULL,
  zoom_level INTEGER NOT NULL,
  matrix_width INTEGER NOT NULL,
  matrix_height INTEGER NOT NULL,
  tile_width INTEGER NOT NULL,
  tile_height INTEGER NOT NULL,
  pixel_x_size DOUBLE NOT NULL,
  pixel_y_size DOUBLE NOT NULL,
  CONSTRAINT pk_ttm PRIMARY KEY (table_name, zoom_level),
  CONSTRAINT fk_tmm_table_name FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name)
);
CREATE TABLE gpkg_extensions (
  table_name TEXT,
  column_name TEXT,
  extension_name TEXT NOT NULL,
  definition TEXT NOT NULL,
  scope TEXT NOT NULL,
  CONSTRAINT ge_tce UNIQUE (table_name, column_name, extension_name)
);`;

/** Lays the tables into an empty database and registers the frame's CRS. */
export function layContainer(db: Database, epsg: number): void {
  db.pragma(`application_id = ${APPLICATION_ID}`);
  db.pragma(`user_version = ${USER_VERSION}`);
  db.exec(TABLES);
  const add = db.prepare('INSERT INTO gpkg_spatial_ref_sys VALUES (?, ?, ?, ?, ?, ?)');
  add.run(
    'Undefined Cartesian',
    -1,
    'NONE',
    -1,
    'undefined',
    'undefined Cartesian coordinate reference system',
  );
  add.run(
    'Undefined geographic',
    0,
    'NONE',
    0,
    'undefined',
    'undefined geographic coordinate reference system',
  );
  add.run('WGS 84 geodetic', 4326, 'EPSG', 4326, WGS84_WKT, 'longitude and latitude in degrees on WGS 84');
  // The gridded coverage extension wants this row, and plain WKT has no way to write a three-dimensional system.
  add.run('WGS 84 3D', 4979, 'EPSG', 4979, 'undefined', 'longitude, latitude and height on WGS 84');
  add.run(crsName(epsg), epsg, 'EPSG', epsg, crsWkt(epsg), 'the property frame');
}

/** [west, south, east, north] in the frame's CRS, m. */
export type Bounds = [number, number, number, number];

export function registerContent(
  db: Database,
  content: {
    table: string;
    type: 'features' | 'tiles' | '2d-gridded-coverage' | 'attributes';
    description: string;
    bounds: Bounds | null;
    epsg: number | null;
  },
): void {
  const [west, south, east, north] = content.bounds ?? [null, null, null, null];
  db.prepare(
    `INSERT INTO gpkg_contents (table_name, data_type, identifier, description, min_x, min_y, max_x, max_y, srs_id)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  ).run(
    content.table,
    content.type,
    content.table,
    content.description,
    west,
    south,
    east,
    north,
    content.epsg,
  );
}

/** Sets the time of a table's last change, and its bounds where they are known. */
export function touchContent(db: Database, table: string, bounds: Bounds | null): void {
  db.prepare(
    `UPDATE gpkg_contents SET last_change = strftime('%Y-%m-%dT%H:%M:%fZ','now'),
     min_x = ?, min_y = ?, max_x = ?, max_y = ? WHERE table_name = ?`,
  ).run(...(bounds ?? [null, null, null, null]), table);
}

export function registerExtension(
  db: Database,
  row: { table: string; column: string | null; name: string; definition: string },
): void {
  // A UNIQUE constraint takes two NULLs for different, so it cannot keep a row from coming twice.
  const there = db
    .prepare('SELECT 1 FROM gpkg_extensions WHERE table_name = ? AND column_name IS ? AND extension_name = ?')
    .get(row.table, row.column, row.name);
  if (there) return;
  db.prepare('INSERT INTO gpkg_extensions VALUES (?, ?, ?, ?, ?)').run(
    row.table,
    row.column,
    row.name,
    row.definition,
    'read-write',
  );
}

/** Side of every tile, cells. */
export const TILE = 256;

/** Creates the tile table of a raster on a frame: one zoom level, its matrix anchored at the frame's north-west corner. */
export function createTileTable(
  db: Database,
  table: string,
  type: 'tiles' | '2d-gridded-coverage',
  description: string,
  frame: Frame,
): void {
  const { epsg, west, north, cellSize, width, height } = frame;
  const across = Math.ceil(width / TILE);
  const down = Math.ceil(height / TILE);
  db.exec(`CREATE TABLE "${table}" (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    zoom_level INTEGER NOT NULL,
    tile_column INTEGER NOT NULL,
    tile_row INTEGER NOT NULL,
    tile_data BLOB NOT NULL,
    UNIQUE (zoom_level, tile_column, tile_row)
  )`);
  registerContent(db, {
    table,
    type,
    description,
    bounds: [west, north - height * cellSize, west + width * cellSize, north],
    epsg,
  });
  db.prepare('INSERT INTO gpkg_tile_matrix_set VALUES (?, ?, ?, ?, ?, ?)').run(
    table,
    epsg,
    west,
    north - down * TILE * cellSize,
    west + across * TILE * cellSize,
    north,
  );
  db.prepare('INSERT INTO gpkg_tile_matrix VALUES (?, 0, ?, ?, ?, ?, ?, ?)').run(
    table,
    across,
    down,
    TILE,
    TILE,
    cellSize,
    cellSize,
  );
}

/** Takes a table and everything registered about it out of the file. */
export function dropContent(db: Database, table: string): void {
  const exists = (name: string) =>
    db.prepare("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = ?").get(name) !== undefined;
  if (exists('gpkg_2d_gridded_tile_ancillary')) {
    db.prepare('DELETE FROM gpkg_2d_gridded_tile_ancillary WHERE tpudt_name = ?').run(table);
    db.prepare('DELETE FROM gpkg_2d_gridded_coverage_ancillary WHERE tile_matrix_set_name = ?').run(table);
  }
  for (const owner of [
    'gpkg_extensions',
    'gpkg_geometry_columns',
    'gpkg_tile_matrix',
    'gpkg_tile_matrix_set',
  ]) {
    db.prepare(`DELETE FROM ${owner} WHERE table_name = ?`).run(table);
  }
  db.prepare('DELETE FROM gpkg_contents WHERE table_name = ?').run(table);
  db.exec(`DROP TABLE IF EXISTS "${table}"`);
}
