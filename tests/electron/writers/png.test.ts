import { decode } from 'fast-png';
import { describe, expect, it } from 'vitest';
import { encodeImage, encodePng } from '../../../electron/writers/png.ts';
import { numbers } from './support.ts';

const random = numbers(11);

describe('a written PNG', () => {
  // fast-png reads what our own encoder writes.
  for (const channels of [1, 2, 3, 4] as const) {
    for (const depth of [8, 16] as const) {
      it(`of ${channels} channels and ${depth} bits comes back equal through fast-png`, () => {
        const [width, height] = [37, 21];
        const samples = Array.from({ length: width * height * channels }, (_, index) =>
          // Runs, slopes and noise, so that every row filter is chosen somewhere.
          index < 600 ? index % 256 : index < 1200 ? 7 : Math.floor(random() * 2 ** depth),
        );
        const data =
          depth === 8 ? Uint8Array.from(samples) : Uint8Array.from(samples.flatMap((v) => [v >> 8, v & 255]));
        const image = decode(encodeImage({ width, height, channels, depth, data }));
        expect([image.width, image.height, image.channels, image.depth]).toEqual([
          width,
          height,
          channels,
          depth,
        ]);
        expect([...image.data]).toEqual(samples);
      });
    }
  }

  it('leaves the opacity out where nothing is transparent', () => {
    const pixels = new Uint8ClampedArray(16).fill(255);
    expect(decode(encodePng(pixels, 2, 2)).channels).toBe(3);
    pixels[7] = 254;
    const seen = decode(encodePng(pixels, 2, 2));
    expect(seen.channels).toBe(4);
    expect([...seen.data]).toEqual([...pixels]);
  });

  it('says which bytes are missing', () => {
    expect(() => encodeImage({ width: 2, height: 2, channels: 3, data: new Uint8Array(11) })).toThrow(
      /2 x 2.*11 bytes/,
    );
  });
});
