import { crc32, deflateSync } from 'node:zlib';

/**
 * Portable Network Graphics (W3C/ISO 15948). Our own because map tiles are made while a person
 * drags the map, and the machine's zlib is several times faster than one in JavaScript.
 */
export interface PngImage {
  width: number;
  height: number;
  /** 1 grey, 2 grey and opacity, 3 colour, 4 colour and opacity. */
  channels: 1 | 2 | 3 | 4;
  /** Bits a channel, 8 unless said. */
  depth?: 8 | 16;
  /** Bytes in row order; 16-bit samples with the high byte first. */
  data: Uint8Array | Uint8ClampedArray;
}

const COLOUR_TYPE = { 1: 0, 2: 4, 3: 2, 4: 6 } as const;

export function encodeImage(image: PngImage): Uint8Array {
  const { width, height, channels, depth = 8 } = image;
  if (image.data.length !== (width * height * channels * depth) / 8) {
    throw new Error(
      `a ${width} x ${height} picture of ${channels} channels cannot have ${image.data.length} bytes`,
    );
  }
  const header = new Uint8Array(13);
  const view = new DataView(header.buffer);
  view.setUint32(0, width);
  view.setUint32(4, height);
  header.set([depth, COLOUR_TYPE[channels], 0, 0, 0], 8);
  const signature = Uint8Array.of(137, 80, 78, 71, 13, 10, 26, 10);
  const packed = deflateSync(filterRows(image), { level: 5 });
  return Buffer.concat([
    signature,
    chunk('IHDR', header),
    chunk('IDAT', packed),
    chunk('IEND', new Uint8Array(0)),
  ]);
}

/** Colour and opacity, written without the opacity where nothing is transparent. */
export function encodePng(rgba: Uint8ClampedArray | Uint8Array, width: number, height: number): Uint8Array {
  for (let at = 3; at < rgba.length; at += 4) {
    if (rgba[at] !== 255) return encodeImage({ width, height, channels: 4, data: rgba });
  }
  const data = new Uint8Array(width * height * 3);
  for (let from = 0, to = 0; from < rgba.length; from += 4) {
    data[to++] = rgba[from]!;
    data[to++] = rgba[from + 1]!;
    data[to++] = rgba[from + 2]!;
  }
  return encodeImage({ width, height, channels: 3, data });
}

/** Each row as the smaller of plain, difference to the left, difference to above (filters 0, 1 and 2). */
function filterRows({ width, height, channels, depth = 8, data }: PngImage): Uint8Array {
  const pixel = (channels * depth) / 8;
  const stride = width * pixel;
  const out = new Uint8Array((stride + 1) * height);
  const rows = [new Uint8Array(stride), new Uint8Array(stride), new Uint8Array(stride)] as const;
  for (let row = 0; row < height; row++) {
    const from = row * stride;
    const sums = [0, 0, 0];
    for (let at = 0; at < stride; at++) {
      const value = data[from + at]!;
      const left = at >= pixel ? data[from + at - pixel]! : 0;
      const above = row > 0 ? data[from + at - stride]! : 0;
      rows[0][at] = value;
      rows[1][at] = value - left;
      rows[2][at] = value - above;
      for (let filter = 0; filter < 3; filter++) {
        const byte = rows[filter as 0 | 1 | 2][at]!;
        sums[filter]! += byte < 128 ? byte : 256 - byte;
      }
    }
    const best = sums.indexOf(Math.min(...sums)) as 0 | 1 | 2;
    out[row * (stride + 1)] = best;
    out.set(rows[best], row * (stride + 1) + 1);
  }
  return out;
}

function chunk(type: string, body: Uint8Array): Uint8Array {
  const out = new Uint8Array(body.length + 12);
  const view = new DataView(out.buffer);
  view.setUint32(0, body.length);
  for (let at = 0; at < 4; at++) out[4 + at] = type.charCodeAt(at);
  out.set(body, 8);
  view.setUint32(body.length + 8, crc32(out.subarray(4, body.length + 8)));
  return out;
}
