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

/** Milliseconds a window may be away, as when it is reloaded, before it counts as closed. */
const RELOAD_GRACE = 4000;
/** Milliseconds a browser that handed its window to another process has to show it. */
const OPENING_GRACE = 20_000;
/** Milliseconds the service has to close its files. */
const CLOSING_TIME = 8000;

/** Runs the service here and its window in a browser, until the window is closed or Ctrl-C. */
export async function runLoopback(run: LoopbackRun): Promise<void> {
  const data = dataFolder();
  mkdirSync(data, { recursive: true });
  const service = await createService({
    dataFolder: data,
    host: 'loopback',
    version: version(),
    openSample: run.path === null,
  });
  const files = staticFiles(join(dist, 'renderer'));
  const server = await serveLoopback({ service, session: createSession(), files, port: run.port });
  if (run.path !== null) openPath(service, server, run.path);

  const browser = run.openBrowser ? openBrowser(server, data) : null;
  if (browser === null) {
    const why = run.openBrowser ? 'No Chromium-family browser was found. ' : '';
    console.log(`${why}Open this address; it works once, in one window:\n${server.address}`);
  }
  await Promise.race([interrupted(), ...(browser ? [windowClosed(browser, server)] : [])]);
  browser?.kill();
  await server.close();
  // A file half read may take its time; the store is safe to leave, so nobody waits long.
  await Promise.race([service.close(), setTimeout(CLOSING_TIME, null, { ref: false })]);
}

function openPath(service: Service, server: LoopbackServer, path: string): void {
  service
    .handle('property.open', { path }, null)
    .catch((error: unknown) => server.announce({ type: 'host.trouble', trouble: troubleOf(error) }));
}

function openBrowser(server: LoopbackServer, data: string): ChildProcess | null {
  const program = findBrowser();
  if (program === null) return null;
  const profile = join(data, 'browser-profile');
  mkdirSync(profile, { recursive: true });
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

/**
 * Resolves once the browser has ended and no window listens any more. A browser may hand its window to one that
 * runs already and end at once, so its end alone says little; if no window ever comes, the address is printed.
 */
function windowClosed(browser: ChildProcess, server: LoopbackServer): Promise<void> {
  return new Promise((resolve) => {
    let seen = false;
    let ended: number | null = null;
    let told = false;
    const end = (failed: boolean) => {
      ended ??= performance.now() - (failed ? OPENING_GRACE : 0);
    };
    browser.once('error', () => end(true));
    browser.once('exit', (code) => end(code !== 0));
    const watch = setInterval(() => {
      const { listening, since } = server.windows();
      seen ||= listening > 0;
      if (ended === null || listening > 0) return;
      const now = performance.now();
      if (seen && now - since > RELOAD_GRACE) {
        clearInterval(watch);
        resolve();
      } else if (!seen && !told && now - ended > OPENING_GRACE) {
        told = true;
        console.log(`The browser did not open a window. Open this address yourself:\n${server.address}`);
      }
    }, 500);
  });
}
