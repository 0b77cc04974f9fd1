import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Reply, Service, ServiceEvent, Trouble } from '../service/contract.ts';
import { BodyTrouble, readBody } from './body.ts';
import { BINARY_LIMIT, type Envelope, envelope, JSON_LIMIT, parseHeader, parseJson } from './envelope.ts';
import { isAnotherUser } from './peer.ts';
import type { Session } from './session.ts';
import { SECURITY_HEADERS, type StaticFile } from './static-files.ts';
import { refused, replyOf, troubleOf } from './trouble.ts';

export interface LoopbackServer {
  port: number;
  /** The address with the launch token in its fragment, which browsers never send. */
  address: string;
  /** Windows that listen for events now, and when that last changed (milliseconds of `performance.now`). */
  windows(): { listening: number; since: number };
  /** Tells every window; trouble is kept for the first one while none listens. */
  announce(event: ServiceEvent): void;
  close(): Promise<void>;
}

export interface LoopbackOptions {
  service: Service;
  session: Session;
  files: (path: string) => StaticFile | null;
  /** 0 lets the system choose a free one, which is the default. */
  port?: number;
  /** Milliseconds between signs of life on an event stream; default 15,000. */
  heartbeat?: number;
}

/** A stream that falls this far behind is dropped; the window opens a new one and asks for the summary again. */
const EVENT_BACKLOG = 8 * 1024 * 1024;

const HOST = '127.0.0.1';

/**
 * The service behind HTTP on 127.0.0.1. Only a page that came from here may speak (Host and Origin are checked
 * on every message, so neither a foreign page nor a renamed address gets in), and only with the secret that the
 * launch token was exchanged for. There are no cookies, so no other page can borrow the window's standing.
 */
