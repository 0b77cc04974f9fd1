/**
 * The bundled service process, as Electron runs it, on this Node: its message port is the child's own line to us.
 * It is also where the bundled workers are tried; the loopback host runs them from their sources.
 */
import { type ChildProcess, fork } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { dist } from '../../../electron/host/places.ts';
import { linkService, type ServiceLink, type ServiceProcess } from '../../../electron/host/service-link.ts';
import type { ServiceEvent } from '../../../electron/service/contract.ts';
import { bundleProgram } from './program.ts';

/** What Electron puts in a utility process. */
const PARENT_PORT = `process.parentPort = {
  on: (name, listener) => process.on(name, (data) => listener({ data })),
  postMessage: (message) => process.send(message),
};`;

let folder: string;
let child: ChildProcess;
let link: ServiceLink;
const events: ServiceEvent[] = [];

beforeEach(async () => {
  await bundleProgram();
  folder = mkdtempSync(join(tmpdir(), 'service-process-'));
  link = linkService({
    start() {
      child = fork(join(dist, 'service-process.js'), [], {
        serialization: 'advanced',
        execArgv: ['--import', `data:text/javascript,${encodeURIComponent(PARENT_PORT)}`],
      });
      return Object.assign(child, {
        postMessage: (message: object) => child.send(message),
      }) as unknown as ServiceProcess;
    },
    dataFolder: folder,
    version: '1.2.3',
    openSample: false,
    tell: (event) => events.push(event),
    pick: async () => null,
  });
});
afterEach(() => {
  child.kill('SIGKILL');
  rmSync(folder, { recursive: true, force: true });
});

test('the bundle opens the sample, computes, paints, refuses and closes', { timeout: 120_000 }, async () => {
  const ask = (name: string, params: object) => link.request({ name, params, binary: null });
  expect(await ask('host.describe', {})).toEqual({
    ok: true,
    answer: { host: 'electron', version: '1.2.3', canPick: true },
  });
  expect(await ask('property.pick', { what: 'file' })).toEqual({ ok: true, answer: null });
  expect(await ask('map.tile', { layer: 'shade', z: 0, x: 0, y: 0 })).toMatchObject({
    ok: false,
    trouble: { kind: 'problem' },
  });
  expect(await ask('property.openSample', { more: 1 })).toMatchObject({
    ok: false,
    trouble: { kind: 'refused' },
  });

  expect(await ask('property.openSample', {})).toMatchObject({ ok: true, answer: { invented: true } });
  await expect
    .poll(() => events.some((event) => event.type === 'scout.step' && event.layers.includes('shade')), {
      timeout: 60_000,
    })
    .toBe(true);
  const tile = await ask('map.tile', { layer: 'shade', z: 0, x: 0, y: 0 });
  const png = tile.ok ? (tile.answer as Uint8Array) : new Uint8Array();
  expect([...png.subarray(0, 4)]).toEqual([137, 80, 78, 71]);
  expect(await ask('scout.cancel', {})).toEqual({ ok: true, answer: { cancelled: true } });
  await link.close();
});
