import { once } from 'node:events';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { networkInterfaces, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { Problem } from '../../../core/grid/problem.ts';
import { BINARY_LIMIT, JSON_LIMIT } from '../../../electron/host/envelope.ts';
import { type LoopbackServer, serveLoopback } from '../../../electron/host/loopback-server.ts';
import { createSession } from '../../../electron/host/session.ts';
import { staticFiles } from '../../../electron/host/static-files.ts';
import { type FakeService, fakeService } from './fake-service.ts';
import { rawHttp } from './raw-http.ts';

let folder: string;
let server: LoopbackServer;
let service: FakeService;
let base: string;
let token: string;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'loopback-test-'));
  mkdirSync(join(folder, 'renderer'));
  writeFileSync(join(folder, 'renderer', 'index.html'), '<!doctype html><title>window</title>');
  writeFileSync(join(folder, 'renderer', 'main.js'), 'export {};');
  writeFileSync(join(folder, 'renderer', 'notes.txt'), 'not for the window');
  writeFileSync(join(folder, 'secret.js'), 'outside the window folder');
  service = fakeService((name, params, binary) => {
    if (name === 'map.tile') return new Uint8Array([1, 2, 3, 255]);
    if (name === 'import.file') return { received: binary?.byteLength ?? 0 };
    if (name === 'property.open')
      throw new Problem('That is no raster.', { file: 'a.tif', fix: 'Bring one.' });
    if (name === 'scout.start') throw new RangeError('array too long');
    return { name, params };
  });
  server = await serveLoopback({
    service,
    session: createSession(),
    files: staticFiles(join(folder, 'renderer')),
    heartbeat: 100,
  });
  base = `http://127.0.0.1:${server.port}`;
  token = server.address.split('#t=')[1]!;
});

afterEach(async () => {
  await server.close();
  rmSync(folder, { recursive: true });
});

const exchange = (offered: unknown) =>
  fetch(`${base}/session`, { method: 'POST', body: JSON.stringify({ token: offered }) });

async function secretOf(): Promise<string> {
  return ((await (await exchange(token)).json()) as { secret: string }).secret;
}

const ask = (
  secret: string,
  body: string | Uint8Array<ArrayBuffer> | ReadableStream,
  headers: Record<string, string> = {},
) =>
  fetch(`${base}/request`, {
    method: 'POST',
    body,
    headers: { Authorization: `Bearer ${secret}`, 'Content-Type': 'application/json', ...headers },
    ...(body instanceof ReadableStream ? { duplex: 'half' as const } : {}),
  });

const DESCRIBE = JSON.stringify({ name: 'host.describe', params: {} });

describe('the launch token', () => {
  test('buys one secret, once', async () => {
    const secret = await secretOf();
    expect(secret.length).toBeGreaterThanOrEqual(43);
    expect(secret).not.toBe(token);
    expect((await ask(secret, DESCRIBE)).status).toBe(200);

    const again = await exchange(token);
    expect(again.status).toBe(403);
    const { trouble } = (await again.json()) as { trouble: { kind: string; message: string } };
    expect(trouble.kind).toBe('refused');
    expect(trouble.message).toContain('used already');
    // The window that has the secret is not disturbed by somebody's second try.
    expect((await ask(secret, DESCRIBE)).status).toBe(200);
  });

  test.each([['wrong'], [''], [null], [7], [{}]])('%j buys nothing and spends nothing', async (offered) => {
    expect((await exchange(offered)).status).toBe(403);
    expect((await exchange(token)).status).toBe(200);
  });

  test('is not itself a secret', async () => {
    expect((await ask(token, DESCRIBE)).status).toBe(401);
    await secretOf();
    expect((await ask(token, DESCRIBE)).status).toBe(401);
    expect(service.taken).toEqual([]);
  });

  test('differs with every launch', async () => {
    const other = await serveLoopback({ service, session: createSession(), files: () => null });
    expect(other.address.split('#t=')[1]).not.toBe(token);
    await other.close();
  });
});

