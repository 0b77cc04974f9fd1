import { parentPort } from 'node:worker_threads';
import { STEPS } from '../../core/analysis/step-table.ts';
import { Cancelled } from '../../core/grid/problem.ts';
import type { Progress } from '../../core/grid/progress.ts';
import { INQUIRIES } from './inquiries/table.ts';
import { shareArrays } from './shared.ts';
import type { FromStepWorker, ToStepWorker } from './step-pool.ts';
import { packTrouble } from './worker-trouble.ts';

const port = parentPort;
if (!port) throw new Error('step-worker runs as a worker thread');
const send = (message: FromStepWorker) => port.postMessage(message);

const REPORT_EVERY_MS = 50;

type Work = (inputs: never, params: never, progress: Progress) => object;
const work = new Map<string, Work>([
  ...STEPS.map((step): [string, Work] => [step.name, step.run]),
  ...Object.entries(INQUIRIES).map(([name, { run }]): [string, Work] => [name, run]),
]);

port.on('message', ({ step: name, inputs, params, cancel }: ToStepWorker) => {
  const run = work.get(name);
  const cancelled = new Int32Array(cancel);
  let lastReport = 0;
  const progress = (fraction: number) => {
    if (Atomics.load(cancelled, 0) !== 0) throw new Cancelled();
    const now = performance.now();
    if (now - lastReport < REPORT_EVERY_MS) return;
    lastReport = now;
    send({ type: 'progress', fraction });
  };
  try {
    if (!run) throw new Error(`nothing is called ${name}`);
    // What was cancelled while it waited is not begun.
    progress(0);
    const products = run(inputs as never, params as never, progress);
    send({ type: 'done', products: shareArrays(products) as Record<string, unknown> });
  } catch (error) {
    send(packTrouble(error));
  }
});
