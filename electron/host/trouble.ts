import { Problem } from '../../core/grid/problem.ts';
import type { Reply, Trouble } from '../service/contract.ts';
import { TroubleError } from '../service/contract.ts';

/** A message that is not of the contract, or one from where none is taken. */
export function refused(message: string, fix: string): Trouble {
  return { kind: 'refused', message, file: null, fix, question: null };
}

/** A failure of ours, said plainly. */
export function fault(message: string, fix: string): Trouble {
  return { kind: 'fault', message, file: null, fix, question: null };
}

/** Whatever a service threw, as the window shows it. */
export function troubleOf(error: unknown): Trouble {
  if (error instanceof TroubleError) return error.trouble;
  if (error instanceof Problem) {
    const { message, file, fix, question } = error;
    return { kind: 'problem', message, file, fix, question };
  }
  const detail = error instanceof Error ? error.message : String(error);
  return fault(
    `Something in Hollowgate itself failed: ${detail}`,
    'Try it once more; if it fails again, this is a bug worth reporting.',
  );
}

/** Runs one request to its plain outcome; never throws. */
export async function replyOf(work: () => Promise<unknown>): Promise<Reply> {
  try {
    return { ok: true, answer: await work() };
  } catch (error) {
    const trouble = troubleOf(error);
    if (trouble.kind === 'fault') console.error(error);
    return { ok: false, trouble };
  }
}
