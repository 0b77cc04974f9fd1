import { existsSync, mkdirSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { gzipSync, strToU8, zipSync } from 'fflate';
import { expect, test } from 'vitest';
import { checkJpegSize, checkLercSize } from '../../../electron/readers/block-size.ts';
import { readVectors } from '../../../electron/readers/vectors.ts';
import { readWind } from '../../../electron/readers/wind.ts';
import { unpackBackup } from '../../../electron/store/backup.ts';
import { folderOf, problemOf } from './support.ts';

const file = (name: string, bytes: string | Uint8Array) => ({
  name,
  path: join(folderOf({ [name]: bytes }), name),
});

test('a zip that unpacks to gigabytes is refused before it is unpacked', async () => {
  const bomb = zipSync({ 'doc.kml': new Uint8Array(310e6) });
  expect(bomb.length).toBeLessThan(2e6);
  const problem = await problemOf(() => readVectors(file('bomb.kmz', bomb)));
  expect(problem.message).toContain('bomb.kmz unpacks to more');
});

test('a zip that claims to be small but is not is stopped at what it claimed', async () => {
  const bomb = zipSync({ 'doc.kml': new Uint8Array(50e6) });
  const view = new DataView(bytesOf(bomb));
  // The size unpacked, in the local header and in the directory at the end (APPNOTE 4.3.7 and 4.3.12).
  view.setUint32(22, 1000, true);
  const directory = view.getUint32(bomb.length - 6, true);
  view.setUint32(directory + 24, 1000, true);
  const before = process.memoryUsage().arrayBuffers;
  await problemOf(() => readVectors(file('liar.kmz', new Uint8Array(view.buffer))));
  expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(20e6);
});

test('a gzip of wind that unpacks to more than any record is refused', async () => {
  const problem = await problemOf(() => readWind([file('wind-2021.gz', gzipSync(new Uint8Array(120e6)))]));
  expect(problem.message).toContain('wind-2021.gz');
});

test('entities that unfold into one another are refused in KML, GPX and inside a KMZ', async () => {
  const laughs = `<?xml version="1.0"?><!DOCTYPE kml [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]><kml>&b;</kml>`;
  for (const given of [
    file('laughs.kml', laughs),
    file('laughs.gpx', laughs.replaceAll('kml', 'gpx')),
    file('laughs.kmz', zipSync({ 'doc.kml': strToU8(laughs) })),
  ])
    expect((await problemOf(() => readVectors(given))).message).toMatch(/document type/);
});

test('names in a back-up that climb out of the folder write nothing outside it', async () => {
  const zip = zipSync(
    {
      '../outside.gpkg': strToU8('x'),
      'properties/../../outside.gpkg': strToU8('x'),
      'properties/1.gpkg': strToU8('x'),
      'shelf.json': strToU8(
        JSON.stringify([{ entry: '../outside.gpkg', name: '../outside', client: '', archived: false }]),
      ),
    },
    { level: 0 },
  );
  const { path } = file('shelf.zip', zip);
  const into = join(dirname(path), 'deep', 'in');
  mkdirSync(into, { recursive: true });
  await problemOf(() => unpackBackup(path, into, () => {}));
  expect(existsSync(join(dirname(path), 'outside.gpkg'))).toBe(false);
  expect(readdirSync(join(dirname(path), 'deep'))).toEqual(['in']);
  expect(readdirSync(into).every((name) => /^\d+\.gpkg$/.test(name))).toBe(true);
});

test('pictures inside a block that claim to be larger than it are refused before they are unpacked', () => {
  // Start of image and a baseline frame header, 8 bits, by ITU-T T.81 B.2.2.
  const jpeg = (high: number, wide: number) =>
    Uint8Array.of(255, 216, 255, 192, 0, 11, 8, high >> 8, high & 255, wide >> 8, wide & 255, 1, 1, 17, 0);
  expect(() => checkJpegSize(jpeg(256, 256), 256, 256)).not.toThrow();
  expect(() => checkJpegSize(jpeg(65535, 65535), 256, 256)).toThrow('65535 x 65535');
  const lerc = new Uint8Array(40);
  lerc.set(strToU8('Lerc2 '));
  const view = new DataView(lerc.buffer);
  view.setInt32(6, 4, true);
  view.setInt32(14, 256, true);
  view.setInt32(18, 256, true);
  expect(() => checkLercSize(lerc, 256, 256)).not.toThrow();
  view.setInt32(18, 2_000_000_000, true);
  expect(() => checkLercSize(lerc, 256, 256)).toThrow('2000000000 x 256');
});

function bytesOf(bytes: Uint8Array): ArrayBuffer {
  return new Uint8Array(bytes).buffer;
}
