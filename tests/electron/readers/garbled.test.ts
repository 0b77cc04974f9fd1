import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { Problem } from '../../../core/grid/problem.ts';
import { openRaster, readWindow } from '../../../electron/readers/raster.ts';
import { readVectors } from '../../../electron/readers/vectors.ts';
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
];

test('files with garbled bytes open or are refused as a Problem; nothing else is thrown', async () => {
  const folder = folderOf({});
  const outcomes = { opened: 0, refused: 0 };
  for (const name of NAMES)
    for (let seed = 1; seed <= 12; seed++) {
      const random = randomFrom(seed);
      const bytes = new Uint8Array(bytesOf(name));
      // Mostly in the header, where the meaning is.
      for (let i = 0; i < 1 + (seed % 4); i++) {
        const reach = random() < 0.7 ? Math.min(600, bytes.length) : bytes.length;
        bytes[Math.floor(random() * reach)] = Math.floor(random() * 256);
      }
      const path = join(folder, name);
      writeFileSync(path, seed % 6 === 0 ? bytes.subarray(0, Math.floor(random() * bytes.length)) : bytes);
      try {
        if (name.endsWith('.tif')) {
          const raster = await openRaster({ name, path });
          try {
            await readWindow(raster, raster.levels[0]!, [0], { x: 0, y: 0, width: 64, height: 64 });
          } finally {
            await raster.bytes.close();
          }
        } else await readVectors({ name, path });
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
