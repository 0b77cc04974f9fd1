import GeoTIFF from 'geotiff';
import { Problem } from '../../core/grid/problem.ts';
import { type Level, levelOf, readBlock, type Samples } from './blocks.ts';
import { type LengthUnit, unitInWords } from './crs.ts';
import { crsOfGeoKeys, type GeoKeys, verticalUnitOfKeys } from './geokeys.ts';
import type { InputFile } from './inputs.ts';
import type { Affine, Placed } from './placement.ts';
import { refusal } from './refusal.ts';
import { EndsEarly, type FileBytes, openBytes } from './source.ts';

/** A GeoTIFF opened but not read: what its header says. */
export interface Raster extends Placed {
  file: InputFile;
  bytes: FileBytes;
  /** Finest first; each halves or more. */
  levels: Level[];
  bands: number;
  nodata: number | null;
  /** Unit of heights the file states, or null. */
  verticalUnit: LengthUnit | null;
  /** Values are stored * scale + offset, by band. */
  scale: number[];
  offset: number[];
  /** Index of a transparency band, or null. */
  alpha: number | null;
  /** TIFF PhotometricInterpretation: 3 is a palette, 6 YCbCr. */
  photometric: number;
  /** Red, green, blue 0..65535 by palette entry. */
  palette: Uint16Array | null;
  /** Largest value the file states for its samples, or null. */
  statedMax: number | null;
  /** Values outside are no data although the file does not say so; null takes all. */
  valid: [low: number, high: number] | null;
  /** Set once a read met a value outside `valid`. */
  metInvalid: boolean;
}

/**
 * Reads a GeoTIFF's header.
 * @param epsg code the person stated, used instead of the file's own keys
 * @param key of the answer that states it, named where the file states none
 * @throws Problem naming the file and the fix when it is not a GeoTIFF, damaged, or without projection.
 */
export async function openRaster(
  file: InputFile,
  epsg: number | null = null,
  key = 'elevationEpsg',
): Promise<Raster> {
  return opened(file, (image, keys) => ({
    affine: affineOf(image, keys, file.name),
    crs: crsOfGeoKeys(keys, file.name, epsg, key),
  }));
}

/** Pixels for coordinates, of a picture that lies nowhere. */
const NOWHERE: Pick<Placed, 'affine' | 'crs'> = {
  affine: [0, 1, 0, 0, 0, -1],
  crs: {
    epsg: null,
    name: 'none',
    proj4: '',
    geographic: false,
    utmZone: null,
    verticalUnit: null,
    note: null,
  },
};

/** The same for a picture that need not say where it lies: its place means nothing. @throws as `openRaster` */
export const openUnplaced = (file: InputFile): Promise<Raster> => opened(file, () => NOWHERE);

type Place = (image: Level['image'], keys: GeoKeys | null) => Pick<Placed, 'affine' | 'crs'>;

async function opened(file: InputFile, place: Place): Promise<Raster> {
  const bytes = await openBytes(file.path, file.name);
  try {
    return await describe(file, bytes, place);
  } catch (error) {
    await bytes.close();
    if (error instanceof Problem) throw error;
    if (error instanceof EndsEarly || error instanceof RangeError)
      throw refusal(`${file.name} ends before its header is complete: it was cut short or is damaged`, {
        file: file.name,
        fix: 'download or copy it again',
      });
    throw refusal(`${file.name} is not a GeoTIFF`, {
      file: file.name,
      fix: 'choose the .tif file itself (unzip it first if it came in a zip), or download it as GeoTIFF',
    });
  }
}

