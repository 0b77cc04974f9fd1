import { Worker } from 'node:worker_threads';
import type { JOBS, JobName } from './jobs.ts';
import { runApart } from './run-apart.ts';
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

export type JobInput<N extends JobName> = Parameters<(typeof JOBS)[N]>[0];
export type JobAnswer<N extends JobName> = Awaited<ReturnType<(typeof JOBS)[N]>>;

/** Jobs that read what others wrote, and what each is about; the others hand over shared memory or our own files. */
const APART: { [N in JobName]?: (input: JobInput<N>) => string } = {
  import: ({ inputs }) => inputs.name,
  scan: ({ file }) => file.name,
  wind: ({ files }) => files.map(({ name }) => name).join(', '),
};

/**
 * Runs one long job with files beside the service: in a process of its own where foreign files are read, else in a
 * worker, which ends with the job.
 *
 * @throws Problem, Cancelled or Error as the job threw it
 */
export function runJob<N extends JobName>(
  name: N,
  input: JobInput<N>,
  progress: (fraction: number) => void = () => {},
  signal: AbortSignal = new AbortController().signal,
): Promise<JobAnswer<N>> {
  const about = APART[name];
  return (
    about
      ? runApart({ name, input, about: about(input) }, progress, signal)
      : inWorker(name, input, progress, signal)
  ) as Promise<JobAnswer<N>>;
}

async function inWorker(
  name: JobName,
  input: unknown,
  progress: (fraction: number) => void,
  signal: AbortSignal,
): Promise<unknown> {
  const cancel = new SharedArrayBuffer(4);
  const stop = () => Atomics.store(new Int32Array(cancel), 0, 1);
  if (signal.aborted) stop();
  signal.addEventListener('abort', stop);
  const worker = new Worker(workerUrl('job-worker', import.meta.url), {
    workerData: { name, input, cancel } satisfies JobData,
  });
  return new Promise<unknown>((resolve, reject) => {
    worker.on('message', (message: FromJobWorker) => {
      if (message.type === 'progress') progress(message.fraction);
      else if (message.type === 'done') resolve(message.answer);
      else reject(unpackTrouble(message));
    });
    worker.on('error', reject);
    worker.on('exit', (code) => reject(new Error(`${name}: its worker stopped with code ${code}`)));
  }).finally(() => {
    signal.removeEventListener('abort', stop);
    return worker.terminate();
  });
}
