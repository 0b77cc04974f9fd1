import { join } from 'node:path';
import { expect, test } from 'vitest';
import { openCloud } from '../../../electron/readers/las.ts';
import { gridCloud } from '../../../electron/readers/points.ts';
import { stressReaders } from '../../stress/readers.ts';
import { laz } from './las-file.ts';
import { folderOf } from './support.ts';

test('files with garbled bytes open or are refused as a Problem that names them; nothing crashes, hangs or swells', async () => {
  // `npm run stress` reads 5,000.
  const result = await stressReaders(400, 3072);
  expect(result.faults).toEqual([]);
  expect(result.read).toBeGreaterThan(40);
  expect(result.refused).toBeGreaterThan(100);
  // Measured where the operating system counts it in kB; 1 GB is what a reading may take.
  if (process.platform === 'linux') expect(result.held).toBeLessThan(1e9);
});

test('the LAZ unpacker leaves no listener on the process', async () => {
  const cloud = Array.from({ length: 120 }, (_, i) => ({
    x: 440000 + (i % 11),
    y: 4050000 - Math.floor(i / 11),
    z: 200 + i * 0.3,
    classification: 2,
  }));
  const frame = {
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
  const listeners = () =>
    process.listenerCount('uncaughtException') + process.listenerCount('unhandledRejection');
  const before = listeners();
  const path = join(folderOf({ 'cloud.laz': laz(cloud) }), 'cloud.laz');
  const { groundPoints } = await gridCloud(await openCloud({ name: 'cloud.laz', path }), frame, 1);
  expect(groundPoints).toBe(120);
  expect(listeners()).toBe(before);
});
