import { parentPort, workerData } from 'node:worker_threads';
import { Cancelled } from '../../core/grid/problem.ts';
import { JOBS } from './jobs.ts';
import type { FromJobWorker, JobData } from './run-job.ts';
import { packTrouble } from './worker-trouble.ts';

const port = parentPort;
if (!port) throw new Error('job-worker runs as a worker thread');
const send = (message: FromJobWorker) => port.postMessage(message);

const { name, input, cancel } = workerData as JobData;
const cancelled = new Int32Array(cancel);
const progress = (fraction: number) => {
  if (Atomics.load(cancelled, 0) !== 0) throw new Cancelled();
  send({ type: 'progress', fraction });
};

try {
  send({ type: 'done', answer: await JOBS[name](input as never, progress) });
} catch (error) {
  send(packTrouble(error));
}