describe('a message without standing', () => {
  test('has no secret, a wrong one, or a wrong scheme', async () => {
    const secret = await secretOf();
    for (const authorization of ['', 'Bearer', 'Bearer ', 'Bearer x', `Basic ${secret}`, secret]) {
      const headers = { 'Content-Type': 'application/json', Authorization: authorization };
      const request = await fetch(`${base}/request`, { method: 'POST', body: DESCRIBE, headers });
      expect(request.status, authorization).toBe(401);
      expect((await fetch(`${base}/events`, { headers })).status, authorization).toBe(401);
    }
    const cookie = await fetch(`${base}/request`, {
      method: 'POST',
      body: DESCRIBE,
      headers: { 'Content-Type': 'application/json', Cookie: `secret=${secret}` },
    });
    expect(cookie.status).toBe(401);
    expect(service.taken).toEqual([]);
  });

  // The names a rebinding attack would use: its own domain, which now resolves to 127.0.0.1.
  test.each([
    ['rebound.example'],
    ['rebound.example:PORT'],
    ['localhost:PORT'],
    ['127.0.0.1'],
    ['127.0.0.1:1'],
    ['[::1]:PORT'],
    ['127.0.0.1:PORT.rebound.example'],
    ['0.0.0.0:PORT'],
  ])('names the host %s', async (host) => {
    const secret = await secretOf();
    const name = host.replace('PORT', String(server.port));
    const head = `Host: ${name}\r\nAuthorization: Bearer ${secret}\r\nContent-Type: application/json\r\n`;
    for (const line of ['GET / HTTP/1.1', 'GET /events HTTP/1.1']) {
      expect((await rawHttp(server.port, `${line}\r\n${head}Connection: close\r\n\r\n`)).status).toBe(403);
    }
    const post = `POST /request HTTP/1.1\r\n${head}Content-Length: ${DESCRIBE.length}\r\n\r\n${DESCRIBE}`;
    expect((await rawHttp(server.port, post)).status).toBe(403);
    expect(service.taken).toEqual([]);
  });

  test('names no host, or two', async () => {
    expect((await rawHttp(server.port, 'GET / HTTP/1.0\r\n\r\n')).status).toBe(403);
    expect((await rawHttp(server.port, 'GET / HTTP/1.1\r\n\r\n')).status).toBe(400);
    const two = `GET / HTTP/1.1\r\nHost: rebound.example\r\nHost: 127.0.0.1:${server.port}\r\n\r\n`;
    expect([400, 403]).toContain((await rawHttp(server.port, two)).status);
  });

  test.each([
    ['https://elsewhere.example'],
    ['http://localhost:PORT'],
    ['http://127.0.0.1:1'],
    ['https://127.0.0.1:PORT'],
    ['null'],
    ['http://127.0.0.1:PORT.elsewhere.example'],
  ])('comes from %s', async (from) => {
    const secret = await secretOf();
    const origin = from.replace('PORT', String(server.port));
    expect((await ask(secret, DESCRIBE, { Origin: origin })).status).toBe(403);
    const events = await fetch(`${base}/events`, {
      headers: { Authorization: `Bearer ${secret}`, Origin: origin },
    });
    expect(events.status).toBe(403);
    expect((await fetch(base, { headers: { Origin: origin } })).status).toBe(403);
    expect(service.taken).toEqual([]);
  });

  test('is sent by another site, as the browser itself says; but a link may be followed', async () => {
    const load = (site: string, dest: string, path = '/main.js') =>
      rawHttp(
        server.port,
        `GET ${path} HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\nSec-Fetch-Site: ${site}\r\n` +
          `Sec-Fetch-Dest: ${dest}\r\nConnection: close\r\n\r\n`,
      );
    for (const site of ['cross-site', 'same-site']) {
      for (const dest of ['script', 'empty', 'iframe', 'image']) {
        expect((await load(site, dest)).status, `${site} ${dest}`).toBe(403);
      }
      expect((await load(site, 'document', '/')).status).toBe(200);
      expect((await load(site, 'document', '/events')).status).toBe(401);
    }
    expect((await load('same-origin', 'script')).status).toBe(200);
    expect((await load('none', 'document', '/')).status).toBe(200);
  });

  test('asks for leave across origins and gets none', async () => {
    const answer = await fetch(`${base}/request`, {
      method: 'OPTIONS',
      headers: { Origin: 'https://elsewhere.example', 'Access-Control-Request-Method': 'POST' },
    });
    expect(answer.status).toBe(403);
    expect([...answer.headers.keys()].filter((name) => name.startsWith('access-control'))).toEqual([]);
  });
});

