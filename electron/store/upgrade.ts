import { copyFileSync, existsSync, renameSync, rmSync } from 'node:fs';
import Database from 'better-sqlite3';
import { writeValue } from './own-tables.ts';

/** Brings a file's tables one version up, within a transaction. */
export type Upgrade = (db: Database.Database) => void;

/**
 * Upgrades a copy and then swaps it in: until the last moment the old file is untouched, and it stays beside the new.
 *
 * @returns where the old file is kept
 */
export function upgradeOnCopy(
  path: string,
  from: number,
  to: number,
  upgrades: Record<number, Upgrade>,
): string {
  const copy = `${path}.upgrade`;
  rmSync(copy, { force: true });
  try {
    copyFileSync(path, copy);
    const db = new Database(copy);
    try {
      db.transaction(() => {
        for (let version = from; version < to; version++) {
          const upgrade = upgrades[version];
          if (!upgrade) throw new Error(`there is no way from format ${version} to ${version + 1}`);
          upgrade(db);
        }
        writeValue(db, 'format', to);
      })();
    } finally {
      db.close();
    }
    const kept = freeName(path, from);
    renameSync(path, kept);
    renameSync(copy, path);
    return kept;
  } finally {
    rmSync(copy, { force: true });
  }
}

/** `farm.format1.gpkg`, or with a number where that is taken. */
function freeName(path: string, format: number): string {
  const stem = path.replace(/\.gpkg$/i, '');
  for (let count = 1; ; count++) {
    const name = `${stem}.format${format}${count > 1 ? `-${count}` : ''}.gpkg`;
    if (!existsSync(name)) return name;
  }
}
