import { createHash } from 'node:crypto';
import type { Database } from 'better-sqlite3';
import type { Artifacts, Results } from '../../core/analysis/artifacts.ts';
import type { Frame, Grid, TypedArray } from '../../core/grid/frame.ts';
import { type ArrayName, arrayNameOf } from '../workers/typed-arrays.ts';
import { plainTable } from '../writers/columns.ts';
import { GRIDS, type GridName } from '../writers/grid-catalog.ts';
import type { TableName } from '../writers/tables.ts';
import { dropContent } from './container.ts';
import { encodingOf, readCoverage, writeCoverage } from './coverages.ts';
import { writeResultTable } from './feature-tables.ts';
import { readValue, writeValue } from './own-tables.ts';
import { KEPT_GRIDS, type ResultPart } from './result-parts.ts';

/** The last accepted results: grids, tables for this program, tables for others. */

/** Tables other programs get as feature tables; contours they draw themselves. */
const KEPT_TABLES: Record<Exclude<TableName, 'features' | 'contours'>, string> = {
  drainage: 'Drainage lines',
  channels: 'How deep channels are cut below their banks',
  ridges: 'Ridge lines',
  draws: 'Draws',
  saddles: 'Saddles',
  benches: 'Benches',
  blocks: 'Cover blocks',
  areas: 'Bedding, food and other ends of travel',
  corridors: 'Corridors between travel areas',
  necks: 'Necks: ranked pinch points',
  crossings: 'Where corridors meet roads, creeks, fences and the line',
  junctions: 'Junctions: where strands of travel meet',
  routes: 'Routes drawn from the flow of travel',
  barricades: 'What proposed barricades do',
  closures: 'Closures that would gather more travel at a neck',
  pools: 'Pools of cold air',
  carries: 'Where air released at a stand or neck drains on a clear calm night',
  'stand-risks': 'Stand risks',
};

/** The name of a grid's tile table, and of a result's feature table. */
const gridTable = (grid: GridName): string => `grid_${GRIDS[grid].name.replaceAll('-', '_')}`;
const resultTable = (name: TableName): string => name.replaceAll('-', '_');

export function writeGrid(db: Database, name: GridName, grid: Grid<TypedArray>): void {
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
  writeCoverage(db, table, grid, GRIDS[name]);
  db.prepare('INSERT INTO hollowgate_grids VALUES (?, ?, ?, ?)').run(name, table, arrayNameOf(cells), digest);
}

function forgetGrid(db: Database, name: GridName): void {
  dropContent(db, gridTable(name));
  db.prepare('DELETE FROM hollowgate_grids WHERE artifact = ?').run(name);
}

export function readGrid(db: Database, name: GridName, frame: Frame): Grid<TypedArray> | null {
  const row = db
    .prepare<[string], { table_name: string; array_type: ArrayName }>(
      'SELECT table_name, array_type FROM hollowgate_grids WHERE artifact = ?',
    )
    .get(name);
  return row ? readCoverage(db, row.table_name, frame, row.array_type) : null;
}

/** Saves one part, within the caller's transaction. What is not given is forgotten. */
export function writeResultPart(db: Database, part: ResultPart, epsg: number): void {
  switch (part.type) {
    case 'start':
      // Edits made while the parts come in are later than the results, so the count is taken now.
      writeValue(db, 'saving', { edits: readValue<number>(db, 'edits') });
      writeValue(db, 'results', null);
      return;
    case 'grid':
      if (part.grid) writeGrid(db, part.name, part.grid);
      else forgetGrid(db, part.name);
      return;
    case 'rest':
      writeTables(db, part.artifacts, epsg);
      writeValue(db, 'results', {
        made: new Date().toISOString(),
        ...readValue<{ edits: number }>(db, 'saving'),
      });
  }
}

function writeTables(db: Database, artifacts: Partial<Artifacts>, epsg: number): void {
  db.prepare('DELETE FROM hollowgate_results').run();
  const add = db.prepare('INSERT INTO hollowgate_results VALUES (?, ?)');
  for (const [name, value] of Object.entries(artifacts)) {
    if (name !== 'features') add.run(name, JSON.stringify(value));
  }
  for (const [name, description] of Object.entries(KEPT_TABLES) as [TableName, string][]) {
    writeResultTable(db, resultTable(name), plainTable(name, artifacts), description, epsg);
  }
}

/** Nothing when the last results were not saved to the end. */
export function readResults(db: Database, frame: Frame): Partial<Results> {
  if (readValue(db, 'results') === null) return {};
  const results: Record<string, unknown> = {};
  for (const name of KEPT_GRIDS) {
    const grid = readGrid(db, name, frame);
    if (grid) results[name] = grid;
  }
  const rows = db.prepare<[], { artifact: string; value: string }>('SELECT * FROM hollowgate_results').all();
  for (const { artifact, value } of rows) results[artifact] = JSON.parse(value);
  return results as Partial<Results>;
}