describe('a request', () => {
  test('reaches the service and comes back', async () => {
    const answer = await ask(
      await secretOf(),
      JSON.stringify({ name: 'map.table', params: { table: 'necks' } }),
      {
        Origin: base,
      },
    );
    expect(answer.headers.get('content-type')).toContain('application/json');
    expect(await answer.json()).toEqual({
      ok: true,
      answer: { name: 'map.table', params: { table: 'necks' } },
    });
    expect(service.taken).toEqual([{ name: 'map.table', params: { table: 'necks' }, binary: null }]);
  });

  test('gets bytes back as bytes', async () => {
    const answer = await ask(await secretOf(), JSON.stringify({ name: 'map.tile', params: {} }));
    expect(answer.headers.get('content-type')).toBe('application/octet-stream');
    expect(new Uint8Array(await answer.arrayBuffer())).toEqual(new Uint8Array([1, 2, 3, 255]));
  });

  test('carries bytes, with its parameters in a header in UTF-8', async () => {
    const message = { name: 'import.file', params: { staging: 's', name: 'höhe.tif', last: true } };
    const bytes = Uint8Array.from({ length: 70_000 }, (_, index) => index & 255);
    const answer = await ask(await secretOf(), bytes, {
      'Content-Type': 'application/octet-stream',
      'X-Hollowgate-Request': Buffer.from(JSON.stringify(message)).toString('base64url'),
    });
    expect(await answer.json()).toEqual({ ok: true, answer: { received: 70_000 } });
    expect(service.taken[0]!.params).toEqual(message.params);
    expect(Buffer.from(service.taken[0]!.binary!).equals(Buffer.from(bytes))).toBe(true);
  });

  test('that is the person’s to mend comes back as a problem, one that is ours as a fault', async () => {
    const secret = await secretOf();
    const problem = await ask(secret, JSON.stringify({ name: 'property.open', params: {} }));
    expect(await problem.json()).toEqual({
      ok: false,
      trouble: {
        kind: 'problem',
        message: 'That is no raster.',
        file: 'a.tif',
        fix: 'Bring one.',
        question: null,
      },
    });
    const silence = console.error;
    console.error = () => {};
    const fault = await ask(secret, JSON.stringify({ name: 'scout.start', params: {} }));
    console.error = silence;
    expect(await fault.json()).toMatchObject({
      ok: false,
      trouble: { kind: 'fault', message: expect.stringContaining('array too long') },
    });
  });
});

