import type { Database } from 'better-sqlite3';
import type { Terrain } from '../../core/analysis/artifacts.ts';
import type { Frame, Grid } from '../../core/grid/frame.ts';
import { readCoverage, writeCoverage } from './coverages.ts';
import { readValue, writeValue } from './own-tables.ts';
import { type PictureNote, readPicture, writePicture } from './pictures.ts';

/** Which grids surroundings may have, and what they are kept as. */
const GRIDS = [
  { key: 'elevation', array: 'Float32Array', title: 'Ground elevation around the property', unit: 'm' },
  { key: 'landcover', array: 'Uint8Array', title: 'Public land-cover codes around the property', unit: '1' },
  {
    key: 'vegetation',
    array: 'Float32Array',
    title: 'Height of trees and brush around the property',
    unit: 'm',
  },
  { key: 'holes', array: 'Uint8Array', title: 'Holes filled around the property', unit: '1' },
] as const;

interface SurroundingsNote {
  frame: Frame;
  /** Grids that are kept, by their keys. */
  grids: string[];
  imagery: PictureNote | null;
}

const tableOf = (key: string): string => `surroundings_${key}`;

/** Keeps the ground and cover around the property, which never change. */
export function writeSurroundings(db: Database, ground: Terrain): void {
  const grids = GRIDS.filter(({ key }) => ground[key] !== null);
  for (const { key, title, unit } of grids)
    writeCoverage(db, tableOf(key), ground[key]!, { name: key, title, unit });
  const imagery =
    ground.imagery && writePicture(db, tableOf('imagery'), ground.imagery, 'Photo around the property');
  const note: SurroundingsNote = {
    frame: ground.elevation.frame,
    grids: grids.map(({ key }) => key),
    imagery,
  };
  writeValue(db, 'surroundings', note);
}

/** Null for a property made from files that reach no farther than it does. */
export function readSurroundings(db: Database): Terrain | null {
  const note = readValue<SurroundingsNote>(db, 'surroundings');
  if (!note) return null;
  const grids = Object.fromEntries(
    GRIDS.map(({ key, array }) => [
      key,
      note.grids.includes(key) ? readCoverage(db, tableOf(key), note.frame, array) : null,
    ]),
  ) as Record<(typeof GRIDS)[number]['key'], Grid | null>;
  return { ...grids, imagery: note.imagery && readPicture(db, note.imagery) } as Terrain;
}
