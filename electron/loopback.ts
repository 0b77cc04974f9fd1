import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { browserArguments, findBrowser, isRoot } from './host/browser.ts';
import { type LoopbackServer, serveLoopback } from './host/loopback-server.ts';
import { dataFolder, dist, version } from './host/places.ts';
import { createSession } from './host/session.ts';
import { staticFiles } from './host/static-files.ts';
import { troubleOf } from './host/trouble.ts';
import { windowClosed } from './host/window-watch.ts';
import type { Service } from './service/contract.ts';
import { createService } from './service/service.ts';

export interface LoopbackRun {
  /** A property file or folder of inputs to open; null opens the sample. */
  path: string | null;
  /** Whether to look for a browser; the address is printed in any case that none is opened. */
  openBrowser: boolean;
  /** 0 lets the system choose. */
  port: number;
}

/** A start that fails for a reason the person can mend; its message says both. */
export class CannotStart extends Error {}

/** Milliseconds the service has to close its files. */
const CLOSING_TIME = 8000;

/** Runs the service here and its window in a browser, until the window is closed or Ctrl-C. */
export async function runLoopback(run: LoopbackRun): Promise<void> {
  const data = dataFolder();
  const profile = join(data, 'browser-profile');
  await orExplain(() => mkdirSync(profile, { recursive: true, mode: 0o700 }), {
    any: `Hollowgate cannot make its folder ${data}. Free the place or name another one in HOLLOWGATE_DATA.`,
  });
  const files = await orExplain(() => staticFiles(join(dist, 'renderer')), {
    any: 'The window has not been built. Run "npm run build" first; "npm start" does that by itself.',
  });
  const service = await createService({
    dataFolder: data,
    host: 'loopback',
    version: version(),
    openSample: run.path === null,
  });
  const server = await orExplain(
    () => serveLoopback({ service, session: createSession(), files, port: run.port }),
    {
      EADDRINUSE: `Port ${run.port} is in use. Leave --port away to take a free one.`,
      EACCES: `Port ${run.port} may not be used here. Leave --port away to take a free one.`,
    },
  );
  // What fails outside any request is said in the window and does not take it down: edits are whole in the file.
  process.on('uncaughtException', (error) => {
    console.error(error);
    server.announce({ type: 'host.trouble', trouble: troubleOf(error) });
  });
  if (run.path !== null) openPath(service, server, run.path);

  const printAddress = (why: string) =>
    console.log(`${why}Open this address; it works once, in one window:\n${server.address}`);
  const browser = run.openBrowser ? openBrowser(server, profile) : null;
  if (browser === null) printAddress(run.openBrowser ? 'No Chromium-family browser was found. ' : '');
  const ends = [interrupted()];
  if (browser !== null) {
    ends.push(windowClosed(browser, server, () => printAddress('The browser did not open a window. ')));
  }
  await Promise.race(ends);
  browser?.kill();
  await server.close();
  // A file half read may take its time; the store is safe to leave, so nobody waits long.
  await Promise.race([service.close(), setTimeout(CLOSING_TIME, null, { ref: false })]);
}

/** Does what a start needs, or throws the plain sentence for the system's error code, `any` for all others. */
async function orExplain<T>(work: () => T | Promise<T>, sentences: Record<string, string>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    const sentence = sentences[(error as NodeJS.ErrnoException).code ?? ''] ?? sentences.any;
    throw sentence === undefined ? error : new CannotStart(sentence);
  }
}

function openPath(service: Service, server: LoopbackServer, path: string): void {
  service
    .handle('property.open', { path }, null)
    .catch((error: unknown) => server.announce({ type: 'host.trouble', trouble: troubleOf(error) }));
}

function openBrowser(server: LoopbackServer, profile: string): ChildProcess | null {
  const program = findBrowser();
  if (program === null) return null;
  return spawn(program, browserArguments(server.address, profile, isRoot()), { stdio: 'ignore' });
}

function interrupted(): Promise<void> {
  return new Promise((resolve) => {
    let once = false;
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
      process.on(signal, () => {
        if (once) process.exit(130);
        once = true;
        resolve();
      });
    }
  });
}
