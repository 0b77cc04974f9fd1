import type { Connection, ServiceEvent, Trouble } from '../../electron/service/contract.ts';
import { base64url, lineReader } from './lines.ts';
import { rejection } from './trouble.ts';

const SECRET = 'hollowgate.secret';
const FIRST_WAIT = 500;
const LONGEST_WAIT = 10_000;

/** The loopback connection can also tell that events may have been missed. */
export interface LoopbackConnection extends Connection {
  /** Called when the event stream is open again after a break. */
  onReopened(handler: () => void): void;
}

export interface Browser {
  fetch: typeof fetch;
  storage: Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;
  /** The address fragment, `#t=<token>` on the first visit. */
  hash: string;
  dropHash(): void;
}

const lost = (message: string, fix: string): Trouble => ({
  kind: 'fault',
  message,
  file: null,
  fix,
  question: null,
});

const NO_SESSION = lost(
  'This page has no session with Hollowgate.',
  'Start Hollowgate again with "npm start" and use the address it opens. An address works once.',
);
const NO_HOST = lost(
  'Hollowgate does not answer.',
  'See whether it is still running where you started it, and start it again if not.',
);

/** The window's end of the loopback host: one POST a request, one streamed GET for events. */
export async function loopbackConnection(browser: Browser): Promise<LoopbackConnection> {
  const secret = await session(browser);
  const authorization = `Bearer ${secret}`;
  let reopened = () => {};

  const send = async (init: {
    headers: Record<string, string>;
    body: BodyInit;
    priority: RequestPriority;
  }): Promise<Response> => {
    try {
      return await browser.fetch('/request', {
        method: 'POST',
        headers: { ...init.headers, Authorization: authorization },
        body: init.body,
        priority: init.priority,
        cache: 'no-store',
      });
    } catch {
      throw rejection(NO_HOST);
    }
  };

  return {
    request: async (name, params, binary) => {
      const text = JSON.stringify({ name, params });
      // A browser keeps six connections to a host: a click must not queue behind a screenful of tiles.
      const priority = name === 'map.tile' ? 'low' : 'high';
      const response = await send(
        binary
          ? {
              headers: {
                'Content-Type': 'application/octet-stream',
                'X-Hollowgate-Request': base64url(text),
              },
              body: binary as Uint8Array<ArrayBuffer>,
              priority,
            }
          : { headers: { 'Content-Type': 'application/json' }, body: text, priority },
      );
      return (await readAnswer(response)) as never;
    },
    listen: (handler) => streamEvents(browser, authorization, handler, () => reopened()),
    onReopened: (handler) => {
      reopened = handler;
    },
  };
}

async function session(browser: Browser): Promise<string> {
  const token = new URLSearchParams(browser.hash.replace(/^#/, '')).get('t');
  if (token === null) {
    const kept = browser.storage.getItem(SECRET);
    if (kept === null) throw rejection(NO_SESSION);
    return kept;
  }
  browser.dropHash();
  let response: Response;
  try {
    response = await browser.fetch('/session', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify({ token }),
      cache: 'no-store',
    });
  } catch {
    throw rejection(NO_HOST);
  }
  if (!response.ok) throw rejection(NO_SESSION);
  const { secret } = (await response.json()) as { secret: string };
  browser.storage.setItem(SECRET, secret);
  return secret;
}

async function readAnswer(response: Response): Promise<unknown> {
  const type = response.headers.get('Content-Type') ?? '';
  if (response.ok && type.startsWith('application/octet-stream'))
    return new Uint8Array(await response.arrayBuffer());
  if (!type.startsWith('application/json')) {
    if (response.status === 401 || response.status === 403) throw rejection(NO_SESSION);
    throw rejection({ ...NO_HOST, message: `Hollowgate answered with an error (${response.status}).` });
  }
  const body = (await response.json()) as { ok: true; answer: unknown } | { ok: false; trouble: Trouble };
  if (!body.ok) throw rejection(body.trouble);
  return body.answer;
}

/** Reads events until stopped; after a break it tries again, waiting twice as long each time up to 10 s. */
function streamEvents(
  browser: Browser,
  authorization: string,
  handler: (event: ServiceEvent) => void,
  reopened: () => void,
): () => void {
  const stop = new AbortController();
  const run = async () => {
    let wait = FIRST_WAIT;
    let broken = false;
    while (!stop.signal.aborted) {
      try {
        const response = await browser.fetch('/events', {
          headers: { Authorization: authorization },
          cache: 'no-store',
          signal: stop.signal,
        });
        if (response.status === 401 || response.status === 403) return;
        if (response.ok && response.body) {
          wait = FIRST_WAIT;
          if (broken) reopened();
          broken = true;
          const read = lineReader((value) => handler(value as ServiceEvent));
          const reader = response.body.getReader();
          for (let part = await reader.read(); !part.done; part = await reader.read()) read(part.value);
        }
      } catch {
        // A break in the line is expected when the host restarts or the laptop sleeps; we try again.
      }
      await pause(wait, stop.signal);
      wait = Math.min(wait * 2, LONGEST_WAIT);
    }
  };
  void run();
  return () => stop.abort();
}

function pause(milliseconds: number, signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, milliseconds);
    signal.addEventListener(
      'abort',
      () => {
        clearTimeout(timer);
        resolve();
      },
      { once: true },
    );
  });
}
