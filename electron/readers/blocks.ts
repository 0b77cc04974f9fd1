import { inflateSync, zstdDecompressSync } from 'node:zlib';
import { type GeoTIFFImage, getDecoder } from 'geotiff';
import { Problem } from '../../core/grid/problem.ts';
import { unpackLzw } from '../store/lzw.ts';
import { checkJpegSize, checkLercSize } from './block-size.ts';
import { refusal } from './refusal.ts';
import { EndsEarly, type FileBytes } from './source.ts';

/** One resolution of a TIFF: how its samples are cut into blocks and packed. */
export interface Level {
  image: GeoTIFFImage;
  width: number;
  height: number;
  bands: number;
  bits: number;
  /** TIFF SampleFormat: 1 unsigned, 2 signed, 3 floating point. */
  format: number;
  blockWidth: number;
  blockHeight: number;
  /** Rows of a stored strip; more than `blockHeight` where an unpacked strip is read in parts. */
  stripRows: number;
  /** True when each band has blocks of its own. */
  planar: boolean;
  compression: number;
  predictor: number;
  littleEndian: boolean;
  /** JPEG blocks hold luma and two chroma samples instead of red, green and blue. */
  lumaChroma: boolean;
  /** Which pixels are shown, where the file keeps a mask of them (0 is not); a level of one band. */
  mask: Level | null;
}

export type Samples =
  | Uint8Array
  | Int8Array
  | Uint16Array
  | Int16Array
  | Uint32Array
  | Int32Array
  | Float32Array
  | Float64Array;

const COMPRESSIONS: Record<number, string> = {
  1: 'none',
  5: 'LZW',
  7: 'JPEG',
  8: 'deflate',
  32773: 'packbits',
  32946: 'deflate',
  34887: 'LERC',
  50000: 'ZSTD',
  50001: 'WebP',
};
/** A block larger than this in memory is refused: the file has to be cut into tiles first. */
const LARGEST_BLOCK = 1 << 30;
/** Unpacked strips are read in parts of about this size. */
const PART_BYTES = 4 << 20;
const RESAVE = 'save it again as a tiled GeoTIFF with deflate compression';

/** @throws Problem for packings this program does not open. */
export async function levelOf(image: GeoTIFFImage, name: string): Promise<Level> {
  const directory = image.fileDirectory;
  const compression = directory.getValue('Compression') ?? 1;
  const bits = image.getBitsPerSample();
  const format = image.getSampleFormat();
  const level: Level = {
    image,
    width: image.getWidth(),
    height: image.getHeight(),
    bands: image.getSamplesPerPixel(),
    bits,
    format,
    blockWidth: image.getTileWidth(),
    blockHeight: image.getTileHeight(),
    stripRows: image.getTileHeight(),
    planar: image.planarConfiguration === 2,
    compression,
    predictor: Number((await directory.loadValue('Predictor')) ?? 1),
    littleEndian: image.littleEndian,
    mask: null,
    lumaChroma: compression === 7 && directory.getValue('PhotometricInterpretation') === 6,
  };
  if (!COMPRESSIONS[compression])
    throw refusal(`${name} is packed in a way this program does not open (TIFF compression ${compression})`, {
      file: name,
      fix: RESAVE,
    });
  const known = [1, 2].includes(format)
    ? [8, 16, 32].includes(bits) || (bits === 1 && level.bands === 1)
    : format === 3 && [32, 64].includes(bits);
  if (!known)
    throw refusal(`${name} holds ${bits}-bit samples of a kind this program does not read`, {
      file: name,
      fix: 'save it again with 8 or 16-bit whole numbers or 32-bit floating point numbers',
    });
  if (
    !(level.width > 0 && level.height > 0 && level.bands > 0 && level.blockWidth > 0 && level.blockHeight > 0)
  )
    throw refusal(`${name} has a damaged header`, { file: name, fix: 'download it again' });
  if (compression === 1 && !image.isTiled) level.blockHeight = partOfStrip(level);
  if (blockBytes(level) > LARGEST_BLOCK)
    throw refusal(
      `${name} is stored in single blocks of ${gigabytes(blockBytes(level))}, too much to open a part of it`,
      { file: name, fix: RESAVE },
    );
  return level;
}

export const gigabytes = (bytes: number): string => `${(bytes / 1e9).toFixed(bytes < 1e10 ? 1 : 0)} GB`;

