import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createProperty } from '../../../electron/store/property-file.ts';
import { outside } from '../../outside.ts';
import { artifactsOf, bytesOf, hasGdal, lookWithGdal } from '../writers/support.ts';
import { importedOf } from './support.ts';

/**
 * The property file against the standards it claims: numbers in the names are those of OGC 12-128r17 (GeoPackage 1.3)
 * and, after "coverage", of OGC 17-066r1 (tiled gridded coverages).
 */

const imported = importedOf();
const artifacts = artifactsOf();
const folder = mkdtempSync(join(tmpdir(), 'geopackage-test-'));
const path = join(folder, 'farm.gpkg');
let db: Database.Database;
beforeAll(() => {
  const property = createProperty(path, imported);
  property.saveResults(artifacts);
  property.close();
  db = new Database(path, { readonly: true });
});
afterAll(() => {
  db.close();
  rmSync(folder, { recursive: true });
});

const all = <T = Record<string, unknown>>(sql: string, ...values: unknown[]): T[] =>
  db.prepare(sql).all(...values) as T[];
const tables = (): string[] =>
  all<{ name: string }>(
    "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'",
  ).map(({ name }) => name);
const columnsOf = (table: string) =>
  all<{ name: string; type: string; notnull: number; pk: number }>(`PRAGMA table_info("${table}")`);
const contents = () =>
  all<{ table_name: string; data_type: string; srs_id: number | null; min_x: number; max_y: number }>(
    'SELECT * FROM gpkg_contents',
  );

describe('the container', () => {
  it('1, 2: is SQLite 3 with the GPKG mark and version 1.3', () => {
    const head = readFileSync(path).subarray(0, 100);
    expect(head.toString('latin1', 0, 16)).toBe('SQLite format 3\0');
    expect(head.readUInt32BE(68)).toBe(0x47504b47);
    expect(head.readUInt32BE(60)).toBe(10300);
  });

  it('5: declares columns of the listed types only', () => {
    const types =
      /^(BOOLEAN|TINYINT|SMALLINT|MEDIUMINT|INT|INTEGER|FLOAT|DOUBLE|REAL|TEXT|BLOB|DATE|DATETIME|GEOMETRY|POINT|LINESTRING|POLYGON|MULTIPOINT|MULTILINESTRING|MULTIPOLYGON|GEOMETRYCOLLECTION)$/;
    for (const table of tables()) {
      for (const { name, type } of columnsOf(table)) expect(type, `${table}.${name}`).toMatch(types);
    }
  });

  it('6, 7: is sound and has no dangling key', () => {
    expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
    expect(db.pragma('foreign_key_check')).toEqual([]);
  });

  it('10, 11: defines its systems, the three required ones among them', () => {
    const rows = all<{
      srs_id: number;
      organization: string;
      organization_coordsys_id: number;
      definition: string;
    }>('SELECT * FROM gpkg_spatial_ref_sys');
    const byId = new Map(rows.map((row) => [row.srs_id, row]));
    expect(byId.get(-1)).toMatchObject({
      organization: 'NONE',
      organization_coordsys_id: -1,
      definition: 'undefined',
    });
    expect(byId.get(0)).toMatchObject({
      organization: 'NONE',
      organization_coordsys_id: 0,
      definition: 'undefined',
    });
    expect(byId.get(4326)).toMatchObject({ organization: 'EPSG', organization_coordsys_id: 4326 });
    expect(byId.get(32617)!.definition).toMatch(/^PROJCS\["WGS 84 \/ UTM zone 17N"/);
  });

  it('12 to 16: lists its contents, each a table there is, in a system there is, changed at a time in ISO 8601', () => {
    const known = new Set(
      all<{ srs_id: number }>('SELECT srs_id FROM gpkg_spatial_ref_sys').map(({ srs_id }) => srs_id),
    );
    for (const row of contents()) {
      expect(tables()).toContain(row.table_name);
      if (row.srs_id !== null) expect(known.has(row.srs_id)).toBe(true);
    }
    for (const { last_change } of all<{ last_change: string }>('SELECT last_change FROM gpkg_contents')) {
      expect(last_change).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);
    }
  });
});