describe('a malformed request', () => {
  test.each([
    ['no JSON', '{"name":'],
    ['empty', ''],
    ['null', 'null'],
    ['an array', '[]'],
    ['a number', '7'],
    ['no name', '{"params":{}}'],
    ['a name that is none', '{"name":"__proto__","params":{}}'],
    ['a name too long', JSON.stringify({ name: `a.${'b'.repeat(500)}`, params: {} })],
    ['no parameters', '{"name":"host.describe"}'],
    ['parameters in an array', '{"name":"host.describe","params":[]}'],
    ['parameters null', '{"name":"host.describe","params":null}'],
  ])('%s is refused in plain words', async (_, body) => {
    const answer = await ask(await secretOf(), body);
    expect(answer.status).toBe(400);
    expect(await answer.json()).toMatchObject({
      ok: false,
      trouble: {
        kind: 'refused',
        message: expect.stringContaining('not understood'),
        fix: expect.any(String),
      },
    });
    expect(service.taken).toEqual([]);
  });

  test.each([
    ['text/plain'],
    ['application/x-www-form-urlencoded'],
    ['multipart/form-data; boundary=x'],
    [''],
  ])('a form could send %s, so it is refused', async (type) => {
    const answer = await ask(await secretOf(), DESCRIBE, { 'Content-Type': type });
    expect(answer.status).toBe(400);
    expect(service.taken).toEqual([]);
  });

  test.each([[''], ['%%%'], ['a b'], [Buffer.from('{"name":').toString('base64url')], ['_w']])(
    'bytes with the header %j are refused',
    async (header) => {
      const answer = await ask(await secretOf(), new Uint8Array(4), {
        'Content-Type': 'application/octet-stream',
        ...(header === '' ? {} : { 'X-Hollowgate-Request': header }),
      });
      expect(answer.status).toBe(400);
      expect(service.taken).toEqual([]);
    },
  );

  test('that is not HTTP at all does not stop the server', async () => {
    expect((await rawHttp(server.port, '\x16\x03\x01\x02\x00hello')).status).toBe(400);
    expect((await rawHttp(server.port, `GET / HTTP/1.1\r\nHost: ${'x'.repeat(40_000)}\r\n\r\n`)).status).toBe(
      431,
    );
    expect((await ask(await secretOf(), DESCRIBE)).status).toBe(200);
  });

  test('that breaks off does not stop the server', async () => {
    const secret = await secretOf();
    const head = `POST /request HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\nAuthorization: Bearer ${secret}\r\n`;
    await rawHttp(
      server.port,
      `${head}Content-Type: application/json\r\nContent-Length: 500\r\n\r\n{"na`,
      100,
    );
    expect((await ask(secret, DESCRIBE)).status).toBe(200);
    expect(service.taken).toHaveLength(1);
  });
});

test('300 mutated requests, none with standing: each is refused, and the server goes on', async () => {
  let seed = 20261125;
  const random = (below: number) => {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    return Math.floor((seed / 2 ** 32) * below);
  };
  const head = `Host: 127.0.0.1:${server.port}\r\nConnection: close\r\nAuthorization: Bearer ${token}\r\n`;
  const seeds = [
    `GET /events HTTP/1.1\r\n${head}\r\n`,
    `POST /request HTTP/1.1\r\n${head}Content-Type: application/json\r\nContent-Length: ${DESCRIBE.length}\r\n\r\n${DESCRIBE}`,
    `POST /request HTTP/1.1\r\n${head}Content-Type: application/octet-stream\r\nX-Hollowgate-Request: ${Buffer.from(DESCRIBE).toString('base64url')}\r\nTransfer-Encoding: chunked\r\n\r\n4\r\nabcd\r\n0\r\n\r\n`,
    `POST /session HTTP/1.1\r\n${head}Content-Length: 16\r\n\r\n{"token":"guess"}`,
  ];
  const mutate = (text: string): Uint8Array => {
    const bytes = [...Buffer.from(text)];
    for (let change = 0; change <= random(4); change++) {
      const at = random(bytes.length);
      const kind = random(4);
      if (kind === 0) bytes[at] = random(256);
      else if (kind === 1) bytes.splice(at, 1 + random(20));
      else if (kind === 2) bytes.splice(at, 0, ...bytes.slice(at, at + random(60)));
      else
        bytes.splice(at, 0, ...Buffer.from(['\r\n', '\0', 'Host: x\r\n', '-1', '99999999999'][random(5)]!));
    }
    return Uint8Array.from(bytes);
  };
  const messages = Array.from({ length: 300 }, (_, index) => mutate(seeds[index % seeds.length]!));
  while (messages.length > 0) {
    const answers = await Promise.all(messages.splice(0, 50).map((text) => rawHttp(server.port, text, 150)));
    for (const { status, body } of answers) {
      if (status !== 200) continue;
      // Only the page itself may be had without a secret.
      expect(body).toMatch(/^<!doctype|^export|^$/);
    }
  }
  expect(service.taken).toEqual([]);
  expect(server.windows().listening).toBe(0);
  expect((await ask(await secretOf(), DESCRIBE)).status).toBe(200);
});

