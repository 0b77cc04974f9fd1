import { closeSync, openSync, readFileSync, readSync, statSync } from 'node:fs';
import ExifReader from 'exifreader';
import { encodeImage } from '../writers/png.ts';
import type { InputFile } from './inputs.ts';
import { type BlockCache, openUnplaced, type Raster, readWindow } from './raster.ts';
import { refusal } from './refusal.ts';
import { unreadable } from './source.ts';

/** A picture as the window can show it. */
export interface Scan {
  /** MIME type. */
  type: 'image/jpeg' | 'image/png';
  bytes: Uint8Array;
  /** Pixels, as it is shown: turned as its Exif says. */
  width: number;
  height: number;
  /** What was done to it, a sentence; null where it is kept as it is. */
  note: string | null;
}

/** A larger file would swell the property, which is mailed. */
const LARGEST_FILE = 40e6;
/** More pixels than these no window opens with ease: our assumption, a sheet of 24 by 36 inches at 300 to the inch. */
const MOST_PIXELS = 80e6;
/** A TIFF is kept as a PNG no longer than this, pixels. */
const LONGEST = 5000;

const SMALLER = 'save a smaller copy, such as at 200 pixels to the inch, as JPEG or PNG';

/**
 * A scanned plat or a photo that need not say where it lies: JPEG and PNG as they are, TIFF turned into PNG.
 *
 * @throws Problem when it is none of these, damaged, or too large to keep
 */
export async function readScan(file: InputFile): Promise<Scan> {
  const start = firstBytes(file);
  if (start[0] === 0xff && start[1] === 0xd8) return kept(file, 'image/jpeg', jpegSize);
  if (start.subarray(0, 8).equals(Buffer.from([137, 80, 78, 71, 13, 10, 26, 10])))
    return kept(file, 'image/png', pngSize);
  const order = start.toString('latin1', 0, 2);
  if ((order === 'II' || order === 'MM') && [42, 43].includes(Math.max(start[2]!, start[3]!)))
    return fromTiff(file);
  throw refusal(`${file.name} is not a picture that can be pinned`, {
    file: file.name,
    fix: 'save it as JPEG, PNG or TIFF; a PDF has to be saved as a picture first',
  });
}

function firstBytes({ name, path }: InputFile): Buffer {
  try {
    if (statSync(path).size === 0)
      throw refusal(`${name} is empty`, { file: name, fix: 'scan or copy it again' });
    const start = Buffer.alloc(8);
    const handle = openSync(path, 'r');
    try {
      readSync(handle, start, 0, 8, 0);
    } finally {
      closeSync(handle);
    }
    return start;
  } catch (error) {
    throw unreadable(error, name);
  }
}

type Size = { width: number; height: number };

function kept({ name, path }: InputFile, type: Scan['type'], sizeOf: (bytes: Buffer) => Size | null): Scan {
  const { size } = statSync(path);
  if (size > LARGEST_FILE)
    throw refusal(
      `${name} is ${(size / 1e6).toFixed(0)} MB; pictures up to ${LARGEST_FILE / 1e6} MB are kept`,
      {
        file: name,
        fix: SMALLER,
      },
    );
  const bytes = readFileSync(path);
  const found = sizeOf(bytes);
  if (!found || !(found.width > 0 && found.height > 0))
    throw refusal(`${name} is damaged or was cut short`, { file: name, fix: 'scan or copy it again' });
  checkPixels(name, found);
  const turned = type === 'image/jpeg' && isOnSide(bytes);
  const [width, height] = turned ? [found.height, found.width] : [found.width, found.height];
  return { type, bytes, width, height, note: null };
}

function checkPixels(name: string, { width, height }: Size): void {
  if (width * height <= MOST_PIXELS) return;
  throw refusal(
    `${name} has ${width} × ${height} pixels; pictures up to ${MOST_PIXELS / 1e6} million pixels are shown`,
    { file: name, fix: SMALLER },
  );
}

