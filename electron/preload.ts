/** All that the window's page gets from the machine: one way to ask, one way to listen. */
import { contextBridge, ipcRenderer } from 'electron';
import { DRAG_CHANNEL, EVENT_CHANNEL, REQUEST_CHANNEL } from './host/wire.ts';
import type { Reply, ServiceEvent } from './service/contract.ts';

contextBridge.exposeInMainWorld('hollowgate', {
  /** A refusal is a plain `{ trouble }`: an Error would lose what it carries on the way across. */
  async request(name: string, params: unknown, binary?: Uint8Array): Promise<unknown> {
    const reply = (await ipcRenderer.invoke(REQUEST_CHANNEL, name, params, binary ?? null)) as Reply;
    return reply.ok ? reply.answer : Promise.reject({ trouble: reply.trouble });
  },
  /** Begins to drag a file out that the program wrote. */
  dragOut(file: string): void {
    ipcRenderer.send(DRAG_CHANNEL, file);
  },
  listen(handler: (event: ServiceEvent) => void): () => void {
    const pass = (_: unknown, event: ServiceEvent) => handler(event);
    ipcRenderer.on(EVENT_CHANNEL, pass);
    return () => {
      ipcRenderer.removeListener(EVENT_CHANNEL, pass);
    };
  },
});
