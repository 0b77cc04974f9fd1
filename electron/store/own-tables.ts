import type { Database } from 'better-sqlite3';
import { registerContent, registerExtension } from './container.ts';

/** Our own tables, registered as the extension `hollowgate_property`; FORMAT.md says what they hold. */

const TABLES = `
CREATE TABLE hollowgate_property (
  key TEXT NOT NULL PRIMARY KEY,
  value TEXT NOT NULL
);
CREATE TABLE hollowgate_files (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL,
  hash TEXT NOT NULL
);
CREATE TABLE hollowgate_wind (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  station TEXT NOT NULL,
  notes TEXT NOT NULL,
  records INTEGER NOT NULL,
  data BLOB NOT NULL
);
CREATE TABLE hollowgate_journal (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  made TEXT NOT NULL,
  label TEXT NOT NULL,
  undone BOOLEAN NOT NULL,
  forward TEXT NOT NULL,
  inverse TEXT NOT NULL
);
CREATE TABLE hollowgate_grids (
  artifact TEXT NOT NULL PRIMARY KEY,
  table_name TEXT NOT NULL,
  array_type TEXT NOT NULL,
  digest TEXT NOT NULL
);
CREATE TABLE hollowgate_results (
  artifact TEXT NOT NULL PRIMARY KEY,
  value TEXT NOT NULL
);`;

/** The list of files is left out: plain rows that anyone may read are core content, not an extension. */
const OWN = ['property', 'wind', 'journal', 'grids', 'results'].map((name) => `hollowgate_${name}`);

export function layOwnTables(db: Database): void {
  db.exec(TABLES);
  for (const table of OWN) {
    registerExtension(db, {
      table,
      column: null,
      name: 'hollowgate_property',
      definition: 'Hollowgate, electron/store/FORMAT.md',
    });
  }
  // One table of plain rows is listed, so that other programs do not go looking for rows in all the rest.
  registerContent(db, {
    table: 'hollowgate_files',
    type: 'attributes',
    description: 'Files this property was made from, with their SHA-256',
    bounds: null,
    epsg: null,
  });
}

export function readValue<T>(db: Database, key: string): T | null {
  const row = db
    .prepare<[string], { value: string }>('SELECT value FROM hollowgate_property WHERE key = ?')
    .get(key);
  return row ? (JSON.parse(row.value) as T) : null;
}

export function writeValue(db: Database, key: string, value: unknown): void {
  db.prepare(
    'INSERT INTO hollowgate_property VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value',
  ).run(key, JSON.stringify(value));
}
