import type { Reply, ServiceEvent } from '../service/contract.ts';
import type { Envelope } from './envelope.ts';
import { fault } from './trouble.ts';
import type { FromService, ToService } from './wire.ts';

/** As much of Electron's utility process as the link uses. */
export interface ServiceProcess {
  postMessage(message: ToService): void;
  kill(): boolean;
  on(event: 'message', listener: (message: FromService) => void): unknown;
  on(event: 'exit', listener: (code: number) => void): unknown;
}

export interface ServiceLink {
  /** One request to its outcome; never rejects. */
  request(envelope: Envelope): Promise<Reply>;
  /** Lets the service close its files, then ends its process. */
  close(): Promise<void>;
}

export interface LinkOptions {
  start(): ServiceProcess;
  dataFolder: string;
  version: string;
  openSample: boolean;
  tell(event: ServiceEvent): void;
  pick(what: 'folder' | 'file'): Promise<string | null>;
}

/** More deaths than this within five minutes, and the service is left down. */
const MOST_RESTARTS = 3;
const RESTART_WINDOW = 5 * 60_000;
/** Milliseconds the service has to close its files. */
const CLOSING_TIME = 8000;

const DOWN = fault(
  'The part of Hollowgate that does the work has stopped.',
  'Close the window and start Hollowgate again. Every finished edit is in your property file.',
);

const INTERRUPTED = fault(
  'The part of Hollowgate that does the work stopped before it answered.',
  'Open your property again to go on. Every finished edit is in its file.',
);

/** Main's end of the line to the service process, which it starts again when it dies. */
export function linkService(options: LinkOptions): ServiceLink {
  const waiting = new Map<number, (reply: Reply) => void>();
  let deaths: number[] = [];
  let nextId = 1;
  let closing: (() => void) | null = null;
  let child: ServiceProcess | null = null;

  function launch(openSample: boolean): void {
    const process = options.start();
    child = process;
    process.on('message', (message) => {
      if (message.type === 'reply') {
        waiting.get(message.id)?.(message.reply);
        waiting.delete(message.id);
      } else if (message.type === 'event') options.tell(message.event);
      else if (message.type === 'closed') closing?.();
      else {
        void options.pick(message.what).then((path) => {
          if (child === process) process.postMessage({ type: 'picked', id: message.id, path });
        });
      }
    });
    process.on('exit', (code) => died(code));
    const { dataFolder, version } = options;
    process.postMessage({ type: 'start', dataFolder, version, openSample });
  }

  function died(code: number): void {
    child = null;
    for (const settle of waiting.values()) settle({ ok: false, trouble: INTERRUPTED });
    waiting.clear();
    if (closing === null) restart(code);
    else closing();
  }

  function restart(code: number): void {
    const now = performance.now();
    deaths = [...deaths.filter((at) => now - at < RESTART_WINDOW), now];
    console.error(`The service process ended with code ${code}.`);
    options.tell({ type: 'property.changed', summary: null });
    if (deaths.length > MOST_RESTARTS) {
      options.tell({ type: 'host.trouble', trouble: DOWN });
      return;
    }
    launch(false);
    options.tell({
      type: 'host.trouble',
      trouble: fault(
        'The part of Hollowgate that does the work stopped unexpectedly and has been started again.',
        'Open your property again to go on. Every finished edit is in its file.',
      ),
    });
  }

  launch(options.openSample);
  return {
    request({ name, params, binary }) {
      const process = child;
      if (process === null) return Promise.resolve({ ok: false, trouble: DOWN });
      return new Promise((resolve) => {
        const id = nextId++;
        waiting.set(id, resolve);
        process.postMessage({ type: 'request', id, name, params, binary });
      });
    },
    close() {
      return new Promise((resolve) => {
        const process = child;
        if (process === null) return resolve();
        const late = setTimeout(() => closing?.(), CLOSING_TIME);
        closing = () => {
          clearTimeout(late);
          closing = () => {};
          process.kill();
          resolve();
        };
        process.postMessage({ type: 'close' });
      });
    },
  };
}
