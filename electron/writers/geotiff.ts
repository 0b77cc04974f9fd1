import { promisify } from 'node:util';
import { deflate } from 'node:zlib';
import type { Frame, Grid, TypedArray } from '../../core/grid/frame.ts';
import { Problem } from '../../core/grid/problem.ts';
import { type Level, levelsOf } from './overviews.ts';
import { encodeTiffs, type SampleType, type TiffImage, type TiffTag } from './tiff.ts';

/**
 * A small writer of cloud-optimised GeoTIFFs: one band, 256-cell tiles, overviews, deflate with the predictor that suits the sample type,
 * an EPSG code for the projection. Layout: TIFF 6.0, its supplements 1 (deflate) and 3 (floating point
 * predictor), OGC GeoTIFF 1.1 (19-008r4).
 */

const TILE = 256;
/** What a float grid's NaN becomes on disk. */
export const NODATA = -9999;

const compress = promisify(deflate);
/** A third quicker than zlib's own choice of 6, and the files hardly larger. */
const LEVEL = 4;

export interface GeoTiffOptions {
  /** What the cells are, e.g. `Ground slope`. */
  description?: string;
  /** Unit of the cells, e.g. `m`. */
  unit?: string;
  /** Names of classes by cell value; written as metadata. */
  classes?: Record<number, string>;
  /** Red, green, blue 0..255 by cell value; only for 8-bit grids. */
  colours?: Record<number, readonly [number, number, number]>;
}

interface Encoding {
  type: SampleType;
  /** TIFF predictor: 1 none, 2 horizontal differences, 3 floating point. */
  predictor: 1 | 2 | 3;
  nodata: number;
}

function encodingOf(cells: TypedArray): Encoding {
  if (cells instanceof Float32Array || cells instanceof Float64Array) {
    return { type: { format: 'float', bits: 32 }, predictor: 3, nodata: NODATA };
  }
  const bits = (cells.BYTES_PER_ELEMENT * 8) as 8 | 16 | 32;
  const signed = cells instanceof Int8Array || cells instanceof Int16Array || cells instanceof Int32Array;
  // Neighbouring classes seldom differ by small steps, so 8-bit grids pack better as they are.
  return { type: { format: signed ? 'int' : 'uint', bits }, predictor: bits === 8 ? 1 : 2, nodata: 0 };
}

/**
 * Encodes a grid with overviews down to one tile; NaN becomes -9999, in whole-number grids 0 is declared as no data.
 * @throws Problem when the file would pass 4 GB, the most a TIFF can address.
 */
export async function encodeGeoTiff(
  grid: Grid<TypedArray>,
  options: GeoTiffOptions = {},
): Promise<Uint8Array> {
  const { frame } = grid;
  const encoding = encodingOf(grid.cells);
  const images: TiffImage[] = [];
  let size = 0;
  for (const level of levelsOf(grid)) {
    const tiles = await packTiles(level, encoding);
    size += tiles.reduce((sum, tile) => sum + tile.byteLength, 0);
    if (size > 0xf0000000) {
      throw new Problem('The layer is too large for one GeoTIFF (over 4 GB packed).', {
        fix: 'Use a larger cell size or a smaller margin.',
      });
    }
    const nodata: TiffTag = { tag: 42113, kind: 'ascii', values: String(encoding.nodata) };
    images.push({
      width: level.width,
      height: level.height,
      type: encoding.type,
      compression: 8,
      predictor: encoding.predictor,
      block: { tile: TILE, data: tiles },
      palette: options.colours && encoding.type.bits === 8 ? options.colours : null,
      // Overviews lie where the image lies; only what is missing must be said again.
      tags: images.length === 0 ? [...geoTags(frame), nodata, ...gdalTags(options)] : [nodata],
    });
  }
  return encodeTiffs(images);
}

async function packTiles(level: Level, encoding: Encoding): Promise<Uint8Array[]> {
  const across = Math.ceil(level.width / TILE);
  const down = Math.ceil(level.height / TILE);
  const tiles: Uint8Array[] = new Array(across * down);
  // A row of tiles at a time: deflate runs on the thread pool, and memory stays at one row of raw tiles.
  for (let row = 0; row < down; row++) {
    await Promise.all(
      Array.from({ length: across }, async (_, column) => {
        tiles[row * across + column] = await compress(cutTile(level, encoding, column, row), {
          level: LEVEL,
        });
      }),
    );
  }
  return tiles;
}

