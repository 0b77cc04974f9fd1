import { accessSync, constants, existsSync, statSync } from 'node:fs';
import { basename } from 'node:path';
import Database from 'better-sqlite3';
import { Problem } from '../../core/grid/problem.ts';
import { APPLICATION_ID } from './container.ts';
import { readValue } from './own-tables.ts';
import { type Upgrade, upgradeOnCopy } from './upgrade.ts';

/** Version of the property file's format, as FORMAT.md tells it. */
export const FORMAT = 1;

/** What brings a file from version n to n + 1, at place n. */
const UPGRADES: Record<number, Upgrade> = {};

/** GeoPackage 1.0 and 1.1 files carried these instead. */
const OLDER_IDS = [0x47503130, 0x47503131];

/**
 * Opens a property file for this program alone, after making sure that it is one.
 * An older format is upgraded on a copy; the file as it was stays beside it.
 *
 * @throws Problem in plain words for anything that is not an openable property file
 */
export function openDatabase(
  path: string,
  format = FORMAT,
  upgrades: Record<number, Upgrade> = UPGRADES,
): { db: Database.Database; notes: string[] } {
  checkPlace(path);
  const db = open(path);
  let found: number;
  try {
    found = checkContents(db, path, format);
  } catch (error) {
    db.close();
    throw problemOf(error, path);
  }
  if (found === format) return { db: settle(db), notes: [] };
  db.close();
  const kept = upgradeOnCopy(path, found, format, upgrades);
  return {
    db: settle(open(path)),
    notes: [`This file was brought up to the present format; as it was it is kept as ${basename(kept)}.`],
  };
}

function open(path: string): Database.Database {
  let db: Database.Database | null = null;
  try {
    db = new Database(path, { fileMustExist: true, timeout: 1000 });
    // Held until the file is closed: two programs writing one property would undo each other's edits.
    db.pragma('locking_mode = EXCLUSIVE');
    db.exec('BEGIN EXCLUSIVE; COMMIT');
    return db;
  } catch (error) {
    db?.close();
    throw problemOf(error, path);
  }
}

/** Once it is known to be ours: each edit is on the disk when it is answered, and nothing is left beside a closed file. */
function settle(db: Database.Database): Database.Database {
  db.pragma('journal_mode = DELETE');
  db.pragma('synchronous = FULL');
  db.pragma('foreign_keys = ON');
  return db;
}

/**
 * SQLite alone touches the file: on POSIX systems, opening and closing it here would take away the lock that another
 * thread of this program may hold.
 */
function checkPlace(path: string): void {
  const file = basename(path);
  if (!existsSync(path)) {
    throw new Problem(`${file} is not there.`, { file, fix: 'Check the path, or open the file anew.' });
  }
  if (!statSync(path).isFile()) {
    throw new Problem(`${file} is a folder, not a property file.`, {
      file,
      fix: 'Open the .gpkg file itself.',
    });
  }
  try {
    accessSync(path, constants.R_OK | constants.W_OK);
  } catch {
    throw new Problem(`${file} may not be written to.`, {
      file,
      fix: 'Copy it into a folder of your own, or take its write protection off, and open that.',
    });
  }
}

const notGeoPackage = (file: string): Problem =>
  new Problem(`${file} is not a GeoPackage.`, {
    file,
    fix: 'Open a property file made by this program (.gpkg), or drop elevation and photo files to make one.',
  });

/** Answers with the format found. */
function checkContents(db: Database.Database, path: string, format: number): number {
  const file = basename(path);
  const id = db.pragma('application_id', { simple: true }) as number;
  if (id !== APPLICATION_ID && !OLDER_IDS.includes(id)) throw notGeoPackage(file);
  const ours = db.prepare("SELECT 1 FROM sqlite_master WHERE name = 'hollowgate_property'").get();
  if (!ours) {
    throw new Problem(`${file} is a GeoPackage, but not a property of this program.`, {
      file,
      fix: 'Its features can be brought in: put it in a folder with an elevation file, named boundary.gpkg or features.gpkg, and open the folder.',
    });
  }
  const found = readValue<number>(db, 'format');
  if (found === null || !Number.isInteger(found) || found < 1) {
    throw new Problem(`${file} does not say which format it has.`, {
      file,
      fix: 'Open a backup of the property, or make it anew from its source files.',
    });
  }
  if (found > format) {
    throw new Problem(`${file} was made by a newer version of this program.`, {
      file,
      fix: `Update this program; it reads formats up to ${format}, the file has ${found}.`,
    });
  }
  return found;
}

/** What SQLite reports, in words a person can act on; anything else is passed on. */
export function problemOf(error: unknown, path: string): unknown {
  const code = (error as { code?: string }).code ?? '';
  const file = basename(path);
  if (code.startsWith('SQLITE_BUSY') || code.startsWith('SQLITE_LOCKED')) {
    return new Problem(`${file} is open in another program or window.`, {
      file,
      fix: 'Close it there, then open it again.',
    });
  }
  if (code.startsWith('SQLITE_READONLY') || code.startsWith('SQLITE_CANTOPEN')) {
    return new Problem(`${file} cannot be opened for writing.`, {
      file,
      fix: 'The folder must allow writing too: copy the file into a folder of your own and open that.',
    });
  }
  if (code.startsWith('SQLITE_NOTADB')) return notGeoPackage(file);
  if (code.startsWith('SQLITE_CORRUPT')) return damaged(path);
  if (code.startsWith('SQLITE_FULL')) {
    return new Problem(`There is no room left to write ${file}.`, {
      file,
      fix: 'Free some disk space and try again.',
    });
  }
  return error;
}

function damaged(path: string): Problem {
  const file = basename(path);
  return new Problem(`${file} is damaged or cut short.`, {
    file,
    fix: 'Copy the file again from where it came, or open a backup.',
  });
}

/**
 * Reads what a property file holds. What it was written as is known, so that whatever cannot be read back is damage,
 * found by SQLite or by what unpacks its values; the error itself stays with the Problem as its cause.
 *
 * @throws Problem
 */
export function readingBack<T>(path: string, read: () => T): T {
  try {
    return read();
  } catch (error) {
    const problem = problemOf(error, path);
    throw problem instanceof Problem ? problem : Object.assign(damaged(path), { cause: error });
  }
}
