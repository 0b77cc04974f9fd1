import { expect, test, vi } from 'vitest';
import { servePort } from '../../../electron/host/service-port.ts';
import type { FromService } from '../../../electron/host/wire.ts';
import type { Service } from '../../../electron/service/contract.ts';
import { fakeService } from './fake-service.ts';

const START = { type: 'start', dataFolder: '/d', version: '1', openSample: true } as const;
const request = (id: number, name: string) =>
  ({ type: 'request', id, name, params: {}, binary: null }) as const;

function port(create: Parameters<typeof servePort>[1]) {
  const posted: FromService[] = [];
  // Structured clone is what the real port does to a message.
  const receive = servePort((message) => posted.push(structuredClone(message)), create);
  return { posted, receive };
}

test('requests that come while the service starts wait for it', async () => {
  const made = Promise.withResolvers<Service>();
  const { posted, receive } = port(() => made.promise);
  receive(START);
  receive(request(1, 'map.tile'));
  await Promise.resolve();
  expect(posted).toEqual([]);
  const service = fakeService(() => new Uint8Array([5]));
  made.resolve(service);
  await vi.waitFor(() => expect(posted).toHaveLength(1));
  expect(posted).toEqual([{ type: 'reply', id: 1, reply: { ok: true, answer: new Uint8Array([5]) } }]);
  service.emit({ type: 'scout.cancelled', run: 'r' });
  expect(posted[1]).toEqual({ type: 'event', event: { type: 'scout.cancelled', run: 'r' } });
});

test('a service that cannot start answers each request with why', async () => {
  const complain = vi.spyOn(console, 'error').mockImplementation(() => {});
  const { posted, receive } = port(() => Promise.reject(new Error('the database module is missing')));
  receive(START);
  receive(request(7, 'host.describe'));
  await vi.waitFor(() => expect(posted).toHaveLength(1));
  expect(posted[0]).toMatchObject({
    type: 'reply',
    id: 7,
    reply: { ok: false, trouble: { kind: 'fault', message: expect.stringContaining('database module') } },
  });
  receive({ type: 'close' });
  await vi.waitFor(() => expect(posted.at(-1)).toEqual({ type: 'closed' }));
  complain.mockRestore();
});

test('a pick goes out, and its answer comes back to the one who asked', async () => {
  const { posted, receive } = port(async ({ pick }) =>
    fakeService(async (_name, params) => pick!((params as { what?: 'file' }).what ?? 'folder')),
  );
  receive(START);
  receive(request(1, 'property.pick'));
  receive({ ...request(2, 'property.pick'), params: { what: 'file' } });
  await vi.waitFor(() => expect(posted).toHaveLength(2));
  expect(posted).toEqual([
    { type: 'pick', id: 1, what: 'folder' },
    { type: 'pick', id: 2, what: 'file' },
  ]);
  receive({ type: 'picked', id: 2, path: '/maps/a.gpkg' });
  receive({ type: 'picked', id: 1, path: null });
  await vi.waitFor(() => expect(posted).toHaveLength(4));
  expect(posted.slice(2)).toEqual([
    { type: 'reply', id: 2, reply: { ok: true, answer: '/maps/a.gpkg' } },
    { type: 'reply', id: 1, reply: { ok: true, answer: null } },
  ]);
});

test('closing closes the service first', async () => {
  const service = fakeService(() => null);
  const { posted, receive } = port(async () => service);
  receive(START);
  receive({ type: 'close' });
  await vi.waitFor(() => expect(posted).toEqual([{ type: 'closed' }]));
  expect(service.closed).toBe(true);
});
