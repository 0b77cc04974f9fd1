import { createHash } from 'node:crypto';
import type { Database } from 'better-sqlite3';
import type { Artifacts, Results } from '../../core/analysis/artifacts.ts';
import type { Frame, Grid, TypedArray } from '../../core/grid/frame.ts';
import { plainTable } from '../writers/columns.ts';
import { GRIDS, type GridName, type GridTitle } from '../writers/grid-catalog.ts';
import type { TableName } from '../writers/tables.ts';
import { dropContent } from './container.ts';
import { type ArrayName, arrayNameOf, encodingOf, readCoverage, writeCoverage } from './coverages.ts';
import { writeResultTable } from './feature-tables.ts';

/**
 * The last accepted results. Grids that follow from the elevation alone in a second or two (slope, aspect, shade …)
 * are left out, so that the file stays small enough to mail.
 */
const KEPT_GRIDS = [
  'accumulation',
  'forms',
  'cover',
  'canopy',
  'screening',
  'footing',
  'blocks',
  'resistance',
  'areas',
  'passage',
  'coldAir',
  'poolDepth',
] as const satisfies readonly (GridName & keyof Results)[];

/** Tables other programs get as feature tables; contours they draw themselves. */
const KEPT_TABLES: Record<Exclude<TableName, 'features' | 'contours'>, string> = {
  drainage: 'Drainage lines',
  ridges: 'Ridge lines',
  draws: 'Draws',
  saddles: 'Saddles',
  benches: 'Benches',
  blocks: 'Cover blocks',
  areas: 'Bedding, food and other ends of travel',
  corridors: 'Corridors between travel areas',
  necks: 'Necks: ranked pinch points',
  crossings: 'Where corridors meet roads, creeks, fences and the line',
  pools: 'Pools of cold air',
  carries: 'Where air released at a stand or neck drains on a clear calm night',
  'stand-risks': 'Stand risks',
};

/** Sources have their own places, and contours follow from the elevation. */
const NOT_JSON = new Set(['elevation', 'imagery', 'landcover', 'features', 'wind', 'contours']);

/** Every grid a property file may hold. */
type StoredGrid = GridName | 'holes';

const titleOf = (name: StoredGrid): GridTitle =>
  name === 'holes'
    ? { name: 'holes', title: 'Holes in the elevation, filled from their rim', unit: '1' }
    : GRIDS[name];

/** The name of a grid's tile table, and of a result's feature table. */
const gridTable = (grid: StoredGrid): string => `grid_${titleOf(grid).name.replaceAll('-', '_')}`;
const resultTable = (name: TableName): string => name.replaceAll('-', '_');

export function writeGrid(db: Database, name: StoredGrid, grid: Grid<TypedArray>): void {
  const { cells } = grid;
  const hash = createHash('sha256').update(new Uint8Array(cells.buffer, cells.byteOffset, cells.byteLength));
  const digest = hash.digest('hex');
  const before = db
    .prepare<[string], { digest: string }>('SELECT digest FROM hollowgate_grids WHERE artifact = ?')
    .get(name);
  // Most edits leave most grids as they were.
  if (before?.digest === digest) return;
  forgetGrid(db, name);
  if (!encodingOf(cells)) return;
  const table = gridTable(name);
  writeCoverage(db, table, grid, titleOf(name));
  db.prepare('INSERT INTO hollowgate_grids VALUES (?, ?, ?, ?)').run(name, table, arrayNameOf(cells), digest);
}

function forgetGrid(db: Database, name: StoredGrid): void {
  dropContent(db, gridTable(name));
  db.prepare('DELETE FROM hollowgate_grids WHERE artifact = ?').run(name);
}

export function readGrid(db: Database, name: StoredGrid, frame: Frame): Grid<TypedArray> | null {
  const row = db
    .prepare<[string], { table_name: string; array_type: ArrayName }>(
      'SELECT table_name, array_type FROM hollowgate_grids WHERE artifact = ?',
    )
    .get(name);
  return row ? readCoverage(db, row.table_name, frame, row.array_type) : null;
}

/** Puts the results in place of the earlier ones, within the caller's transaction. What is not given is forgotten. */
export function writeResults(db: Database, artifacts: Partial<Artifacts>, epsg: number): void {
  for (const name of KEPT_GRIDS) {
    const grid = artifacts[name];
    if (grid) writeGrid(db, name, grid);
    else forgetGrid(db, name);
  }
  db.prepare('DELETE FROM hollowgate_results').run();
  const add = db.prepare('INSERT INTO hollowgate_results VALUES (?, ?)');
  for (const [name, value] of Object.entries(artifacts)) {
    const isGrid = typeof value === 'object' && value !== null && 'cells' in value;
    if (value !== undefined && !isGrid && !NOT_JSON.has(name)) add.run(name, JSON.stringify(value));
  }
  for (const [name, description] of Object.entries(KEPT_TABLES) as [TableName, string][]) {
    writeResultTable(db, resultTable(name), plainTable(name, artifacts), description, epsg);
  }
}

export function readResults(db: Database, frame: Frame): Partial<Results> {
  const results: Record<string, unknown> = {};
  for (const name of KEPT_GRIDS) {
    const grid = readGrid(db, name, frame);
    if (grid) results[name] = grid;
  }
  const rows = db.prepare<[], { artifact: string; value: string }>('SELECT * FROM hollowgate_results').all();
  for (const { artifact, value } of rows) results[artifact] = JSON.parse(value);
  return results as Partial<Results>;
}
