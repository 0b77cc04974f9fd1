import type { Database } from 'better-sqlite3';
import type { Settings } from '../../core/analysis/settings.ts';
import type { Feature } from '../../core/features/feature.ts';
import { findFeature, putFeature, removeFeature, touchFeatures } from './feature-tables.ts';
import { readValue, writeValue } from './own-tables.ts';
import { putWind } from './wind-table.ts';

/**
 * Every edit is a list of changes applied in one transaction, kept with the list that takes it back. Undo applies the
 * inverse, redo the edit again; a new edit forgets what was undone.
 */

export type Change =
  | {
      type: 'put';
      feature: Feature /** Place in the order, to put a removed feature back where it was. */;
      fid?: number;
    }
  | { type: 'remove'; id: string }
  | { type: 'settings'; settings: Settings }
  /** The wind record in force, by the id it is kept under; null for none. */
  | { type: 'wind'; id: number | null };

interface Entry {
  id: number;
  label: string;
  forward: string;
  inverse: string;
}

/** Applies one change and answers with the change that takes it back. */
function apply(db: Database, change: Change, epsg: number): Change | null {
  switch (change.type) {
    case 'put': {
      const before = findFeature(db, change.feature.id);
      putFeature(db, change.feature, epsg, before?.fid ?? change.fid ?? null);
      return before ? { type: 'put', feature: before.feature } : { type: 'remove', id: change.feature.id };
    }
    case 'remove': {
      const before = findFeature(db, change.id);
      if (!before) return null;
      removeFeature(db, change.id);
      return { type: 'put', feature: before.feature, fid: before.fid };
    }
    case 'settings': {
      const before = readValue<Settings>(db, 'settings');
      writeValue(db, 'settings', change.settings);
      return before ? { type: 'settings', settings: before } : null;
    }
    case 'wind': {
      const before = readValue<number>(db, 'wind');
      putWind(db, before, change.id);
      return { type: 'wind', id: before };
    }
  }
}

function applyAll(db: Database, changes: readonly Change[], epsg: number): Change[] {
  const inverse: Change[] = [];
  for (const change of changes) {
    const back = apply(db, change, epsg);
    if (back) inverse.unshift(back);
  }
  if (changes.some(({ type }) => type === 'put' || type === 'remove')) touchFeatures(db);
  writeValue(db, 'edits', (readValue<number>(db, 'edits') ?? 0) + 1);
  return inverse;
}

/** Makes an edit within the caller's transaction. */
export function recordEdit(db: Database, label: string, changes: readonly Change[], epsg: number): void {
  const inverse = applyAll(db, changes, epsg);
  // What changed nothing is no edit: there is nothing to take back.
  if (inverse.length === 0) return;
  db.prepare('DELETE FROM hollowgate_journal WHERE undone = 1').run();
  db.prepare(
    'INSERT INTO hollowgate_journal (made, label, undone, forward, inverse) VALUES (?, ?, 0, ?, ?)',
  ).run(new Date().toISOString(), label, JSON.stringify(changes), JSON.stringify(inverse));
}

const lastDone = (db: Database): Entry | undefined =>
  db.prepare<[], Entry>('SELECT * FROM hollowgate_journal WHERE undone = 0 ORDER BY id DESC LIMIT 1').get();
const firstUndone = (db: Database): Entry | undefined =>
  db.prepare<[], Entry>('SELECT * FROM hollowgate_journal WHERE undone = 1 ORDER BY id LIMIT 1').get();

export const canUndo = (db: Database): boolean => lastDone(db) !== undefined;
export const canRedo = (db: Database): boolean => firstUndone(db) !== undefined;

/** Takes the last edit back, within the caller's transaction; answers with its label, or null when there is none. */
export function undoEdit(db: Database, epsg: number): string | null {
  const entry = lastDone(db);
  if (!entry) return null;
  applyAll(db, JSON.parse(entry.inverse) as Change[], epsg);
  db.prepare('UPDATE hollowgate_journal SET undone = 1 WHERE id = ?').run(entry.id);
  return entry.label;
}

export function redoEdit(db: Database, epsg: number): string | null {
  const entry = firstUndone(db);
  if (!entry) return null;
  applyAll(db, JSON.parse(entry.forward) as Change[], epsg);
  db.prepare('UPDATE hollowgate_journal SET undone = 0 WHERE id = ?').run(entry.id);
  return entry.label;
}
