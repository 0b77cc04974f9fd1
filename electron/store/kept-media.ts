import Database from 'better-sqlite3';
import { type Media, readMedia } from './media-table.ts';

/** Pictures of a property file that is closed, by id; one that is not there is left out. */
export function picturesOf(path: string, ids: readonly string[]): Map<string, Media> {
  if (ids.length === 0) return new Map();
  const db = new Database(path, { readonly: true, fileMustExist: true });
  try {
    return new Map(
      ids.flatMap((id) => {
        const found = readMedia(db, id);
        return found ? [[id, found] as const] : [];
      }),
    );
  } finally {
    db.close();
  }
}
