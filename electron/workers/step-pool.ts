import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { unpackTrouble, type WorkerTrouble } from './worker-trouble.ts';
import { workerUrl } from './worker-url.ts';

export interface ToStepWorker {
  /** Name of a step or of an inquiry. */
  step: string;
  inputs: Record<string, unknown>;
  params: unknown;
  /** One Int32: not 0 once the run was cancelled. */
  cancel: SharedArrayBuffer;
}

export type FromStepWorker =
  | { type: 'progress'; fraction: number }
  | { type: 'done'; products: Record<string, unknown> }
  | WorkerTrouble;

export interface StepPool {
  size: number;
  /** Runs one step in a free worker; waits for one when all are busy. */
  run(task: ToStepWorker, progress: (fraction: number) => void): Promise<Record<string, unknown>>;
  close(): Promise<void>;
}

/** Worker threads, started when first needed, that run core steps and inquiries on shared buffers. A worker that dies is replaced and its step fails. */
export function createStepPool(size = Math.max(1, Math.min(8, availableParallelism()))): StepPool {
  const url = workerUrl('step-worker', import.meta.url);
  const idle: Worker[] = [];
  const waiting: ((worker: Worker) => void)[] = [];
  const all = new Set<Worker>();

  const start = () => {
    const worker = new Worker(url);
    all.add(worker);
    return worker;
  };
  const free = (worker: Worker) => {
    const next = waiting.shift();
    if (next) next(worker);
    else idle.push(worker);
  };
  const take = (): Promise<Worker> => {
    const worker = idle.pop() ?? (all.size < size ? start() : null);
    if (worker) return Promise.resolve(worker);
    return new Promise((resolve) => {
      waiting.push(resolve);
    });
  };

  return {
    size,
    async run(task, progress) {
      const worker = await take();
      return new Promise((resolve, reject) => {
        const settle = (alive: boolean) => {
          worker.off('message', onMessage);
          worker.off('error', onError);
          worker.off('exit', onExit);
          if (alive) return free(worker);
          all.delete(worker);
          if (waiting.length > 0) free(start());
        };
        const onMessage = (message: FromStepWorker) => {
          if (message.type === 'progress') return progress(message.fraction);
          settle(true);
          if (message.type === 'done') resolve(message.products);
          else reject(unpackTrouble(message));
        };
        const onError = (error: Error) => {
          settle(false);
          reject(new Error(`${task.step}: ${error.message}`));
        };
        const onExit = (code: number) => {
          settle(false);
          reject(new Error(`${task.step}: its worker stopped with code ${code}`));
        };
        worker.on('message', onMessage);
        worker.on('error', onError);
        worker.on('exit', onExit);
        worker.postMessage(task);
      });
    },
    async close() {
      await Promise.all([...all].map((worker) => worker.terminate()));
    },
  };
}
