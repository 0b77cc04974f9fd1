import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach } from 'vitest';
import type { Sources } from '../../../core/analysis/artifacts.ts';
import { DEFAULT_SETTINGS } from '../../../core/analysis/settings.ts';
import type { Imagery } from '../../../core/cover/types.ts';
import type { Frame } from '../../../core/grid/frame.ts';
import type { Imported } from '../../../electron/readers/property.ts';
import { createProperty } from '../../../electron/store/property-file.ts';
import { artifactsOf, frame, gridOf, numbers } from '../writers/support.ts';

interface Scratch {
  /** A place in a folder that is new for every test. */
  path(name: string): string;
  /** What lies in it whose name only begins like a file's. */
  beside(name: string): string[];
  /** A property file there, made of `importedOf()`. */
  farm(name?: string): string;
}

export function scratch(): Scratch {
  let folder = '';
  let made: Buffer | null = null;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'store-test-'));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));
  return {
    path: (name) => join(folder, name),
    farm(name = 'farm.gpkg') {
      const file = join(folder, name);
      if (made) writeFileSync(file, made);
      else {
        createProperty(file, importedOf()).close();
        made = readFileSync(file);
      }
      return file;
    },
    beside: (name) => readdirSync(folder).filter((other) => other.startsWith(name) && other !== name),
  };
}

const photo = (on: Frame, seed: number, bands: number): Imagery => {
  const random = numbers(seed);
  return {
    frame: on,
    bands: Array.from(
      { length: bands },
      (_, band) =>
        // Noise in the first rows only: packing it is slow and shows nothing new.
        gridOf(on, (x, y) => (y < 40 ? random() * 256 : (x * (band + 2)) / 3 + y), Uint8Array).cells,
    ),
    valid: gridOf(on, (column) => (column < 12 ? 0 : 1), Uint8Array).cells,
  };
};

/** Everything an import may bring, with the values that are easiest to lose. */
export function importedOf(on = frame()): Imported {
  const random = numbers(5);
  const artifacts = artifactsOf(on);
  const elevation = gridOf(on, (column, row) =>
    column > 250 && row < 20 ? Number.NaN : 150 + 100 * random(),
  );
  const hard = [0, -0, 1e-40, 3.4e38, Number.POSITIVE_INFINITY, -1234.5678];
  elevation.cells.set(hard.slice(0, elevation.cells.length));
  const fine = { ...on, cellSize: on.cellSize / 2, width: on.width * 2, height: on.height * 2 };
  const records = 500;
  const column = (scale: number): Float32Array =>
    Float32Array.from({ length: records }, () => (random() < 0.1 ? Number.NaN : random() * scale));
  return {
    frame: on,
    sources: {
      elevation,
      imagery: photo(on, 8, 4),
      landcover: gridOf(on, (x, y) => (x < 30 ? 0 : [11, 21, 41, 42, 82, 90][(x + y) % 6]!), Uint8Array),
      vegetation: gridOf(on, (x) => (x % 5 === 0 ? Number.NaN : x / 10)),
      holes: gridOf(on, (x, y) => (x === 9 && y < 9 ? 1 : 0), Uint8Array),
      surroundings: surroundingsOf(on),
      features: artifacts.features,
      wind: {
        station: 'Invented field',
        hours: Int32Array.from({ length: records }, (_, index) => 400000 + index),
        direction: column(360),
        speed: column(12),
        temperature: column(30),
        sky: column(8),
        notes: ['calm records kept apart'],
      },
    },
    settings: { ...DEFAULT_SETTINGS, name: 'Home farm', invented: true, weights: { creek: 3.5 } },
    notes: ['Heights are metres.'],
    missing: ['No photo of the north.'],
    display: photo(fine, 9, 3),
    files: [{ name: 'elevation.tif', hash: 'ab'.repeat(32) }],
  };
}

/** Ground all round, on cells twice as wide: no point cloud reached so far, so there is no vegetation. */
function surroundingsOf(on: Frame): Sources['surroundings'] {
  const wide = {
    ...on,
    west: on.west - 8 * on.cellSize,
    north: on.north + 6 * on.cellSize,
    cellSize: 2 * on.cellSize,
    width: Math.ceil(on.width / 2) + 8,
    height: Math.ceil(on.height / 2) + 6,
  };
  return {
    elevation: gridOf(wide, (column, row) => (row === 3 ? Number.NaN : 100 + column / 3)),
    imagery: photo(wide, 8, 3),
    landcover: gridOf(wide, (x, y) => (x + y) % 90, Uint8Array),
    vegetation: null,
    holes: gridOf(wide, (x, y) => (x === 2 && y < 4 ? 1 : 0), Uint8Array),
  };
}
