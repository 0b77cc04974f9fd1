import { accessSync, constants, existsSync, renameSync, rmSync } from 'node:fs';
import { basename, dirname } from 'node:path';
import Database from 'better-sqlite3';
import type { WindRecord } from '../../core/air/types.ts';
import type { Artifacts, Results, Sources } from '../../core/analysis/artifacts.ts';
import { type Edition, withEdition } from '../../core/analysis/report-model/edition.ts';
import { overDefaults, type Settings } from '../../core/analysis/settings.ts';
import type { Imagery } from '../../core/cover/types.ts';
import type { Feature } from '../../core/features/feature.ts';
import { cellCount, type Frame, type Grid, MOST_CELLS, sameFrame } from '../../core/grid/frame.ts';
import { Problem } from '../../core/grid/problem.ts';
import type { Imported } from '../readers/property.ts';
import { layContainer } from './container.ts';
import { createFeaturesTable, putFeature, readFeatures, touchFeatures } from './feature-tables.ts';
import { type Change, canRedo, canUndo, recordEdit, redoEdit, undoEdit } from './journal.ts';
import { type Media, readMedia, writeMedia } from './media-table.ts';
import { FORMAT, openDatabase, problemOf, readingBack } from './opening.ts';
import { layOwnTables, readValue, writeValue } from './own-tables.ts';
import { type PictureNote, readPicture, writePicture } from './pictures.ts';
import { type ResultPart, resultParts } from './result-parts.ts';
import { readGrid, readResults, writeGrid, writeResultPart } from './results.ts';
import { readSurroundings, writeSurroundings } from './surroundings.ts';
import { readWind, writeWind } from './wind-table.ts';

/** What a property file says of itself without reading its grids. */
export interface PropertyHead {
  path: string;
  frame: Frame;
  settings: Settings;
  features: Feature[];
  notes: string[];
  missing: string[];
  files: { name: string; hash: string }[];
  /** The wind record in force, by the id it is kept under; null without one. */
  wind: number | null;
  canUndo: boolean;
  canRedo: boolean;
  /** When results were last saved, and whether nothing was edited since; null before the first. */
  results: { made: string; current: boolean } | null;
  /** What earlier reports said when they left the office, one a version, the latest last. */
  editions: Edition[];
}

/** An open property file. It belongs to this program alone until it is closed. */
export interface PropertyFile {
  head(): PropertyHead;
  /** Grids on shared memory, equal bit by bit to what was imported. */
  sources(): Sources;
  /** The picture for the map, finer than the frame where there is one. */
  display(): Imagery | null;
  putFeature(feature: Feature): void;
  /** All in one edit. */
  putFeatures(features: readonly Feature[]): void;
  removeFeature(id: string): void;
  /** Keeps pictures, each under an id of its own; a note that shows one names it. */
  keepMedia(media: readonly Media[]): void;
  media(id: string): Media | null;
  /** The wind record in force. */
  wind(): WindRecord | null;
  /** Keeps a wind record and its files beside the others; answers with its id, which a change puts in force. */
  keepWind(wind: WindRecord, files: PropertyHead['files']): number;
  /** Keeps what a report said; it is no edit and is not undone. */
  keepEdition(edition: Edition): void;
  changeSettings(settings: Settings): void;
  /** Several changes as one edit, under a name for undo. */
  change(label: string, changes: readonly Change[]): void;
  /** What was taken back, or null when there was nothing. */
  undo(): string | null;
  redo(): string | null;
  /** Puts the results of a run in place of the earlier ones. */
  saveResults(artifacts: Partial<Artifacts>): void;
  /** The same, one part at a time. */
  saveResultPart(part: ResultPart): void;
  results(): Partial<Results>;
  /** A whole, compact copy at another path, replacing what is there. */
  copyTo(target: string): void;
  close(): void;
}

/**
 * Writes a new property file and opens it. It is built beside and moved into place, so a file that was there is
 * replaced as a whole or not at all.
 *
 * @throws Problem when the place cannot be written to
 */