/** Rows of an unpacked strip to read at once: an even part of it, so that parts never cross from strip to strip. */
function partOfStrip(level: Level): number {
  const stripRows = Math.min(level.stripRows, level.height);
  const rowBytes = blockBytes({ ...level, blockHeight: 1 });
  if (stripRows >= level.height) return Math.max(1, Math.min(stripRows, Math.floor(PART_BYTES / rowBytes)));
  let rows = stripRows;
  for (let divisor = 2; rows * rowBytes > PART_BYTES && divisor <= stripRows; divisor++)
    if (stripRows % divisor === 0) rows = stripRows / divisor;
  return rows;
}

const samplesPerBlock = (level: Level): number =>
  level.blockWidth * level.blockHeight * (level.planar ? 1 : level.bands);
/** Rows of single bits are filled up to whole bytes. */
const blockBytes = (level: Level): number =>
  Math.ceil((samplesPerBlock({ ...level, blockHeight: 1 }) * level.bits) / 8) * level.blockHeight;

/**
 * The samples of one block, bands interleaved unless the file is planar; null where a sparse file stores nothing.
 * @throws Problem when the file ends before the block, or the block is damaged.
 */
export async function readBlock(
  bytes: FileBytes,
  level: Level,
  column: number,
  row: number,
  band: number,
  name: string,
): Promise<Samples | null> {
  const stripRows = Math.max(level.stripRows, level.blockHeight);
  const across = Math.ceil(level.width / level.blockWidth);
  const down = Math.ceil(level.height / stripRows);
  const top = row * level.blockHeight;
  const index = ((level.planar ? band * down : 0) + Math.floor(top / stripRows)) * across + column;
  const what = level.image.isTiled ? 'Tile' : 'Strip';
  // The last strip may be short; tiles are always whole.
  const rows = level.image.isTiled ? level.blockHeight : Math.min(level.blockHeight, level.height - top);
  const rowBytes = blockBytes({ ...level, blockHeight: 1 });
  const size = rowBytes * rows;
  try {
    const directory = level.image.fileDirectory;
    let offset = Number(await directory.loadValueIndexed(`${what}Offsets`, index));
    let length = Number(await directory.loadValueIndexed(`${what}ByteCounts`, index));
    if (!length || !offset) return null;
    if (level.blockHeight < level.stripRows) {
      offset += (top % stripRows) * rowBytes;
      length = size;
    }
    const [packed] = await bytes.fetch([{ offset, length }]);
    const unpacked = await unpack(level, packed!, size);
    if (unpacked.length < size) throw new EndsEarly();
    return samplesOf(level, unpacked.subarray(0, size), rows);
  } catch (error) {
    if (error instanceof Problem) throw error;
    if (error instanceof EndsEarly)
      throw refusal(`${name} ends before all of its data: it was cut short while downloading or copying`, {
        file: name,
        fix: 'download or copy it again',
      });
    throw refusal(`${name} is damaged: a block of it cannot be unpacked`, {
      file: name,
      fix: 'download it again',
    });
  }
}

async function unpack(level: Level, packed: ArrayBuffer, size: number): Promise<Uint8Array> {
  const bytes = new Uint8Array(packed);
  const { compression } = level;
  if (compression === 1) return bytes;
  if (compression === 8 || compression === 32946) return inflate(bytes, size);
  if (compression === 50000) return zstd(bytes, size);
  // The library's own can go round in circles on a damaged block.
  if (compression === 5) return unpackLzw(bytes, size);
  if (compression === 7) checkJpegSize(bytes, level.blockWidth, level.blockHeight);
  const directory = level.image.fileDirectory;
  let content = packed;
  let lerc = await directory.loadValue('LercParameters');
  if (compression === 34887 && lerc?.[1]) {
    // LERC packed once more (1 deflate, 2 Zstandard); it may be a little larger than the samples it holds.
    const inner = (lerc[1] === 2 ? zstd : inflate)(bytes, 2 * size + 65_536);
    content = Uint8Array.from(inner).buffer;
    lerc = Uint32Array.of(lerc[0]!, 0);
  }
  if (compression === 34887) checkLercSize(new Uint8Array(content), level.blockWidth, level.blockHeight);
  const decoder = await getDecoder(compression, {
    tileWidth: level.blockWidth,
    tileHeight: level.blockHeight,
    planarConfiguration: level.planar ? 2 : 1,
    bitsPerSample: Array.from({ length: level.bands }, () => level.bits),
    samplesPerPixel: level.bands,
    predictor: 1,
    JPEGTables: await directory.loadValue('JPEGTables'),
    LercParameters: lerc,
  } as Parameters<typeof getDecoder>[1]);
  return new Uint8Array((await decoder.decode(content)) as ArrayBuffer);
}

/** Node's own unpackers are several times faster than the library's, and stop a block that grows beyond its size. */
const inflate = (bytes: Uint8Array, size: number): Uint8Array =>
  inflateSync(bytes, { maxOutputLength: size + 1024 });
