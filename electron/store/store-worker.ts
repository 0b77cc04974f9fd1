import { parentPort, workerData } from 'node:worker_threads';
import { packTrouble, type WorkerTrouble } from '../workers/worker-trouble.ts';
import { openProperty, type PropertyFile } from './property-file.ts';

/** The one thread that touches the property file: opens it and answers calls in the order they come. */

export type StoreMethod = keyof PropertyFile;

export interface StoreCall {
  id: number;
  method: StoreMethod;
  parameters: unknown[];
}

export type StoreAnswer = { id: number } & (
  | { type: 'done'; value: unknown }
  | { type: 'failed'; trouble: WorkerTrouble }
);

const port = parentPort;
if (!port) throw new Error('store-worker runs as a worker thread');
const send = (answer: StoreAnswer) => port.postMessage(answer);

/** The opening itself answers under this number. */
const OPENING = 0;

try {
  const property = openProperty((workerData as { path: string }).path);
  send({ id: OPENING, type: 'done', value: null });
  port.on('message', ({ id, method, parameters }: StoreCall) => {
    try {
      const value = (property[method] as (...parameters: unknown[]) => unknown)(...parameters);
      send({ id, type: 'done', value: value ?? null });
    } catch (error) {
      send({ id, type: 'failed', trouble: packTrouble(error) });
    }
    if (method === 'close') port.close();
  });
} catch (error) {
  send({ id: OPENING, type: 'failed', trouble: packTrouble(error) });
  port.close();
}