describe('feature tables', () => {
  const featureTables = () => contents().filter(({ data_type }) => data_type === 'features');

  it('21 to 29: each has a row in gpkg_geometry_columns with its type and system, and an integer key', () => {
    const rows = all<{
      table_name: string;
      column_name: string;
      geometry_type_name: string;
      srs_id: number;
      z: number;
      m: number;
    }>('SELECT * FROM gpkg_geometry_columns');
    expect(rows.map(({ table_name }) => table_name).sort()).toEqual(
      featureTables()
        .map(({ table_name }) => table_name)
        .sort(),
    );
    for (const row of rows) {
      const columns = columnsOf(row.table_name);
      expect(columns.find(({ name }) => name === row.column_name)?.type).toBe(row.geometry_type_name);
      expect(columns.filter(({ pk }) => pk > 0)).toMatchObject([{ type: 'INTEGER' }]);
      expect(row).toMatchObject({ srs_id: 32617, z: 0, m: 0 });
    }
    expect(rows.map(({ table_name }) => table_name)).toEqual(
      expect.arrayContaining(['features', 'necks', 'stand_risks']),
    );
  });

  it('19, 33: hold geometries with the GeoPackage header and the system of their table', () => {
    for (const { table_name } of featureTables()) {
      for (const { geom } of all<{ geom: Buffer }>(`SELECT geom FROM "${table_name}"`)) {
        expect(geom.toString('latin1', 0, 2)).toBe('GP');
        expect(geom[2]).toBe(0);
        expect(geom.readInt32LE(4)).toBe(32617);
      }
    }
  });
});

describe('tile tables', () => {
  const tileTables = () =>
    contents().filter(({ data_type }) => data_type === 'tiles' || data_type === '2d-gridded-coverage');

  it('34 to 48: have a matrix set that its tiles fill exactly, and only tiles within it', () => {
    expect(tileTables().length).toBeGreaterThan(8);
    for (const { table_name } of tileTables()) {
      const [set] = all<{ min_x: number; min_y: number; max_x: number; max_y: number; srs_id: number }>(
        'SELECT * FROM gpkg_tile_matrix_set WHERE table_name = ?',
        table_name,
      );
      const [matrix] = all<Record<string, number>>(
        'SELECT * FROM gpkg_tile_matrix WHERE table_name = ?',
        table_name,
      );
      expect(set!.srs_id).toBe(32617);
      expect(set!.max_x - set!.min_x).toBe(
        matrix!.matrix_width! * matrix!.tile_width! * matrix!.pixel_x_size!,
      );
      expect(set!.max_y - set!.min_y).toBe(
        matrix!.matrix_height! * matrix!.tile_height! * matrix!.pixel_y_size!,
      );
      const strays = all(
        `SELECT * FROM "${table_name}" WHERE zoom_level <> 0 OR tile_column NOT BETWEEN 0 AND ? OR tile_row NOT BETWEEN 0 AND ?`,
        matrix!.matrix_width! - 1,
        matrix!.matrix_height! - 1,
      );
      expect(strays, table_name).toEqual([]);
    }
  });

  it('53, 54: keep their columns as the standard lays them', () => {
    for (const { table_name } of tileTables()) {
      expect(columnsOf(table_name).map(({ name, type }) => `${name} ${type}`)).toEqual([
        'id INTEGER',
        'zoom_level INTEGER',
        'tile_column INTEGER',
        'tile_row INTEGER',
        'tile_data BLOB',
      ]);
    }
  });

  it('36, 37: hold PNG pictures', () => {
    for (const { table_name } of contents().filter(({ data_type }) => data_type === 'tiles')) {
      for (const { tile_data } of all<{ tile_data: Buffer }>(`SELECT tile_data FROM "${table_name}"`)) {
        expect(tile_data.toString('hex', 0, 8)).toBe('89504e470d0a1a0a');
      }
    }
  });
});

