import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { clipBegan } from '../../../electron/readers/clip.ts';
import { readPhoto } from '../../../electron/readers/photo.ts';
import { readVectors } from '../../../electron/readers/vectors.ts';
import { fixture, folderOf, problemOf } from './support.ts';

/** Written by Pillow with the tags of Exif 2.32; tests/reference/readers/make_photos.py. */
const { cases } = JSON.parse(readFileSync(fixture('photos/photos.json').path, 'utf8')) as {
  cases: Record<string, { lat?: number; lon?: number; direction?: number; taken?: string; offset?: string }>;
};
const photo = (name: string) => readPhoto({ name, path: fixture(`photos/${name}`).path });

describe('photos', () => {
  it('finds where, when and which way as another program wrote them', () => {
    const { lat, lon, direction } = cases['placed.jpg']!;
    const { position, bearing, taken, bytes } = photo('placed.jpg');
    // Thousandths of a second of arc were written: 0.03 m.
    expect(position![0]).toBeCloseTo(lon!, 6);
    expect(position![1]).toBeCloseTo(lat!, 6);
    expect(bearing).toBe(direction);
    expect(new Date(taken!).toISOString()).toBe('2026-10-31T11:12:05.000Z');
    expect(bytes.length).toBe(readFileSync(fixture('photos/placed.jpg').path).length);
  });

  it('leaves out a bearing from magnetic north, and a time without its offset', () => {
    const { position, bearing, taken } = photo('magnetic.jpg');
    expect(position![0]).toBeCloseTo(150.25, 6);
    expect(position![1]).toBeCloseTo(-33.5, 6);
    expect([bearing, taken]).toEqual([null, null]);
  });

  it('says nothing where the photo says nothing', () => {
    expect(photo('bare.jpg')).toMatchObject({ position: null, bearing: null, taken: null });
    expect(photo('timed.jpg').position).toBeNull();
  });

  it('refuses what is no photo, in plain words', async () => {
    const folder = folderOf({ 'a.jpg': 'no photo at all', 'b.jpg': '' });
    const read = (name: string) => async () => readPhoto({ name, path: join(folder, name) });
    expect((await problemOf(read('a.jpg'))).message).toBe('a.jpg is not a photo that can be read.');
    expect((await problemOf(read('b.jpg'))).message).toBe('b.jpg is empty.');
  });
});

/** A box of an ISO base media file: size, type, content (ISO/IEC 14496-12, 4.2). */
const box = (type: string, ...content: Uint8Array[]): Uint8Array => {
  const inside = Buffer.concat(content);
  const head = Buffer.alloc(8);
  head.writeUInt32BE(8 + inside.length);
  head.write(type, 4, 'latin1');
  return Buffer.concat([head, inside]);
};
/** A movie header (8.2.2) of version 0 or 1, begun so many seconds after 1904-01-01. */
const header = (seconds: number, version: 0 | 1): Uint8Array => {
  const body = Buffer.alloc(version === 0 ? 100 : 112);
  body[0] = version;
  if (version === 0) body.writeUInt32BE(seconds, 4);
  else body.writeBigUInt64BE(BigInt(seconds), 4);
  return box('mvhd', body);
};

describe('clips', () => {
  // 66 years of which 17 are leap years lie between the two epochs.
  const EPOCH = (66 * 365 + 17) * 86_400;
  const time = Date.UTC(2026, 9, 31, 11, 15, 30);
  const began = (name: string, ...boxes: Uint8Array[]) => {
    const folder = folderOf({ [name]: Buffer.concat(boxes) });
    return clipBegan({ name, path: join(folder, name) });
  };
  const start = box('ftyp', Buffer.from('isom0000'));

  it.each([0, 1] as const)(
    'finds when it was begun in a header of version %i, before or after the data',
    (version) => {
      const moov = box('moov', header(time / 1000 + EPOCH, version));
      const data = box('mdat', Buffer.alloc(5000));
      expect(began('a.mp4', start, moov, data)).toBe(time);
      expect(began('b.mov', start, data, moov)).toBe(time);
    },
  );

  it('knows a recorder that set no time', () => {
    expect(began('a.m4a', start, box('moov', header(0, 0)))).toBeNull();
  });

  it('refuses a file that is cut short or another kind', async () => {
    for (const bytes of [[start], [Buffer.from('RIFF....WAVE')], [start, Buffer.from([0, 0, 0, 1])]])
      expect((await problemOf(async () => began('a.mp4', ...bytes))).message).toMatch(/cut short/);
  });
});

describe('walks', () => {
  const track = (inside: string) =>
    `<?xml version="1.0"?><gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1">${inside}</gpx>`;
  const read = (inside: string) => {
    const folder = folderOf({ 'today.gpx': track(inside) });
    return readVectors({ name: 'today.gpx', path: join(folder, 'today.gpx') });
  };

  it('keeps each segment with when its points were reached', async () => {
    const point = (lon: number, time: string) =>
      `<trkpt lat="36.5" lon="${lon}"><time>${time}</time></trkpt>`;
    const { features } = await read(
      `<trk><trkseg>${point(-87, '2026-10-31T11:00:00Z')}${point(-87.01, '2026-10-31T11:10:30Z')}</trkseg>` +
        `<trkseg>${point(-87.1, '2026-10-31T12:00:00Z')}${point(-87.2, '2026-10-31T12:00:10Z')}</trkseg></trk>`,
    );
    expect(
      features.map(({ otherwise, properties }) => [otherwise, properties.started, properties.seconds]),
    ).toEqual([
      ['walk', '2026-10-31T11:00:00.000Z', '0,630'],
      ['walk', '2026-10-31T12:00:00.000Z', '0,10'],
    ]);
  });

  it('thins a long one evenly and keeps its end', async () => {
    const points = Array.from({ length: 5000 }, (_, i) => `<trkpt lat="36.5" lon="${-87 + i * 1e-5}"/>`);
    const { features } = await read(`<trk><trkseg>${points.join('')}</trkseg></trk>`);
    const { coordinates } = features[0]!.geometry as GeoJSON.LineString;
    expect(coordinates.length).toBeLessThanOrEqual(1201);
    expect(coordinates.at(-1)![0]).toBeCloseTo(-87 + 4999e-5, 9);
    expect(features[0]!.properties.started).toBeUndefined();
  });
});