export async function serveLoopback(options: LoopbackOptions): Promise<LoopbackServer> {
  const { service, session, files, heartbeat = 15_000 } = options;
  const streams = new Set<ServerResponse>();
  const waiting: ServiceEvent[] = [];
  let since = performance.now();
  let own = '';

  function send(response: ServerResponse, status: number, type: string, body: Uint8Array | string): void {
    response.writeHead(status, {
      ...SECURITY_HEADERS,
      'Cache-Control': 'no-store',
      'Content-Type': type,
      'Content-Length': Buffer.byteLength(body),
    });
    response.end(body);
  }

  const sendJson = (response: ServerResponse, status: number, value: unknown) =>
    send(response, status, 'application/json; charset=utf-8', JSON.stringify(value));

  const refuse = (response: ServerResponse, status: number, trouble: Trouble) =>
    sendJson(response, status, { ok: false, trouble } satisfies Reply);

  /** Null when the message comes from our own page, else why it is turned away. */
  function foreign(request: IncomingMessage): string | null {
    const { host, origin, 'sec-fetch-site': site } = request.headers;
    if (host !== own) return 'It was addressed to another host.';
    if (origin !== undefined && origin !== `http://${own}`) return 'It came from another page.';
    // A link followed from elsewhere, as from a terminal that is itself a web page, may show the empty window.
    const follows = request.method === 'GET' && request.headers['sec-fetch-dest'] === 'document';
    const ours = site === undefined || site === 'same-origin' || site === 'none';
    return ours || follows ? null : 'It came from another page.';
  }

  function authorized(request: IncomingMessage): boolean {
    const [scheme, secret] = (request.headers.authorization ?? '').split(' ');
    return scheme === 'Bearer' && secret !== undefined && session.holds(secret);
  }

  async function exchange(request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (isAnotherUser(request.socket)) {
      refuse(
        response,
        403,
        refused('Another user of this machine started this Hollowgate.', 'Start one of your own.'),
      );
      return;
    }
    const message = parseJson((await readBody(request, JSON_LIMIT)).toString('utf8'));
    const token = (message as { token?: unknown } | null)?.token;
    const outcome = session.exchange(typeof token === 'string' ? token : '');
    if ('secret' in outcome) return sendJson(response, 200, outcome);
    const [what, fix] =
      outcome.refusal === 'used'
        ? [
            'This address has been used already: it opens one window, once.',
            'Go on in the window it opened, or start Hollowgate again for a new address.',
          ]
        : [
            'This address is not the one this Hollowgate printed.',
            'Open the whole address it printed at the start, with everything behind the #.',
          ];
    refuse(response, 403, refused(what, fix));
  }

  async function readMessage(request: IncomingMessage): Promise<Envelope> {
    const type = (request.headers['content-type'] ?? '').split(';')[0]!.trim().toLowerCase();
    if (type === 'application/octet-stream') {
      const message = parseHeader(request.headers['x-hollowgate-request']);
      return envelope(message, await readBody(request, BINARY_LIMIT));
    }
    if (type === 'application/json') {
      return envelope(parseJson((await readBody(request, JSON_LIMIT)).toString('utf8')), null);
    }
    // A type that a plain HTML form can send is never taken.
    return envelope(null, null);
  }

  async function carry(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const { name, params, binary } = await readMessage(request);
    const reply = await replyOf(() => service.handle(name, params, binary));
    if (response.destroyed) return;
    if (reply.ok && reply.answer instanceof Uint8Array) {
      return send(response, 200, 'application/octet-stream', reply.answer);
    }
    sendJson(response, 200, reply.ok ? { ok: true, answer: reply.answer ?? null } : reply);
  }

  function stream(response: ServerResponse): void {
    response.writeHead(200, {
      ...SECURITY_HEADERS,
      'Cache-Control': 'no-store',
      'Content-Type': 'application/x-ndjson; charset=utf-8',
    });
    response.write('\n');
    for (const event of waiting.splice(0)) response.write(`${JSON.stringify(event)}\n`);
    streams.add(response);
    since = performance.now();
    response.on('close', () => {
      streams.delete(response);
      since = performance.now();
    });
  }

  function announce(event: ServiceEvent): void {
    if (streams.size === 0 && event.type === 'host.trouble') waiting.push(event);
    const line = `${JSON.stringify(event)}\n`;
    for (const response of streams) {
      if (response.writableLength > EVENT_BACKLOG) response.destroy();
      else response.write(line);
    }
  }

  async function route(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const reason = foreign(request);
    if (reason !== null) {
      return refuse(
        response,
        403,
        refused(`The message was turned away. ${reason}`, 'Use the window itself.'),
      );
    }
    const path = (request.url ?? '').split('?')[0]!;
    const method = request.method ?? '';
    const allowed = ALLOWED[path] ?? ['GET', 'HEAD'];
    if (!allowed.includes(method)) {
      response.setHeader('Allow', allowed.join(', '));
      return refuse(
        response,
        405,
        refused(`${method} is not how ${path} is asked.`, 'Use the window itself.'),
      );
    }
    if (path === '/session') return exchange(request, response);
    if (path === '/request' || path === '/events') {
      if (!authorized(request)) {
        return refuse(
          response,
          401,
          refused(
            'This window has no right to speak to the service.',
            'Open the address printed at the start.',
          ),
        );
      }
      return path === '/events' ? stream(response) : carry(request, response);
    }
    const file = files(path);
    if (file === null)
      return refuse(response, 404, refused('There is no such page here.', 'Open / instead.'));
    send(response, 200, file.type, file.bytes);
  }

  const server: Server = createServer(
    { headersTimeout: 10_000, requestTimeout: 120_000 },
    (request, response) => {
      response.on('error', () => {});
      route(request, response).catch((error: unknown) => {
        const trouble = troubleOf(error);
        if (trouble.kind === 'fault') console.error(error);
        if (response.headersSent) return response.destroy();
        const status = error instanceof BodyTrouble ? error.status : 400;
        refuse(response, trouble.kind === 'fault' ? 500 : status, trouble);
      });
    },
  );

  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(options.port ?? 0, HOST, resolve);
  });
  const { port } = server.address() as AddressInfo;
  own = `${HOST}:${port}`;
  const silence = service.listen(announce);
  const beat = setInterval(() => {
    for (const response of streams) response.write('\n');
  }, heartbeat);
  beat.unref();

  return {
    port,
    address: `http://${own}/#t=${session.token}`,
    windows: () => ({ listening: streams.size, since }),
    announce,
    async close() {
      clearInterval(beat);
      silence();
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      server.closeAllConnections();
      await closed;
    },
  };
}

const ALLOWED: Readonly<Record<string, readonly string[]>> = {
  '/session': ['POST'],
  '/request': ['POST'],
  '/events': ['GET'],
};
