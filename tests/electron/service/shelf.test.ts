import { mkdirSync, mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { zipSync } from 'fflate';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type {
  Answer,
  PropertySummary,
  RequestName,
  RequestParams,
  Service,
} from '../../../electron/service/contract.ts';
import { createService } from '../../../electron/service/service.ts';
import { folderOf, tiff } from '../readers/support.ts';

let dataFolder: string;
let service: Service;
const ask = <N extends RequestName>(name: N, params: RequestParams<N>) =>
  service.handle(name, params, null) as Promise<Answer<N>>;

let farm: PropertySummary;
beforeAll(async () => {
  dataFolder = mkdtempSync(join(tmpdir(), 'shelf-'));
  service = await createService({ dataFolder, host: 'loopback', version: '0', workers: 1 });
  const path = folderOf({ 'elevation.tif': tiff(120, 100, (x, y) => 200 + 0.3 * x + 5 * Math.sin(y / 9)) });
  farm = (await ask('property.open', { path }))!;
  await ask('scout.cancel', {});
  const { west, north } = farm.frame;
  const ring = [
    [west + 200, north - 200],
    [west + 900, north - 200],
    [west + 900, north - 700],
    [west + 200, north - 200],
  ] as [number, number][];
  await ask('features.put', {
    feature: {
      id: 'line',
      kind: 'boundary',
      status: 'existing',
      name: null,
      geometry: { type: 'Polygon', coordinates: [ring] },
      attributes: {},
      source: 'drawn',
    },
  });
  await ask('scout.cancel', {});
});
afterAll(async () => {
  await service.close();
  rmSync(dataFolder, { recursive: true, force: true });
});

test('what was opened stands on the shelf with its outline, its client and whether it is put away', async () => {
  const [row] = await ask('shelf.list', {});
  expect(row).toMatchObject({ client: '', archived: false, there: true, invented: false });
  // 1200 m a side: the ring's first corner stands a sixth in from both edges.
  expect(row!.outline[0]![0]).toEqual([0.167, 0.167]);
  const id = row!.id;
  await ask('shelf.note', { id, client: 'Example client' });
  expect(await ask('shelf.note', { id, archived: true })).toMatchObject([
    { client: 'Example client', archived: true },
  ]);
  // The open property is not taken off the shelf.
  await expect(ask('shelf.forget', { id })).rejects.toThrow('stays on the shelf');
});

test('a nameless copy keeps the ground and no word that could tell whose it is, not even in free pages', async () => {
  const secret = 'Zebulon Quagmire';
  await ask('features.put', {
    feature: {
      id: 'told',
      kind: 'stand',
      status: 'existing',
      name: `Stand of ${secret}`,
      geometry: { type: 'Point', coordinates: [farm.frame.west + 500, farm.frame.north - 500] },
      attributes: { note: secret, seatHeight: 4 },
      source: `${secret}.gpx`,
    },
  });
  await ask('settings.change', { patch: { name: `${secret}'s farm` } });
  await ask('scout.cancel', {});
  const [row] = await ask('shelf.list', {});
  const { path } = await ask('shelf.copy', { id: row!.id, nameless: true });
  expect(readFileSync(row!.path).includes(secret)).toBe(true);
  expect(readFileSync(path).includes('Quagmire')).toBe(false);
  const db = new Database(path, { readonly: true });
  const stands = db
    .prepare("SELECT attributes, name FROM features WHERE kind = 'stand' ORDER BY fid DESC")
    .all();
  const count = (file: string) => {
    const other = new Database(file, { readonly: true });
    const found = other.prepare('SELECT count(*) AS n FROM grid_elevation').get();
    other.close();
    return found;
  };
  expect(stands[0]).toEqual({ attributes: '{"seatHeight":4}', name: null });
  db.close();
  const plain = await ask('shelf.copy', { id: row!.id, nameless: false });
  expect(count(path)).toEqual(count(plain.path));
});

test('a back-up of everything comes back, property by property, beside what is there', async () => {
  const before = await ask('shelf.list', {});
  const { path, properties, bytes } = await ask('shelf.backup', {});
  expect(properties).toBe(before.length);
  expect(readFileSync(path)).toHaveLength(bytes);
  expect(await ask('shelf.restore', { path })).toEqual({ properties });
  const after = await ask('shelf.list', {});
  expect(after).toHaveLength(2 * before.length);
  const names = (rows: typeof after) => rows.map(({ name }) => name).sort();
  expect(names(after)).toEqual(names([...before, ...before]));
  expect(after.every(({ there }) => there)).toBe(true);
});

test('what is no back-up, is cut short or holds foreign names is refused, and the shelf stays as it was', async () => {
  const folder = join(dataFolder, 'wrong');
  mkdirSync(folder);
  const before = await ask('shelf.list', {});
  const { path } = await ask('shelf.backup', {});
  truncateSync(path, readFileSync(path).length - 100_000);
  const text = join(folder, 'text.zip');
  writeFileSync(text, 'not a zip');
  const foreign = join(folder, 'foreign.zip');
  const list = [{ entry: '../../up.gpkg', name: '../../up.gpkg', client: '', archived: false }];
  writeFileSync(
    foreign,
    zipSync({ '../../up.gpkg': new Uint8Array(9), 'shelf.json': Buffer.from(JSON.stringify(list)) }),
  );
  for (const wrong of [path, text, foreign])
    await expect(ask('shelf.restore', { path: wrong })).rejects.toThrow('not a back-up');
  await expect(ask('shelf.restore', { path: join(folder, 'none.zip') })).rejects.toThrow('no back-up at');
  expect(await ask('shelf.list', {})).toEqual(before);
});

test('a file that was moved is told apart from one that is there', async () => {
  const rows = await ask('shelf.list', {});
  const copy = rows.find(({ path }) => path.includes('Nameless'))!;
  rmSync(copy.path);
  const found = (await ask('shelf.list', {})).find(({ id }) => id === copy.id)!;
  expect(found.there).toBe(false);
  expect(await ask('shelf.forget', { id: copy.id })).toHaveLength(rows.length - 1);
});
