import type { Database } from 'better-sqlite3';
import { registerExtension } from './container.ts';

/** A picture somebody took on the ground, as its file is. */
export interface Media {
  id: string;
  /** Name of the file. */
  name: string;
  /** MIME type. */
  type: string;
  bytes: Uint8Array;
}

const TABLE = 'hollowgate_media';

const isThere = (db: Database): boolean =>
  db.prepare("SELECT 1 FROM sqlite_master WHERE name = 'hollowgate_media'").get() !== undefined;

/**
 * Pictures lie in a table of their own, which is laid with the first one: files without any need none, and an older
 * program reads a file with some as before.
 */
export function writeMedia(db: Database, media: readonly Media[]): void {
  if (!isThere(db)) {
    db.exec(
      `CREATE TABLE ${TABLE} (id TEXT NOT NULL PRIMARY KEY, name TEXT NOT NULL, type TEXT NOT NULL, bytes BLOB NOT NULL)`,
    );
    registerExtension(db, {
      table: TABLE,
      column: null,
      name: 'hollowgate_property',
      definition: 'Hollowgate, electron/store/FORMAT.md',
    });
  }
  const add = db.prepare(`INSERT OR REPLACE INTO ${TABLE} VALUES (?, ?, ?, ?)`);
  for (const { id, name, type, bytes } of media) add.run(id, name, type, bytes);
}

export function readMedia(db: Database, id: string): Media | null {
  if (!isThere(db)) return null;
  return db.prepare<[string], Media>(`SELECT * FROM ${TABLE} WHERE id = ?`).get(id) ?? null;
}