/** The size in the frame header of a JPEG (ITU-T T.81, B.2.2); null where none is met before the picture itself. */
function jpegSize(bytes: Buffer): Size | null {
  for (let at = 2; at + 9 < bytes.length; ) {
    if (bytes[at] !== 0xff) return null;
    const marker = bytes[at + 1]!;
    if (marker === 0xff) {
      at++;
      continue;
    }
    const isFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (isFrame) return { height: bytes.readUInt16BE(at + 5), width: bytes.readUInt16BE(at + 7) };
    if (marker === 0xda) return null;
    at += 2 + bytes.readUInt16BE(at + 2);
  }
  return null;
}

/** The size in the header of a PNG (ISO 15948, 11.2.2); null where the file does not end as one does. */
function pngSize(bytes: Buffer): Size | null {
  const whole = bytes.length > 45 && bytes.toString('latin1', 12, 16) === 'IHDR';
  if (!whole || bytes.lastIndexOf('IEND') < bytes.length - 64) return null;
  return { width: bytes.readUInt32BE(16), height: bytes.readUInt32BE(20) };
}

/** Whether Exif 2.32 says that the camera was held on its side: orientation 5 to 8. */
function isOnSide(bytes: Uint8Array): boolean {
  try {
    const { exif } = ExifReader.load(Uint8Array.from(bytes).buffer, { expanded: true });
    return Number(exif?.Orientation?.value) >= 5;
  } catch {
    // No Exif is no turn.
    return false;
  }
}

/** Grey, palette or colour as a PNG, each cell of which is the mean of the pixels it takes the place of. */
async function fromTiff(file: InputFile): Promise<Scan> {
  const raster = await openUnplaced(file);
  try {
    const { width, height, photometric, bands, palette } = raster;
    if (![0, 1, 2, 3, 6].includes(photometric))
      throw refusal(`${file.name} holds colours of a kind this program does not show`, {
        file: file.name,
        fix: 'save it as RGB, or as JPEG or PNG',
      });
    if (width * height > 16 * MOST_PIXELS) checkPixels(file.name, raster);
    const step = Math.max(1, Math.ceil(Math.max(width, height) / LONGEST));
    const size = { width: Math.ceil(width / step), height: Math.ceil(height / step) };
    const colour = photometric === 3 ? palette !== null : bands - (raster.alpha === null ? 0 : 1) >= 3;
    const channels = colour ? 3 : 1;
    const cache: BlockCache = new Map();
    const data = new Uint8Array(size.width * size.height * channels);
    for (let row = 0; row < size.height; row++)
      await meanRow(
        raster,
        cache,
        row,
        step,
        size.width,
        channels,
        data.subarray(row * size.width * channels),
      );
    const bytes = encodeImage({ ...size, channels, data });
    const note =
      step > 1
        ? `${file.name} is kept at ${size.width} × ${size.height} pixels, one of every ${step} by ${step}.`
        : null;
    return { type: 'image/png', bytes, ...size, note };
  } finally {
    await raster.bytes.close();
  }
}

async function meanRow(
  raster: Raster,
  cache: BlockCache,
  row: number,
  step: number,
  width: number,
  channels: 1 | 3,
  out: Uint8Array,
): Promise<void> {
  const level = raster.levels[0]!;
  const { palette, photometric } = raster;
  const indexed = photometric === 3 && palette !== null;
  const bands = channels === 3 && !indexed ? [0, 1, 2] : [0];
  const box = { x: 0, y: row * step, width: level.width, height: step };
  const window = await readWindow(raster, level, bands, box, cache);
  const most = level.format === 3 ? 1 : 2 ** level.bits - 1;
  const entries = palette ? palette.length / 3 : 0;
  const value = (channel: number, pixel: number): number => {
    const stored = window.bands[indexed ? 0 : channel]![pixel]!;
    // Where nothing is stored the paper is white.
    if (Number.isNaN(stored)) return 255;
    if (indexed) return palette[channel * entries + stored]! / 257;
    const share = stored / most;
    return 255 * (photometric === 0 ? 1 - share : share);
  };
  for (let x = 0; x < width; x++) {
    const last = Math.min(window.width, (x + 1) * step);
    for (let channel = 0; channel < channels; channel++) {
      let sum = 0;
      let count = 0;
      for (let y = 0; y < window.height; y++)
        for (let from = x * step; from < last; from++, count++)
          sum += value(channel, y * window.width + from);
      out[x * channels + channel] = Math.max(0, Math.min(255, Math.round(sum / count)));
    }
  }
}