describe('an oversize request', () => {
  test('is refused from its stated length, before any of it is read', async () => {
    const secret = await secretOf();
    for (const [type, limit] of [
      ['application/json', JSON_LIMIT],
      ['application/octet-stream', BINARY_LIMIT],
    ] as const) {
      const message = Buffer.from(DESCRIBE).toString('base64url');
      const answer = await rawHttp(
        server.port,
        `POST /request HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\nAuthorization: Bearer ${secret}\r\n` +
          `Content-Type: ${type}\r\nX-Hollowgate-Request: ${message}\r\nContent-Length: ${limit + 1}\r\n\r\n`,
      );
      expect(answer.status).toBe(413);
      expect(JSON.parse(answer.body)).toMatchObject({ ok: false, trouble: { kind: 'refused' } });
    }
    expect(service.taken).toEqual([]);
  });

  test('without a stated length is refused on the way, and what is past the limit is not kept', async () => {
    const secret = await secretOf();
    const chunk = new Uint8Array(256 * 1024).fill(32);
    let sent = 0;
    const body = new ReadableStream({
      pull(controller) {
        sent += chunk.length;
        if (sent > 10 * JSON_LIMIT) controller.close();
        else controller.enqueue(chunk);
      },
    });
    global.gc?.();
    const before = process.memoryUsage().arrayBuffers;
    const answer = await ask(secret, body);
    expect(answer.status).toBe(413);
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(3 * JSON_LIMIT);
    expect(service.taken).toEqual([]);
  });

  test('at the limit still passes', async () => {
    const frame = JSON.stringify({ name: 'host.describe', params: { pad: '' } }).length;
    const body = JSON.stringify({ name: 'host.describe', params: { pad: 'x'.repeat(JSON_LIMIT - frame) } });
    expect(body.length).toBe(JSON_LIMIT);
    const secret = await secretOf();
    expect((await ask(secret, body)).status).toBe(200);
    expect((await ask(secret, `${body} `)).status).toBe(413);
  });
});

describe('methods and paths', () => {
  test('only the agreed ones are taken', async () => {
    const secret = await secretOf();
    const headers = { Authorization: `Bearer ${secret}`, 'Content-Type': 'application/json' };
    const wrong: [string, string][] = [
      ['GET', '/request'],
      ['PUT', '/request'],
      ['DELETE', '/request'],
      ['GET', '/session'],
      ['POST', '/events'],
      ['POST', '/'],
      ['PUT', '/main.js'],
    ];
    for (const [method, path] of wrong) {
      const answer = await fetch(`${base}${path}`, { method, headers });
      expect(answer.status, `${method} ${path}`).toBe(405);
      expect(answer.headers.get('allow')).toBeTruthy();
    }
    expect(service.taken).toEqual([]);
  });

  test.each([
    ['/../secret.js'],
    ['/..%2fsecret.js'],
    ['/%2e%2e/secret.js'],
    ['/..\\secret.js'],
    ['//secret.js'],
    ['/./../secret.js'],
    ['/main.js/../../secret.js'],
    ['/main.js%00.html'],
    ['/notes.txt'],
    ['/etc/passwd'],
    ['/main.js/'],
    ['/__proto__'],
    ['/constructor'],
    ['http://127.0.0.1/main.js'],
  ])('%s shows nothing of the machine', async (path) => {
    const answer = await rawHttp(
      server.port,
      `GET ${path} HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\nConnection: close\r\n\r\n`,
    );
    expect(answer.status).toBe(404);
    expect(answer.body).not.toContain('outside');
    expect(answer.body).not.toContain(folder);
  });

  test('every answer carries the limits on the page', async () => {
    for (const path of ['/', '/main.js', '/nothing', '/request']) {
      const { headers } = await fetch(`${base}${path}`);
      const policy = headers.get('content-security-policy')!;
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("script-src 'self'");
      expect(policy).toContain("frame-ancestors 'none'");
      expect(policy).not.toMatch(/unsafe|\*|https?:/);
      expect(headers.get('x-content-type-options')).toBe('nosniff');
      expect(headers.get('referrer-policy')).toBe('no-referrer');
      expect(headers.get('cross-origin-opener-policy')).toBe('same-origin');
      expect(headers.get('cross-origin-resource-policy')).toBe('same-origin');
      expect(headers.get('cache-control')).toBe('no-store');
      expect(headers.get('set-cookie')).toBeNull();
    }
    expect((await fetch(base)).headers.get('content-type')).toBe('text/html; charset=utf-8');
    expect((await fetch(`${base}/main.js`)).headers.get('content-type')).toContain('text/javascript');
  });

  test('it listens on 127.0.0.1 alone', async () => {
    const others = Object.values(networkInterfaces())
      .flatMap((list) => list ?? [])
      .filter(({ address, family }) => address !== '127.0.0.1' && family === 'IPv4')
      .map(({ address }) => address);
    for (const address of [...others, '127.0.0.2', '[::1]']) {
      await expect(fetch(`http://${address}:${server.port}/`)).rejects.toThrow();
    }
  });
});