async function describe(file: InputFile, bytes: FileBytes, place: Place): Promise<Raster> {
  const tiff = await GeoTIFF.fromSource(bytes as never);
  const first = await tiff.getImage(0);
  const levels = [await levelOf(first, file.name)];
  const masks: Level[] = [];
  // A bounded walk: a damaged file may chain its directories in a circle.
  for (let index = 1; index < 64; index++) {
    const image = await tiff.getImage(index).catch(() => null);
    if (!image) break;
    // Bit 0: a smaller version of the first image. Bit 2: a mask of what another image shows.
    const kind = Number((await image.fileDirectory.loadValue('NewSubfileType')) ?? 0);
    const last = levels.at(-1)!;
    if (kind & 4) masks.push(await levelOf(image, file.name));
    else if (kind === 1 && image.getWidth() < last.width && image.getSamplesPerPixel() === last.bands)
      levels.push(await levelOf(image, file.name));
  }
  for (const level of levels)
    level.mask = masks.find(({ width, height }) => width === level.width && height === level.height) ?? null;
  const keys = first.getGeoKeys() as GeoKeys | null;
  const metadata = String((await first.fileDirectory.loadValue('GDAL_METADATA')) ?? '');
  const directory = first.fileDirectory;
  const { affine, crs } = place(first, keys);
  const bands = first.getSamplesPerPixel();
  const extra = directory.getValue('ExtraSamples') as ArrayLike<number> | undefined;
  const extras = extra ? Array.from(extra) : [];
  const alpha = extras.findIndex((kind) => kind === 1 || kind === 2);
  const palette = await directory.loadValue('ColorMap');
  const max = await directory.loadValue('MaxSampleValue');
  const numbers = (item: string, otherwise: number) =>
    Array.from({ length: bands }, (_, band) => Number(metadataItem(metadata, item, band) ?? otherwise));
  bytes.strict = true;
  const { width, height, bits } = levels[0]!;
  return {
    name: file.name,
    width,
    height,
    claimedBytes: (width * height * bands * bits) / 8,
    file,
    bytes,
    crs,
    affine,
    levels,
    bands,
    nodata: nodataOf(directory.getValue('GDAL_NODATA') as string | undefined, levels[0]!),
    verticalUnit:
      unitInWords(metadataItem(metadata, 'UNITTYPE', 0)) ??
      verticalUnitOfKeys(keys) ??
      crs.verticalUnit ??
      unitInWords(/\(([^)]*)\)/.exec(metadataItem(metadata, 'DESCRIPTION', 0) ?? '')?.[1] ?? null),
    scale: numbers('SCALE', 1),
    offset: numbers('OFFSET', 0),
    alpha: alpha < 0 ? null : bands - extras.length + alpha,
    photometric: Number(directory.getValue('PhotometricInterpretation') ?? 1),
    palette: palette ? Uint16Array.from(palette as ArrayLike<number>) : null,
    statedMax: max === undefined ? null : Number((max as ArrayLike<number>)[0] ?? max),
    valid: null,
    metInvalid: false,
  };
}

const metadataItem = (xml: string, item: string, band: number): string | null => {
  const found = new RegExp(`<Item name="${item}" sample="${band}"[^>]*>([^<]*)</Item>`).exec(xml);
  return found?.[1]?.trim() ?? null;
};

/** The no-data value as the samples hold it: a float file may state it with more digits than it stores. */
function nodataOf(text: string | undefined, level: Level): number | null {
  if (text === undefined) return null;
  const value = Number(text.replaceAll('\0', '').trim());
  return level.format === 3 && level.bits === 32 ? Math.fround(value) : value;
}

function affineOf(image: Level['image'], keys: GeoKeys | null, name: string): Affine {
  const directory = image.fileDirectory;
  const matrix = directory.getValue('ModelTransformation') as ArrayLike<number> | undefined;
  const scale = directory.getValue('ModelPixelScale') as ArrayLike<number> | undefined;
  const tie = directory.getValue('ModelTiepoint') as ArrayLike<number> | undefined;
  let affine: Affine | null = null;
  if (matrix && matrix.length >= 8)
    affine = [matrix[3]!, matrix[0]!, matrix[1]!, matrix[7]!, matrix[4]!, matrix[5]!];
  else if (scale && tie && tie.length >= 6)
    affine = [tie[3]! - tie[0]! * scale[0]!, scale[0]!, 0, tie[4]! + tie[1]! * scale[1]!, 0, -scale[1]!];
  if (
    !affine ||
    affine.some((value) => !Number.isFinite(value)) ||
    affine[1] * affine[5] - affine[2] * affine[4] === 0
  )
    throw refusal(`${name} does not say where on earth it lies`, {
      file: name,
      fix: 'download it again as a GeoTIFF with its projection; a plain picture cannot be placed',
    });
  // RasterPixelIsPoint: the tie point is the centre of a pixel.
  if (keys?.GTRasterTypeGeoKey === 2) {
    affine[0] -= (affine[1] + affine[2]) / 2;
    affine[3] -= (affine[4] + affine[5]) / 2;
  }
  return affine;
}

