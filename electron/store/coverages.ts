import type { Database } from 'better-sqlite3';
import { decode } from 'fast-png';
import type { Frame, Grid, TypedArray } from '../../core/grid/frame.ts';
import { type ArrayName, TYPED_ARRAYS } from '../workers/typed-arrays.ts';
import { NODATA } from '../writers/geotiff.ts';
import { encodeImage } from '../writers/png.ts';
import { encodeTiff } from '../writers/tiff.ts';
import { createTileTable, registerExtension, TILE } from './container.ts';
import { packLzw, unpackLzw } from './lzw.ts';

/**
 * Grids through the tiled gridded coverage extension (OGC 17-066r1): numbers with fractions as 32-bit float TIFF
 * tiles, no data -9999; whole numbers of 0..65535 as 16-bit PNG tiles, no data 0. A tile without data is left out.
 */

const EXTENSION = {
  name: 'gpkg_2d_gridded_coverage',
  definition: 'http://docs.opengeospatial.org/is/17-066r1/17-066r1.html',
};

const TABLES = `
CREATE TABLE IF NOT EXISTS gpkg_2d_gridded_coverage_ancillary (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  tile_matrix_set_name TEXT NOT NULL UNIQUE,
  datatype TEXT NOT NULL DEFAULT 'integer',
  scale REAL NOT NULL DEFAULT 1.0,
  offset REAL NOT NULL DEFAULT 0.0,
  precision REAL DEFAULT 1.0,
  data_null REAL,
  grid_cell_encoding TEXT DEFAULT 'grid-value-is-center',
  uom TEXT,
  field_name TEXT DEFAULT 'Height',
  quantity_definition TEXT DEFAULT 'Height',
  CONSTRAINT fk_g2dgtct_name FOREIGN KEY('tile_matrix_set_name') REFERENCES gpkg_tile_matrix_set ( table_name )
  CHECK (datatype in ('integer','float'))
);
CREATE TABLE IF NOT EXISTS gpkg_2d_gridded_tile_ancillary (
  id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  tpudt_name TEXT NOT NULL,
  tpudt_id INTEGER NOT NULL,
  scale REAL NOT NULL DEFAULT 1.0,
  offset REAL NOT NULL DEFAULT 0.0,
  min REAL DEFAULT NULL,
  max REAL DEFAULT NULL,
  mean REAL DEFAULT NULL,
  std_dev REAL DEFAULT NULL,
  CONSTRAINT fk_g2dgtat_name FOREIGN KEY (tpudt_name) REFERENCES gpkg_contents(table_name),
  UNIQUE (tpudt_name, tpudt_id)
);`;

const isFloat = (cells: TypedArray): boolean =>
  cells instanceof Float32Array || cells instanceof Float64Array;