/** One tile's samples, little-endian, padded with no data beyond the grid, predictor applied. */
function cutTile(level: Level, encoding: Encoding, column: number, row: number): Uint8Array {
  const { cells } = level;
  const wide = Math.min(TILE, level.width - column * TILE);
  const high = Math.min(TILE, level.height - row * TILE);
  const samples = newSamples(encoding.type, TILE * TILE);
  samples.fill(encoding.nodata);
  const floats = encoding.type.format === 'float';
  for (let y = 0; y < high; y++) {
    const from = (row * TILE + y) * level.width + column * TILE;
    for (let x = 0; x < wide; x++) {
      const value = cells[from + x]!;
      if (!floats || !Number.isNaN(value)) samples[y * TILE + x] = value;
    }
  }
  if (encoding.predictor === 2) differ(samples);
  const bytes = new Uint8Array(samples.buffer);
  return encoding.predictor === 3 ? shuffle(bytes) : bytes;
}

function newSamples(type: SampleType, length: number): TypedArray {
  if (type.format === 'float') return new Float32Array(length);
  const signed = type.format === 'int';
  if (type.bits === 8) return signed ? new Int8Array(length) : new Uint8Array(length);
  if (type.bits === 16) return signed ? new Int16Array(length) : new Uint16Array(length);
  return signed ? new Int32Array(length) : new Uint32Array(length);
}

/** Horizontal differences along each tile row (TIFF 6.0 section 14), wrapping as the sample type does. */
function differ(samples: TypedArray): void {
  for (let row = 0; row < samples.length; row += TILE) {
    for (let x = TILE - 1; x > 0; x--) samples[row + x] = samples[row + x]! - samples[row + x - 1]!;
  }
}

/** Floating point predictor (TIFF supplement 3): bytes of a row gathered by weight, highest first, then differenced. */
function shuffle(bytes: Uint8Array): Uint8Array {
  const out = new Uint8Array(bytes.length);
  const stride = TILE * 4;
  for (let row = 0; row < bytes.length; row += stride) {
    for (let plane = 0; plane < 4; plane++) {
      const to = row + plane * TILE;
      for (let x = 0; x < TILE; x++) out[to + x] = bytes[row + x * 4 + 3 - plane]!;
    }
    for (let x = stride - 1; x > 0; x--) out[row + x] = out[row + x]! - out[row + x - 1]!;
  }
  return out;
}

function geoTags(frame: Frame): TiffTag[] {
  const keys = [
    [1024, 1], // projected model
    [1025, 1], // a value stands for the whole cell
    [3072, frame.epsg],
    [3076, 9001], // metres
  ];
  return [
    { tag: 33550, kind: 'double', values: [frame.cellSize, frame.cellSize, 0] },
    { tag: 33922, kind: 'double', values: [0, 0, 0, frame.west, frame.north, 0] },
    {
      tag: 34735,
      kind: 'short',
      values: [1, 1, 0, keys.length, ...keys.flatMap(([key, value]) => [key!, 0, 1, value!])],
    },
  ];
}

/** The tag by which GDAL and its many users tell names and units (42112). */
function gdalTags(options: GeoTiffOptions): TiffTag[] {
  const items: string[] = [];
  if (options.description)
    items.push(item('DESCRIPTION', options.description, ' sample="0" role="description"'));
  if (options.unit) items.push(item('UNITTYPE', options.unit, ' sample="0" role="unittype"'));
  for (const [value, name] of Object.entries(options.classes ?? {}))
    items.push(item(`CLASS_${value}`, name, ' sample="0"'));
  if (items.length === 0) return [];
  return [
    {
      tag: 42112,
      kind: 'ascii',
      values: `<GDALMetadata>\n  ${items.join('\n  ')}\n</GDALMetadata>\n`,
    },
  ];
}

const escapeXml = (text: string): string =>
  text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;');

/** GDAL takes the escapes of a value off twice, and writes them twice itself. */
const item = (name: string, text: string, attributes: string): string =>
  `<Item name="${name}"${attributes}>${escapeXml(escapeXml(text))}</Item>`;