describe('the event stream', () => {
  test('carries events as lines, with blank ones as signs of life', async () => {
    const secret = await secretOf();
    const answer = await fetch(`${base}/events`, { headers: { Authorization: `Bearer ${secret}` } });
    const reader = answer.body!.pipeThrough(new TextDecoderStream()).getReader();
    expect(server.windows().listening).toBe(1);
    service.emit({ type: 'scout.done', run: 'r1', seconds: 2 });
    service.emit({ type: 'scout.cancelled', run: 'zwölf' });
    let text = '';
    const until = performance.now() + 350;
    while (performance.now() < until) text += (await reader.read()).value ?? '';
    const lines = text.split('\n');
    expect(lines.filter((line) => line !== '').map((line) => JSON.parse(line))).toEqual([
      { type: 'scout.done', run: 'r1', seconds: 2 },
      { type: 'scout.cancelled', run: 'zwölf' },
    ]);
    expect(lines.filter((line) => line === '').length).toBeGreaterThan(3);

    await reader.cancel();
    await expect.poll(() => server.windows().listening).toBe(0);
  });

  test('keeps trouble from before the window came', async () => {
    const secret = await secretOf();
    const trouble = {
      kind: 'problem',
      message: 'No such file.',
      file: 'a',
      fix: 'b',
      question: null,
    } as const;
    server.announce({ type: 'host.trouble', trouble });
    const answer = await fetch(`${base}/events`, { headers: { Authorization: `Bearer ${secret}` } });
    const reader = answer.body!.pipeThrough(new TextDecoderStream()).getReader();
    let text = '';
    while (!text.includes('}')) text += (await reader.read()).value ?? '';
    expect(JSON.parse(text.trim())).toEqual({ type: 'host.trouble', trouble });
    await reader.cancel();
  });

  test('drops a window that does not keep up, rather than remember for it', async () => {
    const secret = await secretOf();
    const socket = connect(server.port, '127.0.0.1');
    socket.write(
      `GET /events HTTP/1.1\r\nHost: 127.0.0.1:${server.port}\r\nAuthorization: Bearer ${secret}\r\n\r\n`,
    );
    await once(socket, 'readable');
    await expect.poll(() => server.windows().listening).toBe(1);
    const before = process.memoryUsage().arrayBuffers + process.memoryUsage().heapUsed;
    for (let count = 0; count < 400 && server.windows().listening > 0; count++) {
      service.emit({ type: 'scout.cancelled', run: 'r'.repeat(250_000) });
      await new Promise((resolve) => setImmediate(resolve));
    }
    expect(server.windows().listening).toBe(0);
    const after = process.memoryUsage().arrayBuffers + process.memoryUsage().heapUsed;
    expect(after - before).toBeLessThan(60e6);
    socket.destroy();
  });
});
