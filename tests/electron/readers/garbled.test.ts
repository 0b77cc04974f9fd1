import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { Problem } from '../../../core/grid/problem.ts';
import { openCloud } from '../../../electron/readers/las.ts';
import { gridCloud } from '../../../electron/readers/points.ts';
import { openRaster, readWindow } from '../../../electron/readers/raster.ts';
import { readVectors } from '../../../electron/readers/vectors.ts';
import { las, laz } from './las-file.ts';
import { bytesOf, folderOf } from './support.ts';

/** Numerical Recipes' linear congruential generator, so that a failure can be run again. */
function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

const NAMES = [
  'float32-none-strips.tif',
  'int16-lzw-predictor2.tif',
  'float32-deflate-predictor3.tif',
  'float32-zstd-predictor3.tif',
  'float32-lerc-zstd.tif',
  'float32-bigtiff.tif',
  'rgb-jpeg-ycbcr.tif',
  'shapes.gpkg',
  'shapes.zip',
  'cloud.las',
  'cloud.laz',
];

const CLOUD = Array.from({ length: 120 }, (_, i) => ({
  x: 440000 + (i % 11),
  y: 4050000 - Math.floor(i / 11),
  z: 200 + i * 0.3,
  classification: 2,
}));
const FRAME = {
  epsg: 32616,
  west: 440000,
  north: 4050001,
  cellSize: 1,
  width: 12,
  height: 12,
  longitude: -87,
  latitude: 36,
  convergence: 0,
};

function original(name: string): Uint8Array {
  if (name === 'cloud.las') return las(CLOUD);
  return name === 'cloud.laz' ? laz(CLOUD, { format: 6 }) : bytesOf(name);
}

async function read(name: string, path: string): Promise<void> {
  if (/\.la[sz]$/.test(name)) {
    await gridCloud(await openCloud({ name, path }), FRAME, 1);
  } else if (name.endsWith('.tif')) {
    const raster = await openRaster({ name, path });
    try {
      await readWindow(raster, raster.levels[0]!, [0], { x: 0, y: 0, width: 64, height: 64 });
    } finally {
      await raster.bytes.close();
    }
  } else await readVectors({ name, path });
}

test('files with garbled bytes open or are refused as a Problem; nothing else is thrown', async () => {
  const folder = folderOf({});
  const outcomes = { opened: 0, refused: 0 };
  for (const name of NAMES)
    for (let seed = 1; seed <= 12; seed++) {
      const random = randomFrom(seed);
      const bytes = new Uint8Array(original(name));
      // Mostly in the header, where the meaning is.
      for (let i = 0; i < 1 + (seed % 4); i++) {
        const reach = random() < 0.7 ? Math.min(600, bytes.length) : bytes.length;
        bytes[Math.floor(random() * reach)] = Math.floor(random() * 256);
      }
      const path = join(folder, name);
      writeFileSync(path, seed % 6 === 0 ? bytes.subarray(0, Math.floor(random() * bytes.length)) : bytes);
      try {
        await read(name, path);
        outcomes.opened++;
      } catch (error) {
        expect(error, `${name}, seed ${seed}`).toBeInstanceOf(Problem);
        expect((error as Problem).message).toContain(name);
        outcomes.refused++;
      }
    }
  expect(outcomes.opened).toBeGreaterThan(5);
  expect(outcomes.refused).toBeGreaterThan(40);
});

test('the LAZ unpacker leaves no listener on the process', async () => {
  const listeners = () =>
    process.listenerCount('uncaughtException') + process.listenerCount('unhandledRejection');
  const before = listeners();
  const path = join(folderOf({ 'cloud.laz': laz(CLOUD) }), 'cloud.laz');
  const { groundPoints } = await gridCloud(await openCloud({ name: 'cloud.laz', path }), FRAME, 1);
  expect(groundPoints).toBe(120);
  expect(listeners()).toBe(before);
});
