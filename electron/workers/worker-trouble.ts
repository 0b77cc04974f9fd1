import { Cancelled, Problem, type Question } from '../../core/grid/problem.ts';

/** An error as it crosses from a worker: structured clone keeps no classes. */
export type WorkerTrouble =
  | { type: 'cancelled' }
  | { type: 'problem'; message: string; file: string | null; fix: string; question: Question | null }
  | { type: 'fault'; message: string };

export function packTrouble(error: unknown): WorkerTrouble {
  if (error instanceof Cancelled) return { type: 'cancelled' };
  if (error instanceof Problem) {
    const { message, file, fix, question } = error;
    return { type: 'problem', message, file, fix, question };
  }
  return { type: 'fault', message: String((error as Error)?.stack ?? error) };
}

export function unpackTrouble(trouble: WorkerTrouble): Error {
  if (trouble.type === 'cancelled') return new Cancelled();
  if (trouble.type === 'fault') return new Error(trouble.message);
  const { message, file, fix, question } = trouble;
  return new Problem(message, { fix, ...(file ? { file } : {}), ...(question ? { question } : {}) });
}
