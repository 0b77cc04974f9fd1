import { readFileSync, truncateSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { decode } from 'fast-png';
import { expect, it } from 'vitest';
import { readScan } from '../../../electron/readers/scan.ts';
import { outside } from '../../outside.ts';
import { folderOf } from './support.ts';

const FOLDER = join(dirname(fileURLToPath(import.meta.url)), '../../reference/fixtures/readers/scans');
const scan = (name: string) => readScan({ name, path: join(FOLDER, name) });
const bytesOf = (name: string) => readFileSync(join(FOLDER, name));

// Pillow and NumPy, tests/reference/readers/make_scans.py.
const expected = JSON.parse(readFileSync(join(FOLDER, 'expected.json'), 'utf8')) as {
  pixels: Record<string, number[][][]>;
  wide: number[][];
};

it('shows grey, ink, palette and colour as Pillow does', async () => {
  const check = outside({
    room: 'readers',
    method: 'Scans of TIFF as they are shown',
    source: 'Pillow',
    unit: 'of 255',
    allowed: 1,
  });
  for (const [name, rows] of Object.entries(expected.pixels)) {
    const { type, bytes, width, height, note } = await scan(name);
    expect([type, width, height, note], name).toEqual(['image/png', 41, 30, null]);
    const { data, channels } = decode(bytes);
    expect(channels, name).toBe(rows[0]![0]!.length);
    rows.flat(2).forEach((value, k) => {
      check.compare(data[k]!, value);
    });
  }
  check.done();
});

it('keeps a long scan coarser, each pixel the mean of those it stands for, and says so', async () => {
  const { bytes, width, height, note } = await scan('wide.tif');
  expect([width, height]).toEqual([3000, 3]);
  expect(note).toContain('3000 × 3 pixels');
  const { data } = decode(bytes);
  const check = outside({
    room: 'readers',
    method: 'Long scans kept coarser',
    source: 'NumPy block means',
    unit: 'of 255',
    allowed: 0.51,
  });
  expected.wide.forEach((row, y) => {
    row.forEach((value, k) => {
      check.compare(data[y * 3000 + k * 100]!, value);
    });
  });
  check.done();
});

it('keeps JPEG and PNG as they are, and knows their size as they are shown', async () => {
  // 41 by 30 as stored; orientation 6 is shown turned by a quarter (Exif 2.32).
  expect(await scan('on-its-side.jpg')).toMatchObject({ type: 'image/jpeg', width: 30, height: 41 });
  expect(await scan('stepwise.jpg')).toMatchObject({ width: 41, height: 30 });
  const png = await scan('plain.png');
  expect(png).toMatchObject({ type: 'image/png', width: 41, height: 30, note: null });
  expect(Buffer.from(png.bytes).equals(bytesOf('plain.png'))).toBe(true);
});

it('refuses what is no picture, is damaged or too large, in words that name the file', async () => {
  const png = bytesOf('plain.png');
  const huge = Buffer.from(png);
  huge.writeUInt32BE(30_000, 16);
  huge.writeUInt32BE(30_000, 20);
  const folder = folderOf({
    'plat.pdf': Buffer.from('%PDF-1.7 and so on'),
    'short.png': png.subarray(0, 1200),
    'short.jpg': bytesOf('stepwise.jpg').subarray(0, 100),
    'huge.png': huge,
    'heavy.jpg': bytesOf('stepwise.jpg'),
    'empty.png': new Uint8Array(),
    'cut.tif': bytesOf('colour-tiled.tif').subarray(0, 1500),
  });
  truncateSync(join(folder, 'heavy.jpg'), 41e6);
  const refused = (name: string) => expect(readScan({ name, path: join(folder, name) })).rejects;
  await refused('plat.pdf').toThrow(/^plat\.pdf is not a picture/);
  await refused('short.png').toThrow(/damaged/);
  await refused('short.jpg').toThrow(/damaged/);
  await refused('huge.png').toThrow(/30000 × 30000 pixels/);
  await refused('heavy.jpg').toThrow(/41 MB/);
  await refused('empty.png').toThrow(/empty/);
  await refused('cut.tif').toThrow(/^cut\.tif/);
  await refused('gone.png').toThrow(/not there/);
  await expect(scan('print-colours.tif')).rejects.toThrow(/colours of a kind/);
});
