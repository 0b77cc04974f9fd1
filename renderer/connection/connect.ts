import type { Connection } from '../../electron/service/contract.ts';
import { type LoopbackConnection, loopbackConnection } from './loopback.ts';

declare global {
  interface Window {
    /** Put there by Electron's preload, and only by it. */
    hollowgate?: Connection & { dragOut(file: string): void };
  }
}

/** The desktop window's own connection where there is one, else the loopback host's. */
export async function connect(): Promise<Connection | LoopbackConnection> {
  if (window.hollowgate) return window.hollowgate;
  return loopbackConnection({
    fetch: window.fetch.bind(window),
    storage: window.sessionStorage,
    hash: window.location.hash,
    dropHash: () => window.history.replaceState(null, '', window.location.pathname),
  });
}
