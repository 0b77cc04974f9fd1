import type { EventEmitter } from 'node:events';
import type { LoopbackServer } from './loopback-server.ts';

/** Milliseconds a window may be away, as when it is reloaded, before it counts as closed. */
const RELOAD_GRACE = 4000;
/** The same where a browser goes on running without a window, as it does on macOS. */
const AWAY_GRACE = 120_000;
/** Milliseconds a browser that handed its window to another process has to show it. */
const OPENING_GRACE = 20_000;

/**
 * Resolves once the browser has ended and no window listens any more. A browser may hand its window to one that
 * runs already and end at once, so its end alone says little; nor does it end with its window everywhere. Calls `noWindow` once if none ever comes; the
 * service then stays, for the address to be opened by hand.
 */
export function windowClosed(
  browser: EventEmitter,
  server: Pick<LoopbackServer, 'windows'>,
  noWindow: () => void,
  outlivesWindow = process.platform === 'darwin',
): Promise<void> {
  return new Promise((resolve) => {
    let seen = false;
    let told = false;
    let ended = Number.POSITIVE_INFINITY;
    let failed = false;
    const end = (badly: boolean) => {
      ended = Math.min(ended, performance.now());
      failed ||= badly;
    };
    browser.once('error', () => end(true));
    browser.once('exit', (code: number | null) => end(code !== 0));
    const watch = setInterval(() => {
      const { listening, since } = server.windows();
      seen ||= listening > 0;
      const now = performance.now();
      const away = now - since;
      if (listening > 0) return;
      if (seen && ((ended <= now && away > RELOAD_GRACE) || (outlivesWindow && away > AWAY_GRACE))) {
        clearInterval(watch);
        resolve();
      } else if (!seen && !told && ended <= now && (failed || now - ended > OPENING_GRACE)) {
        told = true;
        noWindow();
      }
    }, 500);
  });
}