export function createProperty(path: string, imported: Imported): PropertyFile {
  checkFolder(path);
  const building = `${path}.building-${process.pid}`;
  rmSync(building, { force: true });
  try {
    const db = new Database(building);
    try {
      // Nothing is lost when this fails half way: the file is not in place yet.
      db.pragma('journal_mode = OFF');
      db.pragma('synchronous = OFF');
      db.transaction(() => fill(db, imported))();
      db.pragma('synchronous = FULL');
      db.exec('BEGIN IMMEDIATE; COMMIT');
    } finally {
      db.close();
    }
    renameSync(building, path);
  } catch (error) {
    throw problemOf(error, path);
  } finally {
    rmSync(building, { force: true });
  }
  return openProperty(path);
}

function fill(db: Database.Database, imported: Imported): void {
  const { frame, sources, settings, notes, missing, display, files } = imported;
  layContainer(db, frame.epsg);
  layOwnTables(db);
  createFeaturesTable(db, frame.epsg);
  const values = { format: FORMAT, frame, settings, notes, missing, edits: 0 };
  for (const [key, value] of Object.entries(values)) writeValue(db, key, value);
  addFiles(db, files);
  for (const feature of sources.features) putFeature(db, feature, frame.epsg, null);
  touchFeatures(db);
  if (sources.wind) writeValue(db, 'wind', writeWind(db, sources.wind));
  writeGrid(db, 'elevation', sources.elevation);
  if (sources.landcover) writeGrid(db, 'landcover', sources.landcover);
  if (sources.holes) writeGrid(db, 'holes', sources.holes);
  if (sources.vegetation) writeGrid(db, 'vegetation', sources.vegetation);
  if (sources.surroundings) writeSurroundings(db, sources.surroundings);
  if (sources.imagery)
    writeValue(db, 'imagery', writePicture(db, 'imagery', sources.imagery, 'Photo on the frame'));
  if (!display) return;
  const same = sources.imagery !== null && samePicture(display, sources.imagery);
  writeValue(
    db,
    'display',
    same ? readValue(db, 'imagery') : writePicture(db, 'photo', display, 'Photo for the map'),
  );
}

function addFiles(db: Database.Database, files: PropertyHead['files']): void {
  const add = db.prepare('INSERT INTO hollowgate_files (name, hash) VALUES (?, ?)');
  for (const { name, hash } of files) add.run(name, hash);
}

const samePicture = (a: Imagery, b: Imagery): boolean =>
  a === b ||
  (sameFrame(a.frame, b.frame) &&
    a.bands.length === b.bands.length &&
    a.bands.every((band, i) => band === b.bands[i]));

function checkFolder(path: string): void {
  const folder = dirname(path);
  try {
    accessSync(existsSync(path) ? path : folder, constants.W_OK);
    accessSync(folder, constants.W_OK);
  } catch {
    throw new Problem(`${basename(path)} cannot be written in ${folder}.`, {
      file: path,
      fix: 'Choose a folder that exists and that you may write to.',
    });
  }
}

