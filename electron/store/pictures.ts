import type { Database } from 'better-sqlite3';
import { decode } from 'fast-png';
import type { Imagery } from '../../core/cover/types.ts';
import type { Frame } from '../../core/grid/frame.ts';
import { encodeImage } from '../writers/png.ts';
import { createTileTable, TILE } from './container.ts';

/**
 * Imagery as 8-bit PNG tiles, which lose nothing: red, green and blue with the data mask as opacity, and a fourth band
 * in a grey table of its own.
 */

/** What the tiles themselves do not say; kept as JSON. */
export interface PictureNote {
  table: string;
  frame: Frame;
  bands: number;
  /** What `valid` holds where there is data. */
  valid: number;
}

const infrared = (table: string): string => `${table}_near_infrared`;

export function writePicture(db: Database, table: string, imagery: Imagery, title: string): PictureNote {
  const { frame, bands, valid } = imagery;
  createTileTable(db, table, 'tiles', title, frame);
  const [red, green, blue] = [bands[0]!, bands[1] ?? bands[0]!, bands[2] ?? bands[0]!];
  writeTiles(db, table, frame, 4, (cell, pixel, data) => {
    data[pixel * 4] = red[cell]!;
    data[pixel * 4 + 1] = green[cell]!;
    data[pixel * 4 + 2] = blue[cell]!;
    data[pixel * 4 + 3] = valid[cell] ? 255 : 0;
  });
  const fourth = bands[3];
  if (fourth) {
    createTileTable(db, infrared(table), 'tiles', `${title}, near infrared`, frame);
    writeTiles(db, infrared(table), frame, 1, (cell, pixel, data) => {
      data[pixel] = fourth[cell]!;
    });
  }
  return { table, frame, bands: bands.length, valid: valid.find((value) => value !== 0) ?? 1 };
}

function writeTiles(
  db: Database,
  table: string,
  frame: Frame,
  channels: 1 | 4,
  put: (cell: number, pixel: number, data: Uint8Array) => void,
): void {
  const add = db.prepare(
    `INSERT INTO "${table}" (zoom_level, tile_column, tile_row, tile_data) VALUES (0, ?, ?, ?)`,
  );
  const data = new Uint8Array(TILE * TILE * channels);
  for (let row = 0; row * TILE < frame.height; row++) {
    for (let column = 0; column * TILE < frame.width; column++) {
      data.fill(0);
      eachCell(frame, column, row, (cell, pixel) => put(cell, pixel, data));
      add.run(column, row, encodeImage({ width: TILE, height: TILE, channels, data }));
    }
  }
}

function eachCell(
  frame: Frame,
  column: number,
  row: number,
  visit: (cell: number, pixel: number) => void,
): void {
  const wide = Math.min(TILE, frame.width - column * TILE);
  const high = Math.min(TILE, frame.height - row * TILE);
  for (let y = 0; y < high; y++) {
    const from = (row * TILE + y) * frame.width + column * TILE;
    for (let x = 0; x < wide; x++) visit(from + x, y * TILE + x);
  }
}

/** The imagery as it was written, on shared memory. */
export function readPicture(db: Database, note: PictureNote): Imagery {
  const { table, frame } = note;
  const band = (): Uint8Array => new Uint8Array(new SharedArrayBuffer(frame.width * frame.height));
  const bands = Array.from({ length: note.bands }, band);
  const valid = band();
  readTiles(db, table, frame, (cell, pixel, data) => {
    for (let channel = 0; channel < Math.min(3, note.bands); channel++) {
      bands[channel]![cell] = data[pixel * 4 + channel]!;
    }
    valid[cell] = data[pixel * 4 + 3] ? note.valid : 0;
  });
  const fourth = bands[3];
  if (fourth) {
    readTiles(db, infrared(table), frame, (cell, pixel, data) => {
      fourth[cell] = data[pixel]!;
    });
  }
  return { frame, bands, valid };
}

function readTiles(
  db: Database,
  table: string,
  frame: Frame,
  take: (cell: number, pixel: number, data: Uint8Array) => void,
): void {
  const tiles = db
    .prepare<[], { tile_column: number; tile_row: number; tile_data: Buffer }>(
      `SELECT tile_column, tile_row, tile_data FROM "${table}" WHERE zoom_level = 0`,
    )
    .iterate();
  for (const { tile_column: column, tile_row: row, tile_data: blob } of tiles) {
    const data = decode(blob).data as Uint8Array;
    eachCell(frame, column, row, (cell, pixel) => take(cell, pixel, data));
  }
}
