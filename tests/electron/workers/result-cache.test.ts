import { mkdtempSync, readdirSync, rmSync, truncateSync, utimesSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { createResultCache } from '../../../electron/workers/result-cache.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'cache-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const products = {
  slope: { frame: { width: 3 }, cells: new Float32Array([1.5, Number.NaN, -0]) },
  forms: { frame: { width: 3 }, cells: new Uint8Array([1, 2, 3]) },
  wide: new Float64Array([Math.PI]),
  necks: [{ share: 0.25, width: null, low: Number.NEGATIVE_INFINITY }],
};

test('what went in comes out, bit for bit, on shared memory', async () => {
  const cache = createResultCache(folder);
  await cache.put('k', products);
  const back = (await cache.get('k')) as typeof products;
  expect(back).toEqual(products);
  expect(new Uint8Array(back.slope.cells.buffer)).toEqual(new Uint8Array(products.slope.cells.buffer));
  expect(back.slope.cells.buffer).toBeInstanceOf(SharedArrayBuffer);
});

test('a missing or cut-off entry is simply not there', async () => {
  const cache = createResultCache(folder);
  expect(await cache.get('none')).toBeNull();
  await cache.put('k', products);
  truncateSync(join(folder, 'k.bin'), 40);
  expect(await cache.get('k')).toBeNull();
});

test('the longest unused entry goes first once the cap is passed', async () => {
  const cells = () => ({ grid: new Float32Array(1000) });
  const cache = createResultCache(folder, 9000);
  await cache.put('old', cells());
  await cache.put('used', cells());
  utimesSync(join(folder, 'old.bin'), 1, 1);
  utimesSync(join(folder, 'used.bin'), 2, 2);
  await cache.put('new', cells());
  expect(readdirSync(folder).sort()).toEqual(['new.bin', 'used.bin']);
});

test('an unwritable place loses the cache, not the run', async () => {
  const cache = createResultCache(join(folder, 'file.bin', 'below'));
  await createResultCache(folder).put('file', products);
  await expect(cache.put('k', products)).resolves.toBeUndefined();
});