/** @throws Problem when the file is not a property, is newer than this program, damaged, locked or write-protected */
export function openProperty(path: string): PropertyFile {
  const { db, notes: upgradeNotes } = openDatabase(path);
  const reading = <T>(read: () => T): T => readingBack(path, read);
  let frame: Frame;
  try {
    frame = reading(() => wholeFrame(readValue<Frame>(db, 'frame')));
  } catch (error) {
    db.close();
    throw error;
  }
  const { epsg } = frame;

  /** Each edit is one transaction: after a crash it is there whole or not at all. */
  const inTransaction = <T>(work: () => T): T => {
    try {
      return db.transaction(work).immediate();
    } catch (error) {
      throw problemOf(error, path);
    }
  };
  const edit = (label: string, changes: readonly Change[]): void =>
    inTransaction(() => recordEdit(db, label, changes, epsg));
  const picture = (key: 'imagery' | 'display'): Imagery | null => {
    const note = readValue<PictureNote>(db, key);
    return note && readPicture(db, note);
  };

  const windInForce = (): WindRecord | null => {
    const id = readValue<number>(db, 'wind');
    return id === null ? null : readWind(db, id);
  };

  const editions = (): Edition[] => readValue<Edition[]>(db, 'editions') ?? [];

  return {
    head: () =>
      reading(() => {
        const saved = readValue<{ made: string; edits: number }>(db, 'results');
        return {
          path,
          frame,
          settings: overDefaults(readValue<Settings>(db, 'settings')!) as unknown as Settings,
          features: readFeatures(db),
          notes: [...(readValue<string[]>(db, 'notes') ?? []), ...upgradeNotes],
          missing: readValue<string[]>(db, 'missing') ?? [],
          files: db
            .prepare<[], { name: string; hash: string }>(
              'SELECT name, hash FROM hollowgate_files ORDER BY id',
            )
            .all(),
          wind: readValue<number>(db, 'wind'),
          canUndo: canUndo(db),
          canRedo: canRedo(db),
          editions: editions(),
          results: saved && { made: saved.made, current: saved.edits === readValue<number>(db, 'edits') },
        };
      }),
    sources: () =>
      reading(() => {
        return {
          elevation: readGrid(db, 'elevation', frame) as Grid,
          imagery: picture('imagery'),
          landcover: readGrid(db, 'landcover', frame) as Grid<Uint8Array> | null,
          vegetation: readGrid(db, 'vegetation', frame) as Grid | null,
          holes: readGrid(db, 'holes', frame) as Grid<Uint8Array> | null,
          surroundings: readSurroundings(db),
          features: readFeatures(db),
          wind: windInForce(),
        };
      }),
    display: () => reading(() => picture('display')),
    putFeature: (feature) => edit(`Change ${feature.name ?? feature.kind}`, [{ type: 'put', feature }]),
    putFeatures: (features) =>
      edit(
        `Bring in ${features.length} features`,
        features.map((feature) => ({ type: 'put', feature })),
      ),
    keepMedia: (media) => inTransaction(() => writeMedia(db, media)),
    media: (id) => reading(() => readMedia(db, id)),
    wind: () => reading(windInForce),
    keepWind: (wind, files) =>
      inTransaction(() => {
        addFiles(db, files);
        return writeWind(db, wind);
      }),
    keepEdition: (edition) =>
      inTransaction(() => writeValue(db, 'editions', withEdition(editions(), edition))),
    removeFeature: (id) => edit('Remove', [{ type: 'remove', id }]),
    changeSettings: (settings) => edit('Change settings', [{ type: 'settings', settings }]),
    change: edit,
    undo: () => inTransaction(() => undoEdit(db, epsg)),
    redo: () => inTransaction(() => redoEdit(db, epsg)),
    saveResults(artifacts) {
      for (const part of resultParts(artifacts)) inTransaction(() => writeResultPart(db, part, epsg));
    },
    saveResultPart: (part) => inTransaction(() => writeResultPart(db, part, epsg)),
    results: () => reading(() => readResults(db, frame)),
    copyTo(target) {
      checkFolder(target);
      const building = `${target}.building-${process.pid}`;
      rmSync(building, { force: true });
      try {
        db.prepare('VACUUM INTO ?').run(building);
        renameSync(building, target);
      } catch (error) {
        throw problemOf(error, target);
      } finally {
        rmSync(building, { force: true });
      }
    },
    close: () => {
      db.close();
    },
  };
}

/** A frame that can hold a property: without this, a damaged one would ask for all the memory there is. */
function wholeFrame(frame: Frame | null): Frame {
  const { width = 0, height = 0, cellSize = 0, epsg, west, north } = frame ?? {};
  const whole = [width, height, epsg].every((value) => Number.isInteger(value) && value! > 0);
  if (
    !frame ||
    !whole ||
    cellCount(frame) > MOST_CELLS ||
    !(cellSize > 0) ||
    ![west, north].every(Number.isFinite)
  )
    throw new Error(`the frame cannot be: ${JSON.stringify(frame)}`);
  return frame;
}