describe('extensions', () => {
  it('58 to 64: are registered, each for tables and columns there are, with a name, a document and a scope', () => {
    const rows = all<{
      table_name: string;
      column_name: string | null;
      extension_name: string;
      definition: string;
      scope: string;
    }>('SELECT * FROM gpkg_extensions');
    for (const row of rows) {
      expect(tables()).toContain(row.table_name);
      if (row.column_name)
        expect(columnsOf(row.table_name).map(({ name }) => name)).toContain(row.column_name);
      expect(row.extension_name).toMatch(/^[a-zA-Z0-9]+_[a-zA-Z0-9_]+$/);
      expect(row.definition).not.toBe('');
      expect(row.scope).toBe('read-write');
    }
    // Every table beyond the standard's own and the listed contents is spoken for.
    const spoken = new Set([
      ...rows.map(({ table_name }) => table_name),
      ...contents().map(({ table_name }) => table_name),
    ]);
    expect(tables().filter((name) => !spoken.has(name) && !name.startsWith('gpkg_'))).toEqual([]);
    const named = rows.map((row) => `${row.table_name} ${row.column_name} ${row.extension_name}`);
    expect(new Set(named).size).toBe(named.length);
  });

  it('119: lists the plain table as attributes', () => {
    expect(contents().find(({ table_name }) => table_name === 'hollowgate_files')).toMatchObject({
      data_type: 'attributes',
      srs_id: null,
    });
  });
});

describe('gridded coverages', () => {
  it('coverage 1, 2, 6, 7: have their ancillary tables, registered, one row a coverage', () => {
    const coverages = contents()
      .filter(({ data_type }) => data_type === '2d-gridded-coverage')
      .map(({ table_name }) => table_name);
    const rows = all<{ tile_matrix_set_name: string }>('SELECT * FROM gpkg_2d_gridded_coverage_ancillary');
    expect(rows.map(({ tile_matrix_set_name }) => tile_matrix_set_name).sort()).toEqual(
      [...coverages].sort(),
    );
    const registered = all<{ table_name: string; column_name: string | null }>(
      "SELECT table_name, column_name FROM gpkg_extensions WHERE extension_name = 'gpkg_2d_gridded_coverage'",
    );
    expect(registered).toEqual(
      expect.arrayContaining([
        { table_name: 'gpkg_2d_gridded_coverage_ancillary', column_name: null },
        { table_name: 'gpkg_2d_gridded_tile_ancillary', column_name: null },
        ...coverages.map((table_name) => ({ table_name, column_name: 'tile_data' })),
      ]),
    );
  });

  it('coverage 3: has the row for EPSG 4979', () => {
    expect(
      all(
        "SELECT organization_coordsys_id AS code FROM gpkg_spatial_ref_sys WHERE organization = 'EPSG'",
      ).map((row) => row.code),
    ).toContain(4979);
  });

  it('coverage 8, 9: states no data, -9999 for fractions', () => {
    for (const row of all<{ datatype: string; data_null: number }>(
      'SELECT * FROM gpkg_2d_gridded_coverage_ancillary',
    )) {
      expect(['integer', 'float']).toContain(row.datatype);
      expect(row.data_null).toBe(row.datatype === 'float' ? -9999 : 0);
    }
  });

  it('coverage 10 to 12: tells of every tile, with its natural least and greatest value', () => {
    for (const { tile_matrix_set_name: table } of all<{ tile_matrix_set_name: string }>(
      'SELECT * FROM gpkg_2d_gridded_coverage_ancillary',
    )) {
      const missing = all(
        `SELECT id FROM "${table}" WHERE id NOT IN (SELECT tpudt_id FROM gpkg_2d_gridded_tile_ancillary WHERE tpudt_name = ?)`,
        table,
      );
      expect(missing).toEqual([]);
    }
    const [row] = all<{ least: number; greatest: number }>(
      "SELECT min(min) AS least, max(max) AS greatest FROM gpkg_2d_gridded_tile_ancillary WHERE tpudt_name = 'grid_screening'",
    );
    const known = artifacts.screening.cells.filter((value) => !Number.isNaN(value));
    expect(row).toEqual({ least: Math.min(...known), greatest: Math.max(...known) });
  });

  it('coverage 13 to 21: tiles are one-band 32-bit float TIFF in one plain or LZW strip, or 16-bit grey PNG', () => {
    for (const { tile_matrix_set_name: table, datatype } of all<{
      tile_matrix_set_name: string;
      datatype: string;
    }>('SELECT * FROM gpkg_2d_gridded_coverage_ancillary')) {
      for (const { tile_data: blob } of all<{ tile_data: Buffer }>(`SELECT tile_data FROM "${table}"`)) {
        if (datatype === 'integer') {
          // Depth and colour type in the PNG header.
          expect([blob[24], blob[25]]).toEqual([16, 0]);
          continue;
        }
        const directory = blob.readUInt32LE(4);
        const count = blob.readUInt16LE(directory);
        const fields = new Map(
          Array.from({ length: count }, (_, index) => {
            const at = directory + 2 + index * 12;
            return [blob.readUInt16LE(at), blob.readUInt16LE(at + 8)] as const;
          }),
        );
        expect(fields.get(258), 'bits a sample').toBe(32);
        expect(fields.get(277), 'samples a pixel').toBe(1);
        expect(fields.get(339), 'floating point').toBe(3);
        expect([1, 5], 'compression').toContain(fields.get(259));
        expect(fields.has(322), 'internal tiles').toBe(false);
        expect(blob.readUInt32LE(directory + 2 + count * 12), 'a second image').toBe(0);
      }
    }
  });
});

