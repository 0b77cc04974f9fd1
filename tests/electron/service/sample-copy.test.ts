import { mkdirSync, mkdtempSync, readdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import type { PropertySummary, Service } from '../../../electron/service/contract.ts';
import { createService } from '../../../electron/service/service.ts';

let dataFolder: string;
let service: Service;
const start = async () => {
  service = await createService({ dataFolder, host: 'loopback', version: '0', workers: 1 });
};
const openSample = async () => {
  const summary = (await service.handle('property.openSample', {}, null)) as PropertySummary;
  await service.handle('scout.cancel', {}, null);
  return summary;
};
const copies = () => readdirSync(join(dataFolder, 'properties')).filter((name) => name.endsWith('.gpkg'));

beforeEach(async () => {
  dataFolder = mkdtempSync(join(tmpdir(), 'sample-copy-'));
  await start();
});
afterEach(async () => {
  await service.close();
  rmSync(dataFolder, { recursive: true, force: true });
});

test('one copy of the sample serves every start and keeps what was changed in it', async () => {
  await openSample();
  await service.handle('settings.change', { patch: { units: 'metric' } }, null);
  // Asked for again while it is open, it stays as it is.
  expect((await openSample()).units).toBe('metric');
  await service.close();
  await start();
  const again = await openSample();
  expect([again.units, again.canUndo, copies()]).toEqual(['metric', true, ['Sample invented.gpkg']]);
  // So does a property opened by its path a second time.
  const path = join(dataFolder, 'properties', copies()[0]!);
  expect(await service.handle('property.open', { path }, null)).toMatchObject({ units: 'metric' });
  await service.handle('scout.cancel', {}, null);
});

test('a copy that is damaged, or older than the sample, is left alone and another made once', async () => {
  const folder = join(dataFolder, 'properties');
  mkdirSync(folder);
  for (const name of ['Sample invented.gpkg', 'Sample invented 2.gpkg']) {
    writeFileSync(join(folder, name), 'no longer a property');
  }
  utimesSync(join(folder, 'Sample invented 2.gpkg'), 0, 0);
  expect((await openSample()).invented).toBe(true);
  await service.close();
  await start();
  expect((await openSample()).invented).toBe(true);
  expect(copies()).toHaveLength(3);
});
