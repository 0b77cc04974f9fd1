import { parentPort } from 'node:worker_threads';
import { STEPS } from '../../core/analysis/step-table.ts';
import { Cancelled } from '../../core/grid/problem.ts';
import { shareArrays } from './shared.ts';
import type { FromStepWorker, ToStepWorker } from './step-pool.ts';
import { packTrouble } from './worker-trouble.ts';

const port = parentPort;
if (!port) throw new Error('step-worker runs as a worker thread');
const send = (message: FromStepWorker) => port.postMessage(message);

const REPORT_EVERY_MS = 50;

port.on('message', ({ step: name, inputs, params, cancel }: ToStepWorker) => {
  const step = STEPS.find((candidate) => candidate.name === name);
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
    if (!step) throw new Error(`no step is called ${name}`);
    send({ type: 'done', products: shareArrays(step.run(inputs as never, params, progress)) });
  } catch (error) {
    send(packTrouble(error));
  }
});