/** How a grid's cells can be kept without losing a bit, or null when they cannot. */
export function encodingOf(cells: TypedArray): 'float' | 'integer' | null {
  if (cells instanceof Float32Array) return 'float';
  if (cells instanceof Float64Array)
    return cells.every((v) => Number.isNaN(v) || Math.fround(v) === v) ? 'float' : null;
  let low = 0;
  let high = 0;
  for (let index = 0; index < cells.length; index++) {
    const value = cells[index]!;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  if (low >= 0 && high <= 0xffff) return 'integer';
  // A 32-bit float holds every whole number up to 2^24.
  return low >= -0x1000000 && high <= 0x1000000 ? 'float' : null;
}

/**
 * Writes a grid as a coverage.
 * @throws Error when its cells cannot be kept exactly; see `encodingOf`
 */
export function writeCoverage(
  db: Database,
  table: string,
  grid: Grid<TypedArray>,
  about: { name: string; title: string; unit: string },
): void {
  const { frame, cells } = grid;
  const datatype = encodingOf(cells);
  if (!datatype) throw new Error(`the cells of ${table} cannot be kept exactly`);
  db.exec(TABLES);
  createTileTable(db, table, '2d-gridded-coverage', about.title, frame);
  db.prepare(
    `INSERT INTO gpkg_2d_gridded_coverage_ancillary
     (tile_matrix_set_name, datatype, precision, data_null, grid_cell_encoding, uom, field_name, quantity_definition)
     VALUES (?, ?, ?, ?, 'grid-value-is-area', ?, ?, ?)`,
  ).run(
    table,
    datatype,
    datatype === 'integer' ? 1 : null,
    datatype === 'integer' ? 0 : NODATA,
    about.unit,
    about.name === 'elevation' ? 'Height' : about.name,
    about.title,
  );
  const addTile = db.prepare(
    `INSERT INTO "${table}" (zoom_level, tile_column, tile_row, tile_data) VALUES (0, ?, ?, ?)`,
  );
  const addAncillary = db.prepare(
    'INSERT INTO gpkg_2d_gridded_tile_ancillary (tpudt_name, tpudt_id, min, max, mean, std_dev) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const tile = datatype === 'integer' ? new Uint16Array(TILE * TILE) : new Float32Array(TILE * TILE);
  for (let row = 0; row * TILE < frame.height; row++) {
    for (let column = 0; column * TILE < frame.width; column++) {
      const summary = cut(grid, column, row, tile);
      if (summary.count === 0) continue;
      const blob = tile instanceof Uint16Array ? pngTile(tile) : tiffTile(tile);
      const { lastInsertRowid } = addTile.run(column, row, blob);
      addAncillary.run(table, lastInsertRowid, summary.min, summary.max, summary.mean, summary.deviation);
    }
  }
  registerExtension(db, { table: 'gpkg_2d_gridded_coverage_ancillary', column: null, ...EXTENSION });
  registerExtension(db, { table: 'gpkg_2d_gridded_tile_ancillary', column: null, ...EXTENSION });
  registerExtension(db, { table, column: 'tile_data', ...EXTENSION });
}

/** Copies one tile's cells out, no data beyond the grid and for NaN, and sums them up. */
function cut(grid: Grid<TypedArray>, column: number, row: number, tile: Float32Array | Uint16Array) {
  const { frame, cells } = grid;
  const nodata = tile instanceof Uint16Array ? 0 : NODATA;
  const floats = isFloat(cells);
  tile.fill(nodata);
  const wide = Math.min(TILE, frame.width - column * TILE);
  const high = Math.min(TILE, frame.height - row * TILE);
  let count = 0;
  let sum = 0;
  let squares = 0;
  let min = Infinity;
  let max = -Infinity;
  for (let y = 0; y < high; y++) {
    const from = (row * TILE + y) * frame.width + column * TILE;
    for (let x = 0; x < wide; x++) {
      const value = cells[from + x]!;
      if (floats ? Number.isNaN(value) : value === 0 && nodata === 0) continue;
      tile[y * TILE + x] = value;
      count++;
      sum += value;
      squares += value * value;
      if (value < min) min = value;
      if (value > max) max = value;
    }
  }
  const mean = sum / count;
  const finite = Number.isFinite(mean);
  return {
    count,
    min: Number.isFinite(min) ? min : null,
    max: Number.isFinite(max) ? max : null,
    mean: finite ? mean : null,
    deviation: finite ? Math.sqrt(Math.max(0, squares / count - mean * mean)) : null,
  };
}

/** Bytes tried before a whole tile is packed. */
const PROBE = 16384;

/** One strip, one sample a pixel, packed where that makes it smaller (requirements 16 to 20 of the extension). */
function tiffTile(tile: Float32Array): Uint8Array {
  const plain = new Uint8Array(tile.buffer, tile.byteOffset, tile.byteLength);
  // Noise only grows by packing; a part of the tile tells at a sixteenth of the time.
  const probe = plain.subarray(PROBE, 2 * PROBE);
  const packed = packLzw(probe).length < 0.97 * PROBE ? packLzw(plain) : plain;
  const smaller = packed.length < plain.length;
  return encodeTiff({
    width: TILE,
    height: TILE,
    type: { format: 'float', bits: 32 },
    compression: smaller ? 5 : 1,
    predictor: 1,
    block: { strip: smaller ? packed : plain },
  });
}

function pngTile(tile: Uint16Array): Uint8Array {
  const data = new Uint8Array(tile.length * 2);
  for (let index = 0; index < tile.length; index++) {
    data[index * 2] = tile[index]! >> 8;
    data[index * 2 + 1] = tile[index]! & 255;
  }
  return encodeImage({ width: TILE, height: TILE, channels: 1, depth: 16, data });
}

/** Reads a coverage this program wrote back onto shared memory, bit by bit as it was. */
export function readCoverage(db: Database, table: string, frame: Frame, array: ArrayName): Grid<TypedArray> {
  const length = frame.width * frame.height;
  const Constructor = TYPED_ARRAYS[array];
  const shared = new SharedArrayBuffer(length * Constructor.BYTES_PER_ELEMENT);
  const cells: TypedArray = new (Constructor as new (buffer: SharedArrayBuffer) => TypedArray)(shared);
  const floats = isFloat(cells);
  if (floats) cells.fill(Number.NaN);
  const tiles = db
    .prepare<[], { tile_column: number; tile_row: number; tile_data: Buffer }>(
      `SELECT tile_column, tile_row, tile_data FROM "${table}" WHERE zoom_level = 0`,
    )
    .iterate();
  for (const { tile_column: column, tile_row: row, tile_data: blob } of tiles) {
    const tile = blob[0] === 0x89 ? (decode(blob).data as Uint16Array) : readTiffTile(blob);
    const wide = Math.min(TILE, frame.width - column * TILE);
    const high = Math.min(TILE, frame.height - row * TILE);
    for (let y = 0; y < high; y++) {
      const to = (row * TILE + y) * frame.width + column * TILE;
      for (let x = 0; x < wide; x++) {
        const value = tile[y * TILE + x]!;
        if (!floats) cells[to + x] = value === NODATA ? 0 : value;
        else if (value !== NODATA) cells[to + x] = value;
      }
    }
  }
  return { frame, cells };
}

/** The samples of a tile as `tiffTile` lays it: little-endian, one strip, plain or LZW. */
function readTiffTile(blob: Buffer): Float32Array {
  const fields = new Map<number, number>();
  const directory = blob.readUInt32LE(4);
  for (let index = 0; index < blob.readUInt16LE(directory); index++) {
    const at = directory + 2 + index * 12;
    const short = blob.readUInt16LE(at + 2) === 3;
    fields.set(blob.readUInt16LE(at), short ? blob.readUInt16LE(at + 8) : blob.readUInt32LE(at + 8));
  }
  const offset = fields.get(273) ?? 0;
  const strip = blob.subarray(offset, offset + (fields.get(279) ?? 0));
  const size = TILE * TILE * 4;
  // Copied so that the samples start at a multiple of four bytes.
  const bytes = fields.get(259) === 5 ? unpackLzw(strip, size) : new Uint8Array(strip);
  if (bytes.length !== size) throw new Error(`a tile of ${size} bytes was expected, ${bytes.length} came`);
  return new Float32Array(bytes.buffer, bytes.byteOffset, TILE * TILE);
}
