import { cpSync, existsSync, mkdtempSync, renameSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, inject } from 'vitest';
import type {
  Answer,
  PropertySummary,
  RequestName,
  RequestParams,
  Service,
  ServiceEvent,
} from '../../../electron/service/contract.ts';
import { createService } from '../../../electron/service/service.ts';
// What the runner hands to every test is told there.
import type {} from './shared-sample.ts';

export interface OnSample {
  service: Service;
  summary: PropertySummary;
  /** The middle of the property. */
  spot: { x: number; y: number };
  ask<N extends RequestName>(name: N, params: RequestParams<N>): Promise<Answer<N>>;
  close(): Promise<void>;
}

/** A service that has opened the sample and scouted it, if only from its cache. */
async function scouted(dataFolder: string): Promise<Service> {
  const service = await createService({ dataFolder, host: 'loopback', version: '0', openSample: true });
  const end = new Promise<ServiceEvent>((resolve) => {
    service.listen((event) => /^scout\.(done|failed)$/.test(event.type) && resolve(event));
  });
  expect(await end).toMatchObject({ type: 'scout.done' });
  return service;
}

/**
 * A service on the sample property after its scout, in a data folder of its own. The first of a run scouts; the others
 * begin from a copy of what it left, closed and before anything was changed in it.
 */
export async function openOnSample(): Promise<OnSample> {
  const dataFolder = mkdtempSync(join(tmpdir(), 'on-sample-'));
  const left = join(inject('scoutedSample'), 'data');
  if (!existsSync(left)) {
    await (await scouted(dataFolder)).close();
    cpSync(dataFolder, `${left}-part`, { recursive: true });
    renameSync(`${left}-part`, left);
  } else cpSync(left, dataFolder, { recursive: true });
  const service = await scouted(dataFolder);
  const ask = <N extends RequestName>(name: N, params: RequestParams<N>) =>
    service.handle(name, params, null) as Promise<Answer<N>>;
  const summary = (await ask('property.summary', {}))!;
  const { west, north, cellSize, width, height } = summary.frame;
  return {
    service,
    summary,
    spot: { x: west + (width * cellSize) / 2, y: north - (height * cellSize) / 2 },
    ask,
    async close() {
      await service.close();
      rmSync(dataFolder, { recursive: true, force: true });
    },
  };
}

/** The sample for all tests of a file: opened before the first, closed after the last. */
export function onSample(): { sample: OnSample; ask: OnSample['ask'] } {
  const sample = {} as OnSample;
  beforeAll(async () => {
    Object.assign(sample, await openOnSample());
  }, 300_000);
  afterAll(() => sample.close?.());
  return { sample, ask: (name, params) => sample.ask(name, params) };
}
