import { EventEmitter } from 'node:events';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { windowClosed } from '../../../electron/host/window-watch.ts';

let browser: EventEmitter;
let windows: { listening: number; since: number };
let closed: boolean;
let noWindow: number;

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval', 'performance'] });
  browser = new EventEmitter();
  windows = { listening: 0, since: performance.now() };
  closed = false;
  noWindow = 0;
  watch(false);
});
afterEach(() => vi.useRealTimers());

function watch(outlivesWindow: boolean): void {
  void windowClosed(browser, { windows: () => windows }, () => noWindow++, outlivesWindow).then(() => {
    closed = true;
  });
}
const listen = (listening: number) => {
  windows = { listening, since: performance.now() };
};
const pass = (seconds: number) => vi.advanceTimersByTimeAsync(seconds * 1000);

test('closing the window ends the service; a reload does not', async () => {
  listen(1);
  await pass(60);
  listen(0);
  await pass(2);
  listen(1);
  await pass(10);
  expect(closed).toBe(false);
  listen(0);
  browser.emit('exit', 0);
  await pass(2);
  expect(closed).toBe(false);
  await pass(4);
  expect([closed, noWindow]).toEqual([true, 0]);
});

test('a browser that hands its window to one already running and ends does not end the service', async () => {
  browser.emit('exit', 0);
  await pass(3);
  listen(1);
  await pass(600);
  expect([closed, noWindow]).toEqual([false, 0]);
  listen(0);
  await pass(6);
  expect(closed).toBe(true);
});

test('a window that falls asleep while its browser runs does not end the service', async () => {
  listen(1);
  await pass(5);
  listen(0);
  await pass(600);
  expect(closed).toBe(false);
});

test('a browser that fails, or never shows a window, has the address printed once', async () => {
  browser.emit('exit', 1);
  await pass(1);
  expect(noWindow).toBe(1);
  await pass(60);
  expect([closed, noWindow]).toEqual([false, 1]);
});

test('a browser that ends well without a window is given time first', async () => {
  browser.emit('exit', 0);
  await pass(15);
  expect(noWindow).toBe(0);
  await pass(10);
  expect([closed, noWindow]).toEqual([false, 1]);
});

test('a browser that cannot be started at all has the address printed', async () => {
  browser.emit('error', new Error('EACCES'));
  await pass(1);
  expect(noWindow).toBe(1);
});

test('a browser that goes on without a window ends the service after two minutes', async () => {
  watch(true);
  listen(1);
  await pass(60);
  listen(0);
  await pass(100);
  expect(closed).toBe(false);
  await pass(30);
  expect([closed, noWindow]).toEqual([true, 0]);
});
