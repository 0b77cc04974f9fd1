import { Worker } from 'node:worker_threads';
import type { JOBS, JobName } from './jobs.ts';
import { unpackTrouble, type WorkerTrouble } from './worker-trouble.ts';
import { workerUrl } from './worker-url.ts';

export interface JobData {
  name: JobName;
  input: unknown;
  /** One Int32: not 0 once the job was cancelled. */
  cancel: SharedArrayBuffer;
}

export type FromJobWorker =
  | { type: 'progress'; fraction: number }
  | { type: 'done'; answer: unknown }
  | WorkerTrouble;

type Job<N extends JobName> = (typeof JOBS)[N];

/**
 * Runs one long job with files in a worker of its own, which ends with the job.
 *
 * @param cancel one Int32 that the caller sets to stop
 * @throws Problem, Cancelled or Error as the job threw it
 */
export function runJob<N extends JobName>(
  name: N,
  input: Parameters<Job<N>>[0],
  progress: (fraction: number) => void = () => {},
  cancel = new SharedArrayBuffer(4),
): Promise<Awaited<ReturnType<Job<N>>>> {
  const worker = new Worker(workerUrl('job-worker', import.meta.url), {
    workerData: { name, input, cancel } satisfies JobData,
  });
  return new Promise<Awaited<ReturnType<Job<N>>>>((resolve, reject) => {
    worker.on('message', (message: FromJobWorker) => {
      if (message.type === 'progress') progress(message.fraction);
      else if (message.type === 'done') resolve(message.answer as Awaited<ReturnType<Job<N>>>);
      else reject(unpackTrouble(message));
    });
    worker.on('error', reject);
    worker.on('exit', (code) => reject(new Error(`${name}: its worker stopped with code ${code}`)));
  }).finally(() => worker.terminate());
}