const zstd = (bytes: Uint8Array, size: number): Uint8Array =>
  zstdDecompressSync(bytes, { maxOutputLength: size + 1024 });

/** Undoes the predictor and the byte order. TIFF 6.0 section 14; floating-point predictor: TIFF Technical Note 3. */
function samplesOf(level: Level, raw: Uint8Array, rows: number): Samples {
  if (level.bits === 1) return singleBits(raw, level.blockWidth, rows);
  const bytes = raw.byteOffset % 8 === 0 ? raw : raw.slice();
  const size = level.bits / 8;
  const stride = level.planar ? 1 : level.bands;
  const perRow = level.blockWidth * stride;
  if (level.predictor === 3) undoFloatPredictor(bytes, rows, perRow, stride, size);
  // LERC, JPEG and WebP decoders hand out this machine's byte order already.
  else if (!level.littleEndian && size > 1 && ![7, 34887, 50001].includes(level.compression))
    swap(bytes, size);
  const samples = view(bytes, level.format, level.bits);
  if (level.predictor === 2) undoDifferences(asIntegers(samples, bytes, size), rows, perRow, stride);
  if (level.lumaChroma && stride === 3) toRedGreenBlue(samples);
  return samples;
}

/** A byte for each bit, first pixel in the highest bit (TIFF 6.0, FillOrder 1). */
function singleBits(raw: Uint8Array, width: number, rows: number): Uint8Array {
  const rowBytes = Math.ceil(width / 8);
  const out = new Uint8Array(width * rows);
  for (let row = 0, i = 0; row < rows; row++)
    for (let x = 0; x < width; x++, i++) out[i] = (raw[row * rowBytes + (x >> 3)]! >> (7 - (x & 7))) & 1;
  return out;
}

/** ITU-R BT.601 as JFIF 1.02 states it, full range. */
function toRedGreenBlue(samples: Samples): void {
  const byte = (value: number) => Math.max(0, Math.min(255, Math.round(value)));
  for (let i = 0; i < samples.length; i += 3) {
    const luma = samples[i]!;
    const blue = samples[i + 1]! - 128;
    const red = samples[i + 2]! - 128;
    samples[i] = byte(luma + 1.402 * red);
    samples[i + 1] = byte(luma - 0.344136 * blue - 0.714136 * red);
    samples[i + 2] = byte(luma + 1.772 * blue);
  }
}

function undoDifferences(samples: Samples, rows: number, perRow: number, stride: number): void {
  for (let row = 0; row < rows; row++) {
    const end = (row + 1) * perRow;
    for (let i = row * perRow + stride; i < end; i++) samples[i] = samples[i]! + samples[i - stride]!;
  }
}

/** Differences of floats stored with predictor 2 are taken on their bits. */
const asIntegers = (samples: Samples, bytes: Uint8Array, size: number): Samples =>
  samples instanceof Float32Array
    ? new Uint32Array(bytes.buffer, bytes.byteOffset, bytes.length / size)
    : samples;

function undoFloatPredictor(
  bytes: Uint8Array,
  rows: number,
  perRow: number,
  stride: number,
  size: number,
): void {
  const rowBytes = perRow * size;
  const copy = new Uint8Array(rowBytes);
  for (let row = 0; row < rows; row++) {
    const start = row * rowBytes;
    for (let i = start + stride; i < start + rowBytes; i++) bytes[i] = bytes[i]! + bytes[i - stride]!;
    copy.set(bytes.subarray(start, start + rowBytes));
    for (let i = 0; i < perRow; i++)
      for (let b = 0; b < size; b++) bytes[start + i * size + b] = copy[(size - b - 1) * perRow + i]!;
  }
}

function swap(bytes: Uint8Array, size: number): void {
  for (let start = 0; start + size <= bytes.length; start += size)
    bytes.subarray(start, start + size).reverse();
}

function view(bytes: Uint8Array, format: number, bits: number): Samples {
  const { buffer, byteOffset } = bytes;
  const length = (bytes.length * 8) / bits;
  if (format === 3)
    return bits === 32
      ? new Float32Array(buffer, byteOffset, length)
      : new Float64Array(buffer, byteOffset, length);
  if (format === 2)
    return bits === 8
      ? new Int8Array(buffer, byteOffset, length)
      : bits === 16
        ? new Int16Array(buffer, byteOffset, length)
        : new Int32Array(buffer, byteOffset, length);
  return bits === 8
    ? new Uint8Array(buffer, byteOffset, length)
    : bits === 16
      ? new Uint16Array(buffer, byteOffset, length)
      : new Uint32Array(buffer, byteOffset, length);
}
