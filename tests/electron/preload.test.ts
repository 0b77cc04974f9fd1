/** The preload by contract: what it puts in the page, and what crosses. */
import { expect, test, vi } from 'vitest';
import type { Reply, ServiceEvent } from '../../electron/service/contract.ts';

const exposed = vi.hoisted(() => ({
  world: {} as Record<string, unknown>,
  invoked: [] as unknown[][],
  sent: [] as unknown[][],
  reply: { ok: true, answer: null } as unknown,
  listeners: new Map<string, Set<(event: unknown, message: unknown) => void>>(),
}));

vi.mock('electron', () => ({
  contextBridge: {
    exposeInMainWorld(name: string, api: unknown) {
      exposed.world[name] = api;
    },
  },
  ipcRenderer: {
    send(...message: unknown[]) {
      exposed.sent.push(message);
    },
    async invoke(...message: unknown[]) {
      exposed.invoked.push(message);
      return exposed.reply;
    },
    on(channel: string, listener: (event: unknown, message: unknown) => void) {
      const listeners = exposed.listeners.get(channel) ?? new Set();
      exposed.listeners.set(channel, listeners.add(listener));
    },
    removeListener(channel: string, listener: (event: unknown, message: unknown) => void) {
      exposed.listeners.get(channel)?.delete(listener);
    },
  },
}));

interface Bridge {
  request(name: string, params: unknown, binary?: Uint8Array): Promise<unknown>;
  listen(handler: (event: ServiceEvent) => void): () => void;
  dragOut(file: string): void;
}

await import('../../electron/preload.ts');
const bridge = exposed.world.hollowgate as Bridge;

test('the page gets three functions and nothing of Electron', () => {
  expect(Object.keys(exposed.world)).toEqual(['hollowgate']);
  expect(Object.keys(bridge).sort()).toEqual(['dragOut', 'listen', 'request']);
});

test('a request goes over the one agreed channel', async () => {
  exposed.reply = { ok: true, answer: { received: 2 } } satisfies Reply;
  const bytes = new Uint8Array([1, 2]);
  expect(await bridge.request('import.file', { staging: 's' }, bytes)).toEqual({ received: 2 });
  expect(await bridge.request('host.describe', {})).toEqual({ received: 2 });
  expect(exposed.invoked).toEqual([
    ['hollowgate:request', 'import.file', { staging: 's' }, bytes],
    ['hollowgate:request', 'host.describe', {}, null],
  ]);
});

test('a file dragged out goes over its own channel, by its path alone', () => {
  bridge.dragOut('/maps/report.pdf');
  expect(exposed.sent).toEqual([['hollowgate:drag', '/maps/report.pdf']]);
});

test('a refusal crosses as plain data', async () => {
  const trouble = { kind: 'problem', message: 'no', file: 'a', fix: 'b', question: null } as const;
  exposed.reply = { ok: false, trouble } satisfies Reply;
  const reason = await bridge.request('property.open', { path: 'a' }).catch((caught: unknown) => caught);
  expect(reason).toEqual({ trouble });
  // Structured clone is what the bridge does to it.
  expect(structuredClone(reason)).toEqual({ trouble });
});

test('events reach the page until it stops listening, without Electron’s event', () => {
  const got: unknown[][] = [];
  const stop = bridge.listen((...args) => got.push(args));
  const send = (event: ServiceEvent) => {
    for (const listener of exposed.listeners.get('hollowgate:event')!)
      listener({ sender: 'electron' }, event);
  };
  send({ type: 'scout.cancelled', run: 'a' });
  stop();
  send({ type: 'scout.cancelled', run: 'b' });
  expect(got).toEqual([[{ type: 'scout.cancelled', run: 'a' }]]);
});
