/**
 * The loopback host met by a real browser: the window's own connection through it, and what a foreign page, a
 * renamed address and a second window can do to it.
 */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Problem } from '../../../core/grid/problem.ts';
import { findBrowser, isRoot } from '../../../electron/host/browser.ts';
import { type LoopbackServer, serveLoopback } from '../../../electron/host/loopback-server.ts';
import { createSession } from '../../../electron/host/session.ts';
import { staticFiles } from '../../../electron/host/static-files.ts';
import { type FakeService, fakeService } from './fake-service.ts';

const program = findBrowser();
if (program === null) console.warn('No Chromium-family browser here: the loopback host is not tried in one.');

/** A window of a few lines, on the real window's own connection. */
const WINDOW = `
import { connect } from './renderer/connection/connect.ts';
const say = (text) => document.querySelector('#said').append(text + ' ');
connect().then(async (connection) => {
  connection.listen((event) => say('event:' + event.type));
  say('host:' + (await connection.request('host.describe', {})).host);
  const tile = await connection.request('map.tile', { layer: 'shade', z: 0, x: 0, y: 0 });
  say('tile:' + tile.join(','));
  const got = await connection.request('import.file', { staging: 's', name: 'é.tif', last: true }, new Uint8Array(300000));
  say('sent:' + got.received);
  await connection.request('property.open', { path: 'x' }).catch((reason) => say('trouble:' + reason.trouble.fix));
}, (reason) => say('refused:' + reason.trouble.message));
`;

/** A page of somebody else's, which tries every way in that a page has. */
const foreignPage = (target: string) => `<!doctype html><title>foreign</title>
<iframe src="${target}/"></iframe>
<script src="${target}/main.js"></script>
<form id="form" method="post" enctype="text/plain" target="frame" action="${target}/request">
  <input name='{"name":"scout.start","params":{}, "x":"' value='"}'>
</form>
<iframe name="frame"></iframe>
<script>
  window.outcomes = (async () => {
    const tries = {
      read: () => fetch('${target}/'),
      ask: () => fetch('${target}/request', { method: 'POST', body: '{"name":"scout.start","params":{}}',
        headers: { 'Content-Type': 'application/json', Authorization: 'Bearer guess' } }),
      askBlind: () => fetch('${target}/request', { method: 'POST', mode: 'no-cors', body: '{}' }).then((r) => {
        if (r.type === 'opaque') throw new Error('opaque'); }),
      exchange: () => fetch('${target}/session', { method: 'POST', body: '{"token":"guess"}' }),
      events: () => fetch('${target}/events', { headers: { Authorization: 'Bearer guess' } }),
      code: () => import('${target}/main.js'),
    };
    const outcomes = {};
    for (const [name, attempt] of Object.entries(tries)) {
      outcomes[name] = await attempt().then(() => 'got in', () => 'shut out');
    }
    return outcomes;
  })();
  document.querySelector('#form').submit();
</script>`;

describe.skipIf(program === null)('in a browser', { timeout: 60_000 }, () => {
  let folder: string;
  let server: LoopbackServer;
  let service: FakeService;
  let foreign: Server;
  let browser: Browser;

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'loopback-browser-'));
    mkdirSync(join(folder, 'page'));
    await build({
      stdin: { contents: WINDOW, resolveDir: join(import.meta.dirname, '../../..'), loader: 'ts' },
      bundle: true,
      format: 'esm',
      outfile: join(folder, 'page', 'main.js'),
    });
    writeFileSync(
      join(folder, 'page', 'index.html'),
      '<!doctype html><title>window</title><p id="said"></p><script>document.title = "inline ran";</script>' +
        '<script type="module" src="main.js"></script>',
    );
    service = fakeService((name, _params, binary) => {
      if (name === 'host.describe') return { host: 'loopback', version: '1', canPick: false };
      if (name === 'map.tile') return new Uint8Array([137, 80, 78, 71]);
      if (name === 'import.file') return { received: binary!.byteLength };
      throw new Problem('No such file.', { fix: 'Try it once more.' });
    });
    server = await serveLoopback({
      service,
      session: createSession(),
      files: staticFiles(join(folder, 'page')),
    });
    foreign = createServer((_request, response) => {
      response.setHeader('Content-Type', 'text/html');
      response.end(foreignPage(`http://127.0.0.1:${server.port}`));
    });
    await new Promise<void>((resolve) => foreign.listen(0, '127.0.0.1', resolve));
    browser = await chromium.launch({
      executablePath: program!,
      args: [
        '--disable-gpu',
        '--disable-background-networking',
        '--disable-component-update',
        // What a rebinding attack does with DNS, done here without one.
        '--host-resolver-rules=MAP rebound.example 127.0.0.1',
        ...(isRoot() ? ['--no-sandbox'] : []),
      ],
    });
  });

  afterAll(async () => {
    await browser?.close();
    await server?.close();
    foreign?.close();
    rmSync(folder, { recursive: true });
  });

  const said = (page: Page, text: string) => page.locator('#said', { hasText: text }).waitFor();

  test('a foreign page and a renamed address get nothing, also before the window has come', async () => {
    const page = await browser.newPage();
    await page.goto(`http://127.0.0.1:${(foreign.address() as AddressInfo).port}/`);
    const outcomes = await page.evaluate<Record<string, string>>('window.outcomes');
    expect(new Set(Object.values(outcomes))).toEqual(new Set(['shut out']));
    expect(Object.keys(outcomes)).toHaveLength(6);

    const renamed = await page.goto(`http://rebound.example:${server.port}/`);
    expect(renamed!.status()).toBe(403);
    const stolen = await page.evaluate(async (token) => {
      const answer = await fetch('/session', { method: 'POST', body: JSON.stringify({ token }) });
      return answer.status;
    }, server.address.split('#t=')[1]);
    expect(stolen).toBe(403);
    await page.close();
    expect(service.taken).toEqual([]);
  });

  test('the window asks, gets bytes, sends bytes, hears events, and comes back after a reload', async () => {
    const complaints: string[] = [];
    const page = await browser.newPage();
    page.on('console', (message) => complaints.push(message.text()));
    await page.goto(server.address);
    for (let visit = 0; visit < 2; visit++) {
      for (const text of ['host:loopback', 'tile:137,80,78,71', 'sent:300000', 'trouble:Try it once more']) {
        await said(page, text);
      }
      service.emit({ type: 'scout.cancelled', run: 'r' });
      await said(page, 'event:scout.cancelled');
      // The token leaves the address bar, so that it is not kept in the history.
      expect(page.url()).not.toContain('#t=');
      await page.reload();
    }
    expect(await page.title()).toBe('window');
    expect(complaints.some((text) => text.includes('Content Security Policy'))).toBe(true);

    // The page itself may not reach out either.
    const out = await page.evaluate(
      (address) =>
        fetch(address, { mode: 'no-cors' }).then(
          () => 'reached',
          () => 'held',
        ),
      `http://127.0.0.1:${(foreign.address() as AddressInfo).port}/`,
    );
    expect(out).toBe('held');
    await page.close();
    await expect.poll(() => server.windows().listening).toBe(0);
  });

  test('a second window with the same address is turned away in plain words', async () => {
    const page = await browser.newPage();
    const before = service.taken.length;
    await page.goto(server.address);
    await said(page, 'refused:');
    expect(service.taken).toHaveLength(before);
    await page.close();
  });
});
