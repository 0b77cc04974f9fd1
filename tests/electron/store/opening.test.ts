import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  readFileSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { basename } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import { Problem } from '../../../core/grid/problem.ts';
import { openDatabase } from '../../../electron/store/opening.ts';
import { writeValue } from '../../../electron/store/own-tables.ts';
import { createProperty, openProperty } from '../../../electron/store/property-file.ts';
import { importedOf, scratch } from './support.ts';

const { path, beside, farm } = scratch();

function refusal(file: string): Problem {
  try {
    openProperty(file).close();
  } catch (error) {
    expect(error).toBeInstanceOf(Problem);
    const problem = error as Problem;
    expect(problem.file).toBe(basename(file));
    expect(problem.fix).not.toBe('');
    // No word of the machinery reaches the person.
    expect(`${problem.message} ${problem.fix}`).not.toMatch(/SQLITE|SQL|errno|undefined/);
    return problem;
  }
  throw new Error(`${file} was opened`);
}

describe('opening refuses in plain words', () => {
  it('a file that is not there, a folder, text, an empty file, random bytes', () => {
    expect(refusal(path('none.gpkg')).message).toBe('none.gpkg is not there.');
    mkdirSync(path('folder.gpkg'));
    expect(refusal(path('folder.gpkg')).message).toMatch(/is a folder/);
    for (const content of [
      'not a database at all, but long enough to look at: '.repeat(20),
      '',
      Buffer.alloc(5000, 7),
    ]) {
      writeFileSync(path('text.gpkg'), content);
      expect(refusal(path('text.gpkg')).message).toBe('text.gpkg is not a GeoPackage.');
    }
  });

  it('a database that is no GeoPackage, and leaves it as it was', () => {
    const db = new Database(path('other.gpkg'));
    db.pragma('journal_mode = WAL');
    db.exec('CREATE TABLE birds (name TEXT)');
    db.close();
    const before = readFileSync(path('other.gpkg'));
    expect(refusal(path('other.gpkg')).message).toMatch(/is not a GeoPackage/);
    expect(readFileSync(path('other.gpkg'))).toEqual(before);
    expect(beside('other.gpkg')).toEqual([]);
  });

  it('a GeoPackage of another program, saying what it can be used for', () => {
    const shapes = new URL('../../reference/fixtures/readers/shapes.gpkg', import.meta.url);
    copyFileSync(shapes, path('shapes.gpkg'));
    const before = readFileSync(path('shapes.gpkg'));
    const problem = refusal(path('shapes.gpkg'));
    expect(problem.message).toMatch(/not a property of this program/);
    expect(problem.fix).toMatch(/features can be brought in/);
    expect(readFileSync(path('shapes.gpkg'))).toEqual(before);
  });

  it('a newer format and one that does not say which it is', () => {
    farm();
    const db = new Database(path('farm.gpkg'));
    writeValue(db, 'format', 2);
    db.close();
    expect(refusal(path('farm.gpkg')).message).toMatch(/newer version/);
    const again = new Database(path('farm.gpkg'));
    writeValue(again, 'format', 'two');
    again.close();
    expect(refusal(path('farm.gpkg')).message).toMatch(/which format/);
  });

  it('a file cut short at many places', () => {
    farm('whole.gpkg');
    const { length } = readFileSync(path('whole.gpkg'));
    for (const share of [0.9, 0.5, 0.1, 0.001]) {
      copyFileSync(path('whole.gpkg'), path('cut.gpkg'));
      truncateSync(path('cut.gpkg'), Math.floor(length * share));
      expect(refusal(path('cut.gpkg')).message).toMatch(/damaged or cut short/);
    }
  });

  it('a file that another connection writes to', () => {
    farm();
    const other = new Database(path('farm.gpkg'));
    other.exec('BEGIN IMMEDIATE');
    expect(refusal(path('farm.gpkg')).message).toMatch(/open in another program/);
    other.exec('ROLLBACK');
    other.close();
    openProperty(path('farm.gpkg')).close();
  });

  it.skipIf(process.getuid?.() === 0)('a write-protected file', () => {
    farm();
    chmodSync(path('farm.gpkg'), 0o444);
    expect(refusal(path('farm.gpkg')).message).toMatch(/may not be written to/);
  });

  it('a place where no file can be made', () => {
    expect(() => createProperty(path('no/such/farm.gpkg'), importedOf())).toThrow(Problem);
  });
});

describe('an older format', () => {
  it('is upgraded on a copy, and the old file stays', () => {
    farm();
    const before = readFileSync(path('farm.gpkg'));
    const steps: number[] = [];
    const upgrades = {
      1: (db: Database.Database) => {
        steps.push(1);
        db.exec('CREATE TABLE hollowgate_extra (id INTEGER PRIMARY KEY)');
      },
      2: () => {
        steps.push(2);
      },
    };
    const { db, notes } = openDatabase(path('farm.gpkg'), 3, upgrades);
    expect(steps).toEqual([1, 2]);
    expect(db.prepare('SELECT count(*) AS n FROM hollowgate_extra').get()).toEqual({ n: 0 });
    expect(notes[0]).toContain('farm.format1.gpkg');
    db.close();
    expect(readFileSync(path('farm.format1.gpkg'))).toEqual(before);
    expect(openDatabase(path('farm.gpkg'), 3, {}).notes).toEqual([]);
  });

  it('stays as it was when the upgrade fails', () => {
    farm();
    const before = readFileSync(path('farm.gpkg'));
    const broken = {
      1: (db: Database.Database) => {
        db.exec('DROP TABLE features');
        throw new Error('half way');
      },
    };
    expect(() => openDatabase(path('farm.gpkg'), 2, broken)).toThrow('half way');
    expect(readFileSync(path('farm.gpkg'))).toEqual(before);
    expect(existsSync(path('farm.format1.gpkg'))).toBe(false);
    expect(beside('farm.gpkg')).toEqual([]);
  });

  it('never overwrites an earlier old file', () => {
    farm();
    writeFileSync(path('farm.format1.gpkg'), 'kept from before');
    openDatabase(path('farm.gpkg'), 2, { 1: () => {} }).db.close();
    expect(readFileSync(path('farm.format1.gpkg'), 'utf8')).toBe('kept from before');
    expect(existsSync(path('farm.format1-2.gpkg'))).toBe(true);
  });
});
