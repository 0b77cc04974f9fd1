/**
 * The bones of a TIFF 6.0 file: one sample a pixel, little-endian, the directories before the data.
 * GeoTIFFs are written tiled and packed; the tiles of a gridded coverage in a GeoPackage must be plain strips.
 */

export interface SampleType {
  format: 'uint' | 'int' | 'float';
  bits: 8 | 16 | 32;
}

export interface TiffTag {
  tag: number;
  kind: 'ascii' | 'short' | 'long' | 'double';
  values: number[] | string;
}

export interface TiffImage {
  width: number;
  height: number;
  type: SampleType;
  /** 1 none, 5 LZW, 8 deflate. */
  compression: 1 | 5 | 8;
  predictor: 1 | 2 | 3;
  /** Packed square tiles in row order, or one strip. */
  block: { tile: number; data: Uint8Array[] } | { strip: Uint8Array };
  /** Colours by value, for 8-bit samples. */
  palette?: Record<number, readonly [number, number, number]> | null;
  tags?: TiffTag[];
}

const KIND = {
  ascii: { code: 2, size: 1 },
  short: { code: 3, size: 2 },
  long: { code: 4, size: 4 },
  double: { code: 12, size: 8 },
};
const FORMAT = { uint: 1, int: 2, float: 3 };

/** One image as a file of its own. */
export const encodeTiff = (image: TiffImage): Uint8Array => encodeTiffs([image]);

/**
 * An image and its overviews, each smaller than the one before, in the order that lets a reader on the far side of a
 * network take only what it needs (OGC Cloud Optimized GeoTIFF, 21-026): every directory at the start of the file, then
 * the data of the smallest overview up to that of the image.
 */
export function encodeTiffs(images: readonly TiffImage[]): Uint8Array {
  const laid = images.map((image, index) => ({
    blocks: 'strip' in image.block ? [image.block.strip] : image.block.data,
    tags: tagsOf(image, index > 0),
  }));
  // A directory's own size does not depend on the offsets in it, so it is laid out once with zeros to learn it.
  let at = HEADER;
  const starts = laid.map(({ blocks, tags }) => {
    const start = at;
    at += layDirectory(tags(blocks.map(() => 0)), start, 0).byteLength;
    return start;
  });
  const offsets = laid.map((): number[] => []);
  for (let index = laid.length - 1; index >= 0; index--) {
    offsets[index] = laid[index]!.blocks.map((block) => {
      const offset = at;
      at += even(block.byteLength);
      return offset;
    });
  }
  const file = new Uint8Array(at);
  const view = new DataView(file.buffer);
  view.setUint16(0, 0x4949, true);
  view.setUint16(2, 42, true);
  view.setUint32(4, HEADER, true);
  for (const [index, { blocks, tags }] of laid.entries()) {
    file.set(layDirectory(tags(offsets[index]!), starts[index]!, starts[index + 1] ?? 0), starts[index]!);
    for (const [k, block] of blocks.entries()) file.set(block, offsets[index]![k]!);
  }
  return file;
}

const HEADER = 8;

/** The tags of an image, once it is known where its data lie. */
function tagsOf(image: TiffImage, isOverview: boolean): (offsets: number[]) => TiffTag[] {
  const blocks = 'strip' in image.block ? [image.block.strip] : image.block.data;
  const long = (tag: number, ...values: number[]): TiffTag => ({ tag, kind: 'long', values });
  const short = (tag: number, ...values: number[]): TiffTag => ({ tag, kind: 'short', values });
  const tags: TiffTag[] = [
    ...(isOverview ? [long(254, 1)] : []),
    long(256, image.width),
    long(257, image.height),
    short(258, image.type.bits),
    short(259, image.compression),
    short(262, image.palette ? 3 : 1),
    short(277, 1),
    short(284, 1),
    short(339, FORMAT[image.type.format]),
    { tag: 305, kind: 'ascii', values: 'Hollowgate' },
    ...(image.tags ?? []),
  ];
  if (image.predictor !== 1) tags.push(short(317, image.predictor));
  if (image.palette) tags.push(short(320, ...paletteEntries(image.palette)));
  const sizes = blocks.map((block) => block.byteLength);
  return (offsets) =>
    [
      ...tags,
      ...('strip' in image.block
        ? [long(273, ...offsets), long(278, image.height), long(279, ...sizes)]
        : [
            short(322, image.block.tile),
            short(323, image.block.tile),
            long(324, ...offsets),
            long(325, ...sizes),
          ]),
    ].sort((a, b) => a.tag - b.tag);
}

function paletteEntries(colours: Record<number, readonly [number, number, number]>): number[] {
  const entries = new Array<number>(768).fill(0);
  for (const [value, colour] of Object.entries(colours)) {
    for (let channel = 0; channel < 3; channel++)
      entries[channel * 256 + Number(value)] = colour[channel]! * 257;
  }
  return entries;
}

/** A directory that stands at an offset, and the values that do not fit in it. */
function layDirectory(tags: TiffTag[], start: number, next: number): Uint8Array {
  const fields = tags.map(({ tag, kind, values }) => {
    const bytes = packValues(kind, values);
    return { tag, kind, bytes, count: bytes.byteLength / KIND[kind].size };
  });
  let extra = 2 + fields.length * 12 + 4;
  const size = fields.reduce(
    (sum, { bytes }) => sum + (bytes.byteLength > 4 ? even(bytes.byteLength) : 0),
    extra,
  );
  const file = new Uint8Array(even(size));
  const view = new DataView(file.buffer);
  view.setUint16(0, fields.length, true);
  view.setUint32(extra - 4, next, true);
  fields.forEach(({ tag, kind, bytes, count }, index) => {
    const at = 2 + index * 12;
    view.setUint16(at, tag, true);
    view.setUint16(at + 2, KIND[kind].code, true);
    view.setUint32(at + 4, count, true);
    if (bytes.byteLength <= 4) {
      file.set(bytes, at + 8);
    } else {
      view.setUint32(at + 8, start + extra, true);
      file.set(bytes, extra);
      extra += even(bytes.byteLength);
    }
  });
  return file;
}

const even = (size: number): number => size + (size & 1);

function packValues(kind: TiffTag['kind'], values: number[] | string): Uint8Array {
  if (typeof values === 'string') return new TextEncoder().encode(`${values}\0`);
  const bytes = new Uint8Array(values.length * KIND[kind].size);
  const view = new DataView(bytes.buffer);
  values.forEach((value, index) => {
    if (kind === 'short') view.setUint16(index * 2, value, true);
    else if (kind === 'long') view.setUint32(index * 4, value, true);
    else view.setFloat64(index * 8, value, true);
  });
  return bytes;
}
