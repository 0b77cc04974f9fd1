import { fork } from 'node:child_process';
import { totalmem } from 'node:os';
import { fileURLToPath } from 'node:url';
import { Cancelled, Problem } from '../../core/grid/problem.ts';
import type { FromJobWorker } from './run-job.ts';
import { unpackTrouble } from './worker-trouble.ts';
import { workerUrl } from './worker-url.ts';

/** More than this a reading may not hold, bytes. Our assumption: it leaves the machine usable. */
const MOST_HELD = Math.min(8e9, 0.75 * totalmem());

export type ToJobProcess = { type: 'start'; name: string; input: unknown; most: number } | { type: 'cancel' };

/**
 * Runs a job in a process of its own: a file that makes a reader crash or ask for all the memory there is takes that
 * process down, not the program with the open property.
 *
 * @param about the file or folder, for the words of a Problem
 * @throws Problem also when the process ends without an answer; Cancelled
 */
export function runApart(
  job: { name: string; input: unknown; about: string; most?: number },
  progress: (fraction: number) => void,
  signal: AbortSignal,
): Promise<unknown> {
  if (signal.aborted) return Promise.reject(new Cancelled());
  const { name, input, about, most = MOST_HELD } = job;
  const child = fork(fileURLToPath(workerUrl('job-process', import.meta.url)), [], {
    // Electron's own program is Node with this set.
    env: { ...process.env, ELECTRON_RUN_AS_NODE: '1' },
    serialization: 'advanced',
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
  });
  const tell = (message: ToJobProcess) => child.send(message, () => {});
  // A reader deep in a foreign library does not look up: it is given a moment, then ended.
  let late: NodeJS.Timeout | undefined;
  const stop = () => {
    tell({ type: 'cancel' });
    late = setTimeout(() => child.kill('SIGKILL'), 2000);
  };
  signal.addEventListener('abort', stop);
  return new Promise((resolve, reject) => {
    child.on('message', (message: FromJobWorker) => {
      if (message.type === 'progress') progress(message.fraction);
      else if (message.type === 'done') resolve(message.answer);
      else reject(unpackTrouble(message));
    });
    child.on('error', reject);
    child.on('exit', (code, killed) =>
      reject(signal.aborted ? new Cancelled() : endedEarly(about, killed ?? String(code), most)),
    );
    tell({ type: 'start', name, input, most });
  }).finally(() => {
    clearTimeout(late);
    signal.removeEventListener('abort', stop);
    child.kill('SIGKILL');
  });
}

/** `SIGTERM` is how the process ends itself when it holds too much. */
function endedEarly(about: string, how: string, most: number): Problem {
  const gigabytes = (most / 1e9).toFixed(1);
  return new Problem(
    how === 'SIGTERM'
      ? `Reading ${about} took more than ${gigabytes} GB of memory and was stopped.`
      : `Reading ${about} ended without an answer (${how}): one of its files is damaged in a way this program does not know.`,
    {
      file: about,
      fix:
        how === 'SIGTERM'
          ? 'Clip the rasters to the neighbourhood of the property, or set a larger cellSize in property.json.'
          : 'Leave out the files one by one to find it, and download or export that one again.',
    },
  );
}
