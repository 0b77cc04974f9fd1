import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll } from 'vitest';
import type { Answer, RequestName, RequestParams, Service } from '../../../electron/service/contract.ts';
import { createService } from '../../../electron/service/service.ts';
import { folderOf, tiff } from '../readers/support.ts';

/** A service that has opened a small property of bare terrain, which is not scouted. */
export interface OnHill {
  service: Service;
  dataFolder: string;
}

/**
 * The hill for all tests of a file: opened before the first, closed after the last. Its north-west corner is at
 * 439400, 4351300 of UTM 16 N.
 *
 * @param side cells of 10 m
 */
export function onHill(side: number) {
  const hill = {} as OnHill;
  const ask = <N extends RequestName>(
    name: N,
    params: RequestParams<N>,
    binary: Uint8Array | null = null,
  ): Promise<Answer<N>> => hill.service.handle(name, params, binary) as Promise<Answer<N>>;
  beforeAll(async () => {
    hill.dataFolder = mkdtempSync(join(tmpdir(), 'on-hill-'));
    hill.service = await createService({
      dataFolder: hill.dataFolder,
      host: 'loopback',
      version: '0',
      workers: 1,
    });
    const path = folderOf({
      'elevation.tif': tiff(side, side, (x, y) => 200 + 0.2 * x + 3 * Math.sin(y / 9), {
        west: 439400,
        north: 4351300,
      }),
    });
    await ask('property.open', { path });
    await ask('scout.cancel', {});
  });
  afterAll(async () => {
    await hill.service.close();
    rmSync(hill.dataFolder, { recursive: true, force: true });
  });
  return { hill, ask };
}
