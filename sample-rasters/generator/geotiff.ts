/**
 * A small writer of tiled, deflated GeoTIFF (TIFF 6.0; Adobe deflate; TIFF Technical Note 3 for predictor 3;
 * OGC GeoTIFF 1.1), enough for the sample: one or more bands, 8-bit or 32-bit float, north up, projected.
 */
import { deflateSync } from 'node:zlib';

export interface Raster {
  width: number;
  height: number;
  bands: number;
  /** Interleaved by pixel, row 0 north. */
  cells: Uint8Array | Float32Array;
  epsg: number;
  west: number;
  north: number;
  cellSize: number;
  description: string;
  /** True when the values are heights in metres, stated in the file. */
  metres: boolean;
}

const TILE = 256;
const SHORT = 3;
const LONG = 4;
const DOUBLE = 12;
const ASCII = 2;

type Entry = [tag: number, type: number, values: number[] | string];

export function encodeGeotiff(raster: Raster): Buffer {
  const { width, height, bands, cells, cellSize } = raster;
  const float = cells instanceof Float32Array;
  const across = Math.ceil(width / TILE);
  const down = Math.ceil(height / TILE);
  const tiles: Buffer[] = [];
  for (let row = 0; row < down; row++) {
    for (let column = 0; column < across; column++) {
      const bytes = float ? floatTile(raster, cells, column, row) : byteTile(raster, cells, column, row);
      tiles.push(deflateSync(bytes, { level: 9 }));
    }
  }
  const entries: Entry[] = [
    [256, LONG, [width]],
    [257, LONG, [height]],
    [258, SHORT, Array(bands).fill(float ? 32 : 8)],
    [259, SHORT, [8]],
    [262, SHORT, [bands >= 3 ? 2 : 1]],
    [270, ASCII, raster.description],
    [277, SHORT, [bands]],
    [284, SHORT, [1]],
    [317, SHORT, [float ? 3 : 2]],
    [322, LONG, [TILE]],
    [323, LONG, [TILE]],
    [324, LONG, tiles.map(() => 0)],
    [325, LONG, tiles.map((tile) => tile.length)],
    // The fourth band is near infrared, not transparency.
    ...(bands > 3 ? ([[338, SHORT, Array(bands - 3).fill(0)]] as Entry[]) : []),
    [339, SHORT, Array(bands).fill(float ? 3 : 1)],
    [33550, DOUBLE, [cellSize, cellSize, 0]],
    [33922, DOUBLE, [0, 0, 0, raster.west, raster.north, 0]],
    [34735, SHORT, geoKeys(raster)],
    ...(raster.metres ? ([[42112, ASCII, METRES]] as Entry[]) : []),
  ];
  return assemble(entries, tiles);
}

/** GDAL's way of stating a band's unit, beside the standard's own key 4099. */
const METRES = '<GDALMetadata><Item name="UNITTYPE" sample="0" role="unittype">metre</Item></GDALMetadata>';

/** Projected CRS by EPSG code, pixels as areas, metres; key 4099 states that heights are metres (9001). */
function geoKeys({ epsg, metres }: Raster): number[] {
  const keys = [
    [1024, 0, 1, 1],
    [1025, 0, 1, 1],
    [3072, 0, 1, epsg],
    [3076, 0, 1, 9001],
    ...(metres ? [[4099, 0, 1, 9001]] : []),
  ];
  return [1, 1, 1, keys.length, ...keys.flat()];
}

function byteTile(raster: Raster, cells: Uint8Array, column: number, row: number): Uint8Array {
  const { width, height, bands } = raster;
  const tile = new Uint8Array(TILE * TILE * bands);
  for (let r = 0; r < Math.min(TILE, height - row * TILE); r++) {
    const from = ((row * TILE + r) * width + column * TILE) * bands;
    const count = Math.min(TILE, width - column * TILE) * bands;
    const to = r * TILE * bands;
    for (let i = 0; i < count; i++)
      tile[to + i] = cells[from + i]! - (i < bands ? 0 : cells[from + i - bands]!);
  }
  return tile;
}

/** Bytes of each row split by significance, most significant first, then differenced. */
function floatTile(raster: Raster, cells: Float32Array, column: number, row: number): Uint8Array {
  const { width, height } = raster;
  const line = new Float32Array(TILE);
  const bytes = new Uint8Array(line.buffer);
  const tile = new Uint8Array(TILE * TILE * 4);
  for (let r = 0; r < TILE; r++) {
    const y = Math.min(row * TILE + r, height - 1);
    for (let c = 0; c < TILE; c++) line[c] = cells[y * width + Math.min(column * TILE + c, width - 1)]!;
    const to = r * TILE * 4;
    for (let c = 0; c < TILE; c++) {
      for (let b = 0; b < 4; b++) tile[to + b * TILE + c] = bytes[c * 4 + 3 - b]!;
    }
    for (let i = to + TILE * 4 - 1; i > to; i--) tile[i]! -= tile[i - 1]!;
  }
  return tile;
}

const SIZE: Record<number, number> = { [ASCII]: 1, [SHORT]: 2, [LONG]: 4, [DOUBLE]: 8 };

/** Header, directory, long values, tiles; little-endian. */
function assemble(entries: Entry[], tiles: Buffer[]): Buffer {
  entries.sort((a, b) => a[0] - b[0]);
  const directory = 8;
  let free = directory + 2 + entries.length * 12 + 4;
  const counts = entries.map(([, , values]) =>
    typeof values === 'string' ? values.length + 1 : values.length,
  );
  const places = entries.map(([, type], i) => {
    const size = counts[i]! * SIZE[type]!;
    if (size <= 4) return -1;
    const at = free;
    free += size + (size & 1);
    return at;
  });
  let at = free;
  const offsets = tiles.map((tile) => {
    const here = at;
    at += tile.length + (tile.length & 1);
    return here;
  });
  const out = Buffer.alloc(at);
  out.write('II*\0', 0, 'latin1');
  out.writeUInt32LE(directory, 4);
  out.writeUInt16LE(entries.length, directory);
  entries.forEach(([tag, type, given], i) => {
    const entry = directory + 2 + i * 12;
    out.writeUInt16LE(tag, entry);
    out.writeUInt16LE(type, entry + 2);
    out.writeUInt32LE(counts[i]!, entry + 4);
    let to = entry + 8;
    if (places[i]! >= 0) {
      out.writeUInt32LE(places[i]!, to);
      to = places[i]!;
    }
    const values = tag === 324 ? offsets : given;
    if (typeof values === 'string') out.write(values, to, 'latin1');
    else for (const value of values) to = write(out, type, value, to);
  });
  tiles.forEach((tile, i) => {
    tile.copy(out, offsets[i]!);
  });
  return out;
}

function write(out: Buffer, type: number, value: number, at: number): number {
  if (type === SHORT) return out.writeUInt16LE(value, at);
  if (type === LONG) return out.writeUInt32LE(value, at);
  return out.writeDoubleLE(value, at);
}
