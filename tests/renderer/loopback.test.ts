import { describe, expect, it } from 'vitest';
import { type Browser, loopbackConnection } from '../../renderer/connection/loopback.ts';
import { troubleOf } from '../../renderer/connection/trouble.ts';

interface Call {
  path: string;
  init: RequestInit;
}

/** A browser whose network answers from a list of rules; keeps what was asked. */
function browser(
  hash: string,
  answer: (call: Call) => Response | Promise<Response>,
  kept: Record<string, string> = {},
): Browser & { calls: Call[]; kept: Record<string, string>; dropped: () => boolean } {
  const calls: Call[] = [];
  let dropped = false;
  return {
    calls,
    kept,
    dropped: () => dropped,
    hash,
    dropHash: () => {
      dropped = true;
    },
    storage: {
      getItem: (key) => kept[key] ?? null,
      setItem: (key, value) => {
        kept[key] = value;
      },
      removeItem: (key) => {
        delete kept[key];
      },
    },
    fetch: async (path, init = {}) => {
      const call = { path: String(path), init };
      calls.push(call);
      return answer(call);
    },
  };
}

const json = (body: unknown, status = 200) =>
  new Response(JSON.stringify(body), {
    status,
    headers: { 'Content-Type': 'application/json; charset=utf-8' },
  });
const header = ({ init }: Call, name: string) => new Headers(init.headers).get(name);

async function rejected(promise: Promise<unknown>) {
  return troubleOf(
    await promise.then(
      () => expect.fail('should have been refused'),
      (reason: unknown) => reason,
    ),
  );
}

describe('the session', () => {
  it('exchanges the token once, keeps the secret, and takes the token out of the address', async () => {
    const it = browser('#t=one-time', ({ path }) =>
      path === '/session' ? json({ secret: 's3cret' }) : json({ ok: true, answer: null }),
    );
    const connection = await loopbackConnection(it);
    await connection.request('property.summary', {});
    expect(it.dropped()).toBe(true);
    expect(Object.values(it.kept)).toEqual(['s3cret']);
    expect(it.calls.map((call) => call.path)).toEqual(['/session', '/request']);
    expect(JSON.parse(String(it.calls[0]!.init.body))).toEqual({ token: 'one-time' });
    expect(header(it.calls[1]!, 'Authorization')).toBe('Bearer s3cret');
  });

  it('goes on with the kept secret after a reload', async () => {
    const it = browser('', () => json({ ok: true, answer: null }), { 'hollowgate.secret': 'kept' });
    await (await loopbackConnection(it)).request('property.summary', {});
    expect(it.calls.map((call) => call.path)).toEqual(['/request']);
    expect(header(it.calls[0]!, 'Authorization')).toBe('Bearer kept');
  });

  it('says plainly what to do without a token, with a used one, and with no host', async () => {
    expect((await rejected(loopbackConnection(browser('', () => json({}))))).fix).toMatch(/npm start/);
    expect((await rejected(loopbackConnection(browser('#t=used', () => json({}, 403))))).fix).toMatch(
      /works once/,
    );
    const gone = browser('#t=x', () => Promise.reject(new TypeError('fetch failed')));
    expect((await rejected(loopbackConnection(gone))).message).toMatch(/does not answer/);
  });
});

describe('requests', () => {
  const connected = (answer: (call: Call) => Response) =>
    browser('', answer, { 'hollowgate.secret': 'kept' });

  it('sends JSON alone as JSON, and with bytes as bytes with the JSON in a header', async () => {
    const it = connected(() => json({ ok: true, answer: { received: 3 } }));
    const connection = await loopbackConnection(it);
    await connection.request('scout.start', {});
    const params = { staging: 's', name: 'Höhe.tif', last: true };
    await connection.request('import.file', params, new Uint8Array([1, 2, 3]));
    const [plain, binary] = it.calls as [Call, Call];
    expect(header(plain, 'Content-Type')).toBe('application/json');
    expect(JSON.parse(String(plain.init.body))).toEqual({ name: 'scout.start', params: {} });
    expect(header(binary, 'Content-Type')).toBe('application/octet-stream');
    expect(binary.init.body).toEqual(new Uint8Array([1, 2, 3]));
    const text = Buffer.from(header(binary, 'X-Hollowgate-Request')!, 'base64url').toString('utf8');
    expect(JSON.parse(text)).toEqual({ name: 'import.file', params });
  });

  it('lets everything else go before the map’s tiles', async () => {
    const it = browser('#t=one-time', ({ path }) =>
      path === '/session' ? json({ secret: 's' }) : json({ ok: true, answer: null }),
    );
    const connection = await loopbackConnection(it);
    await connection.request('map.tile', { layer: 'shade', z: 0, x: 0, y: 0 });
    await connection.request('map.reading', { x: 1, y: 2 });
    expect(it.calls.slice(1).map(({ init }) => init.priority)).toEqual(['low', 'high']);
  });

  it('hands back bytes as bytes', async () => {
    const it = connected(
      () =>
        new Response(new Uint8Array([137, 80]), { headers: { 'Content-Type': 'application/octet-stream' } }),
    );
    const tile = await (await loopbackConnection(it)).request('map.tile', {
      layer: 'shade',
      z: 0,
      x: 0,
      y: 0,
    });
    expect(tile).toEqual(new Uint8Array([137, 80]));
  });

  it('rejects with the very trouble the service sent', async () => {
    const trouble = {
      kind: 'problem',
      message: 'notes.txt is no raster.',
      file: 'notes.txt',
      fix: 'Drop a GeoTIFF.',
      question: null,
    } as const;
    const it = connected(() => json({ ok: false, trouble }, 400));
    expect(await rejected((await loopbackConnection(it)).request('scout.start', {}))).toEqual(trouble);
  });

  it('turns an answer that is not of the protocol into plain words', async () => {
    const it = connected(() => new Response('<h1>Bad gateway</h1>', { status: 502 }));
    const trouble = await rejected((await loopbackConnection(it)).request('scout.start', {}));
    expect(trouble.kind).toBe('fault');
    expect(trouble.message).toContain('502');
  });
});

describe('events', () => {
  it('reads the stream and opens it again after it ends', async () => {
    const event = (fraction: number) => ({
      type: 'scout.progress',
      run: 'r',
      fraction,
      doing: 'x',
      remaining: null,
    });
    let opened = 0;
    const it = browser(
      '',
      () => {
        opened += 1;
        return new Response(`${JSON.stringify(event(opened / 10))}\n`);
      },
      { 'hollowgate.secret': 'kept' },
    );
    const connection = await loopbackConnection(it);
    const got: unknown[] = [];
    let reopened = 0;
    connection.onReopened(() => {
      reopened += 1;
    });
    await new Promise<void>((resolve) => {
      const stop = connection.listen((value) => {
        got.push(value);
        if (got.length === 2) {
          stop();
          resolve();
        }
      });
    });
    expect(got).toEqual([event(0.1), event(0.2)]);
    expect(reopened).toBe(1);
    expect(header(it.calls[0]!, 'Authorization')).toBe('Bearer kept');
  });
});

describe('troubleOf', () => {
  it('keeps a fault of ours readable', () => {
    expect(troubleOf(new Error('cells is undefined'))).toMatchObject({
      kind: 'fault',
      message: 'cells is undefined',
    });
    expect(troubleOf('odd')).toMatchObject({ kind: 'fault', message: 'odd' });
  });
});