/** A part of one level, one array a band; NaN is no data. */
export interface Window {
  x: number;
  y: number;
  width: number;
  height: number;
  bands: Float32Array[];
}

/** Blocks kept between neighbouring reads of one level, so that a block is unpacked once. */
export type BlockCache = Map<string, Promise<Samples | null>>;

/**
 * Reads a window of one level, clipped to the level; scale and offset applied, nodata as NaN.
 * @throws Problem when the file ends early or is damaged.
 */
export async function readWindow(
  raster: Raster,
  level: Level,
  bands: number[],
  box: { x: number; y: number; width: number; height: number },
  cache: BlockCache = new Map(),
): Promise<Window> {
  const x0 = Math.max(0, box.x);
  const y0 = Math.max(0, box.y);
  const width = Math.max(0, Math.min(level.width, box.x + box.width) - x0);
  const height = Math.max(0, Math.min(level.height, box.y + box.height) - y0);
  const out: Window = {
    x: x0,
    y: y0,
    width,
    height,
    bands: bands.map(() => new Float32Array(width * height)),
  };
  if (width === 0 || height === 0) return out;
  const fresh: BlockCache = new Map();
  const [left, right] = [Math.floor(x0 / level.blockWidth), Math.floor((x0 + width - 1) / level.blockWidth)];
  const [top, bottom] = [
    Math.floor(y0 / level.blockHeight),
    Math.floor((y0 + height - 1) / level.blockHeight),
  ];
  for (let row = top; row <= bottom; row++)
    for (let column = left; column <= right; column++)
      for (let i = 0; i < bands.length; i++) {
        const band = bands[i]!;
        const key = `${row} ${column} ${level.planar ? band : 0}`;
        const request =
          fresh.get(key) ??
          cache.get(key) ??
          readBlock(raster.bytes, level, column, row, band, raster.file.name);
        fresh.set(key, request);
        copyBlock(raster, level, await request, column, row, band, out, out.bands[i]!);
      }
  if (level.mask) {
    const plain: Raster = { ...raster, nodata: null, scale: [1], offset: [0], valid: null };
    const shown = await readWindow(plain, level.mask, [0], { x: x0, y: y0, width, height });
    shown.bands[0]!.forEach((value, i) => {
      if (value === 0) for (const cells of out.bands) cells[i] = Number.NaN;
    });
  }
  cache.clear();
  for (const [key, value] of fresh) cache.set(key, value);
  return out;
}

function copyBlock(
  raster: Raster,
  level: Level,
  samples: Samples | null,
  column: number,
  row: number,
  band: number,
  out: Window,
  target: Float32Array,
): void {
  const left = Math.max(out.x, column * level.blockWidth);
  const right = Math.min(out.x + out.width, (column + 1) * level.blockWidth);
  const top = Math.max(out.y, row * level.blockHeight);
  const bottom = Math.min(out.y + out.height, (row + 1) * level.blockHeight);
  const stride = level.planar ? 1 : level.bands;
  const first = level.planar ? 0 : band;
  const scale = raster.scale[band]!;
  const offset = raster.offset[band]!;
  const nodata = raster.nodata;
  const [low, high] = raster.valid ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (let y = top; y < bottom; y++) {
    let at = (y - out.y) * out.width + left - out.x;
    if (!samples) {
      target.fill(Number.NaN, at, at + right - left);
      continue;
    }
    let from =
      ((y - row * level.blockHeight) * level.blockWidth + left - column * level.blockWidth) * stride + first;
    for (let x = left; x < right; x++, at++, from += stride) {
      const stored = samples[from]!;
      const value = stored * scale + offset;
      if (stored === nodata || Number.isNaN(stored)) target[at] = Number.NaN;
      else if (value < low || value > high) {
        target[at] = Number.NaN;
        raster.metInvalid = true;
      } else target[at] = value;
    }
  }
}
