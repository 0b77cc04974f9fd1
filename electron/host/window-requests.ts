import { type BrowserWindow, type IpcMainInvokeEvent, ipcMain } from 'electron';
import type { Reply } from '../service/contract.ts';
import { envelope } from './envelope.ts';
import type { ServiceLink } from './service-link.ts';
import { refused, troubleOf } from './trouble.ts';
import { isWindowAddress } from './window-scheme.ts';
import { REQUEST_CHANNEL } from './wire.ts';

/** Whether a message comes from the main frame of our own window, showing our own page. */
export function isOurs(
  event: Pick<IpcMainInvokeEvent, 'sender' | 'senderFrame'>,
  window: BrowserWindow,
): boolean {
  const frame = event.senderFrame;
  return (
    event.sender === window.webContents &&
    frame !== null &&
    frame.parent === null &&
    isWindowAddress(frame.url)
  );
}

/**
 * Takes the window's requests, checks where they come from and their shape, and passes them to the service.
 *
 * @param answered hears of every answer on its way to the window
 */
export function takeRequests(
  window: BrowserWindow,
  link: ServiceLink,
  answered: (name: string, answer: unknown) => void,
): void {
  ipcMain.handle(
    REQUEST_CHANNEL,
    async (event, name: unknown, params: unknown, binary: unknown): Promise<Reply> => {
      if (!isOurs(event, window)) {
        return {
          ok: false,
          trouble: refused(
            'The message was turned away: it came from another page.',
            'Use the window itself.',
          ),
        };
      }
      try {
        const reply = await link.request(envelope({ name, params }, binary));
        if (reply.ok) answered(name as string, reply.answer);
        return reply;
      } catch (error) {
        return { ok: false, trouble: troubleOf(error) };
      }
    },
  );
}