describe.skipIf(!hasGdal)('GDAL', () => {
  it('opens everything in the file with no warning and sees equal cells, shapes and columns', () => {
    const { messages, files } = lookWithGdal(path);
    const check = outside({
      room: 'store',
      method: 'The property file: grids, cell for cell, and no warning',
      source: 'GDAL as installed',
      unit: 'layers that differ',
      allowed: 0,
    });
    check.same(messages, []);
    expect(readdirSync(folder)).toEqual(['farm.gpkg']);
    const { rasters, layers } = files[0]!;
    const sha = (cells: Float32Array | Uint16Array): string =>
      createHash('sha256').update(bytesOf(cells)).digest('hex');
    for (const [table, grid] of [
      ['grid_elevation', imported.sources.elevation],
      ['grid_screening', artifacts.screening],
      ['grid_passage', artifacts.passage],
    ] as const) {
      const seen = rasters![table]!;
      expect(seen).toMatchObject({
        width: 300,
        height: 270,
        epsg: '32617',
        transform: [439000.5, 2.5, 0, 4351000.25, 0, -2.5],
      });
      expect(seen.bands[0]).toMatchObject({ type: 'Float32', nodata: -9999 });
      check.same(
        seen.bands[0]!.sha256,
        sha(grid.cells.map((value) => (Number.isNaN(value) ? -9999 : value))),
      );
    }
    check.done();
    expect(rasters!.grid_cover!.bands[0]!.sha256).toBe(sha(Uint16Array.from(artifacts.cover.cells)));
    const { bands } = imported.sources.imagery!;
    for (const [index, band] of bands.slice(0, 3).entries()) {
      expect(rasters!.imagery!.bands[index]!.sha256).toBe(
        createHash('sha256').update(bytesOf(band)).digest('hex'),
      );
    }
    expect(layers!.features!.rows.map(({ geometry }) => geometry)).toEqual(
      imported.sources.features.map(({ geometry }) => geometry),
    );
    expect(layers!.features!.rows[2]!.fields).toMatchObject({
      id: 'stand-1',
      kind: 'stand',
      name: 'Oak stand',
    });
    expect(layers!.necks!.rows).toMatchObject([
      {
        geometry: { coordinates: artifacts.necks[0]!.line },
        fields: { rank: 1, width_m: 40, share: 0.4123, firm: true },
      },
    ]);
    for (const [name, layer] of Object.entries(layers!)) {
      if (name !== 'hollowgate_files') expect(layer.epsg, name).toBe('32617');
      expect(
        layer.rows.every(({ valid }) => valid !== false),
        name,
      ).toBe(true);
    }
    expect(layers!.hollowgate_files!.rows[0]!.fields).toMatchObject(imported.files[0]!);
  });
});
