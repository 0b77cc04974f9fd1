import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from 'vitest';
import type {
  Answer,
  PropertySummary,
  RequestName,
  RequestParams,
  Service,
  ServiceEvent,
} from '../../../electron/service/contract.ts';
import { createService } from '../../../electron/service/service.ts';

export interface OnSample {
  service: Service;
  summary: PropertySummary;
  /** The middle of the property. */
  spot: { x: number; y: number };
  ask<N extends RequestName>(name: N, params: RequestParams<N>): Promise<Answer<N>>;
  close(): Promise<void>;
}

/** A service on the sample property after its scout, in a data folder of its own. */
export async function openOnSample(): Promise<OnSample> {
  const dataFolder = mkdtempSync(join(tmpdir(), 'on-sample-'));
  const service = await createService({ dataFolder, host: 'loopback', version: '0', openSample: true });
  const ask = <N extends RequestName>(name: N, params: RequestParams<N>) =>
    service.handle(name, params, null) as Promise<Answer<N>>;
  const end = new Promise<ServiceEvent>((resolve) => {
    service.listen((event) => /^scout\.(done|failed)$/.test(event.type) && resolve(event));
  });
  expect(await end).toMatchObject({ type: 'scout.done' });
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
