import { Worker } from 'node:worker_threads';
import { Cancelled } from '../../core/grid/problem.ts';
import { JOBS, type JobName } from './jobs.ts';
import type { ToJobProcess } from './run-apart.ts';
import type { FromJobWorker } from './run-job.ts';
import { packTrouble } from './worker-trouble.ts';

/** Entry of the process that reads foreign files, see `runApart`. */

let cancelled = false;
/** Long loops between two looks at the messages would never hear of a cancel. */
const LOOK_EVERY = 100;

/** Ends the process once it holds too much, from a thread of its own: the reader may be stuck in one long call. */
const WATCH = `
const { workerData } = require('node:worker_threads');
setInterval(() => {
  if (process.memoryUsage.rss() > workerData) process.kill(process.pid, 'SIGTERM');
}, 100);`;

const send = (message: FromJobWorker): Promise<void> =>
  new Promise((resolve) => process.send!(message, () => resolve()));

let looked = 0;
const progress = (fraction: number): void => {
  if (cancelled) throw new Cancelled();
  const now = performance.now();
  if (now - looked < LOOK_EVERY) return;
  looked = now;
  void send({ type: 'progress', fraction });
};

process.on('message', async (message: ToJobProcess) => {
  if (message.type === 'cancel') {
    cancelled = true;
    return;
  }
  const watch = new Worker(WATCH, { eval: true, workerData: message.most });
  try {
    const answer = await JOBS[message.name as JobName](message.input as never, progress);
    await send({ type: 'done', answer });
  } catch (error) {
    await send(packTrouble(error));
  }
  await watch.terminate();
  process.disconnect();
});
process.on('disconnect', () => process.exit());
