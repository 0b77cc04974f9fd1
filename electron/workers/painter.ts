import { Worker } from 'node:worker_threads';
import type { PaintLayer, PaintSource } from '../writers/layers.ts';
import type { PaintWindow } from '../writers/sample.ts';
import { unpackTrouble, type WorkerTrouble } from './worker-trouble.ts';
import { workerUrl } from './worker-url.ts';

export interface ToPaintWorker {
  id: number;
  layer: PaintLayer;
  window: PaintWindow;
  changed: PaintSource;
}

export type FromPaintWorker = { id: number; png: Uint8Array } | { id: number; trouble: WorkerTrouble };

export interface Painter {
  /** Paints a window of one layer from the artifact or overlay behind it, as PNG. */
  paint<K extends keyof PaintSource>(
    layer: PaintLayer,
    name: K,
    artifact: PaintSource[K],
    window: PaintWindow,
  ): Promise<Uint8Array>;
  close(): Promise<void>;
}

interface Waiting {
  resolve(png: Uint8Array): void;
  reject(reason: Error): void;
}

/**
 * Paints map tiles in a thread of its own: a screenful is some 30 tiles of 10 to 60 ms each, and a click must not
 * wait behind them. A thread that dies fails the tiles it had, and the next tile starts another.
 */
export function createPainter(): Painter {
  const url = workerUrl('paint-worker', import.meta.url);
  let worker: Worker | null = null;
  let sent = new Map<keyof PaintSource, unknown>();
  const waiting = new Map<number, Waiting>();
  let nextId = 1;

  const start = (): Worker => {
    const started = new Worker(url);
    worker = started;
    sent = new Map();
    started.on('message', (message: FromPaintWorker) => {
      const tile = waiting.get(message.id);
      waiting.delete(message.id);
      if ('png' in message) tile?.resolve(message.png);
      else tile?.reject(unpackTrouble(message.trouble));
    });
    const end = (reason: Error) => {
      if (worker !== started) return;
      worker = null;
      for (const { reject } of waiting.values()) reject(reason);
      waiting.clear();
    };
    started.on('error', end);
    started.on('exit', (code) => end(new Error(`the map's painter stopped with code ${code}`)));
    return started;
  };

  return {
    paint(layer, name, artifact, window) {
      const painter = worker ?? start();
      const changed = sent.get(name) === artifact ? {} : { [name]: artifact };
      sent.set(name, artifact);
      const id = nextId++;
      return new Promise((resolve, reject) => {
        waiting.set(id, { resolve, reject });
        painter.postMessage({ id, layer, window, changed } satisfies ToPaintWorker);
      });
    },
    async close() {
      await worker?.terminate();
    },
  };
}
