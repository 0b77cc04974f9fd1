import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { linkService, type ServiceLink } from '../../../electron/host/service-link.ts';
import type { ServiceEvent } from '../../../electron/service/contract.ts';
import { FakeProcess } from './fake-electron.ts';

let started: FakeProcess[];
let told: ServiceEvent[];
let link: ServiceLink;
const current = () => started.at(-1)!;

beforeEach(() => {
  vi.spyOn(console, 'error').mockImplementation(() => {});
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
  started = [];
  told = [];
  link = linkService({
    start() {
      started.push(new FakeProcess());
      return current();
    },
    dataFolder: '/data',
    version: '1',
    openSample: true,
    tell: (event) => told.push(event),
    pick: async () => null,
  });
});
afterEach(() => {
  vi.useRealTimers();
  vi.restoreAllMocks();
});

const ask = () => link.request({ name: 'property.summary', params: {}, binary: null });

test('answers find the request they belong to, in any order', async () => {
  const [first, second] = [ask(), ask()];
  current().say({ type: 'reply', id: 2, reply: { ok: true, answer: 'second' } });
  current().say({ type: 'reply', id: 1, reply: { ok: true, answer: 'first' } });
  current().say({ type: 'reply', id: 99, reply: { ok: true, answer: 'nobody’s' } });
  expect([await first, await second]).toEqual([
    { ok: true, answer: 'first' },
    { ok: true, answer: 'second' },
  ]);
});

test('requests in flight when the process dies are answered, and later ones reach the new process', async () => {
  const lost = ask();
  current().emit('exit', 134);
  expect(await lost).toMatchObject({
    ok: false,
    trouble: { kind: 'fault', fix: expect.stringContaining('Open') },
  });
  expect(started).toHaveLength(2);
  expect(current().posted).toEqual([{ type: 'start', dataFolder: '/data', version: '1', openSample: false }]);
  const kept = ask();
  current().say({ type: 'reply', id: 2, reply: { ok: true, answer: 1 } });
  expect(await kept).toEqual({ ok: true, answer: 1 });
});

test('a fourth death within five minutes leaves it down, and says so; spread out, they do not', async () => {
  for (let death = 0; death < 6; death++) {
    current().emit('exit', 1);
    vi.advanceTimersByTime(6 * 60_000);
  }
  expect(started).toHaveLength(7);
  for (let death = 0; death < 4; death++) current().emit('exit', 1);
  expect(started).toHaveLength(10);
  expect(told.at(-1)).toMatchObject({
    type: 'host.trouble',
    trouble: { message: expect.stringContaining('has stopped') },
  });
  expect(await ask()).toMatchObject({ ok: false, trouble: { kind: 'fault' } });
  await link.close();
});

test('a death while closing is not a death to mend', async () => {
  const closed = link.close();
  expect(current().posted.at(-1)).toEqual({ type: 'close' });
  current().emit('exit', 0);
  await closed;
  expect(started).toHaveLength(1);
  expect(told).toEqual([]);
});

test('a service that does not close in time is ended', async () => {
  const closed = link.close();
  await vi.advanceTimersByTimeAsync(10_000);
  await closed;
  expect(current().killed).toBe(true);
});
