import type { Reply, ServiceEvent } from '../service/contract.ts';

/** What Electron's main process sends the service process, by structured clone. */
export type ToService =
  | { type: 'start'; dataFolder: string; version: string; openSample: boolean }
  | { type: 'request'; id: number; name: string; params: unknown; binary: Uint8Array | null }
  | { type: 'picked'; id: number; path: string | null }
  | { type: 'close' };

/** What the service process sends back. `pick` asks for the system's dialog, which only main can show. */
export type FromService =
  | { type: 'reply'; id: number; reply: Reply }
  | { type: 'event'; event: ServiceEvent }
  | { type: 'pick'; id: number; what: 'folder' | 'file' }
  | { type: 'closed' };

/** Names of the lines between the window and main. */
export const REQUEST_CHANNEL = 'hollowgate:request';
export const EVENT_CHANNEL = 'hollowgate:event';
/** A file the window has begun to drag out. */
export const DRAG_CHANNEL = 'hollowgate:drag';

/** The window's own address: a scheme of ours, so that it has an origin and no file access. */
export const SCHEME = 'hollowgate';
export const WINDOW_ADDRESS = `${SCHEME}://window/`;
