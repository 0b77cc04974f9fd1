import { signal } from '@preact/signals';
import type { Trouble } from '../../electron/service/contract.ts';
import { troubleOf } from '../connection/trouble.ts';

/** What only a person can say before files can be read. */

type Asked = NonNullable<Trouble['question']>;

export interface QuestionShown {
  title: string;
  text: string;
  choices: Asked['choices'];
  columns: NonNullable<Asked['columns']> | null;
  /** Its answer is being tried; the form stays until it has worked. */
  trying: boolean;
  settle(value: string | null): void;
}
/** The one question now before the person. */
export const question = signal<QuestionShown | null>(null);

const show = (asked: Omit<QuestionShown, 'trying' | 'settle'>): Promise<string | null> =>
  new Promise((resolve) => {
    question.value = {
      ...asked,
      trying: false,
      settle(value) {
        const stays = asked.columns !== null && value !== null;
        question.value = stays && question.value ? { ...question.value, trying: true } : null;
        resolve(value);
      },
    };
  });

/** A choice of the window's own; null where none is taken. */
export const choose = (
  title: string,
  text: string,
  choices: { value: string; label: string }[],
): Promise<string | null> => show({ title, text, choices, columns: null });

/**
 * Tries, and tries again with the answers to whatever is asked; null when a question is left without one. Columns are
 * asked for until they work.
 *
 * @param attempt `path` is what was being opened when a question came up, where the service says
 * @throws what the attempt throws that is no question, or one whose answer did not settle it
 */
export async function answering<T>(
  attempt: (answers: Record<string, string>, path: string | undefined) => Promise<T>,
): Promise<T | null> {
  const answers: Record<string, string> = {};
  let path: string | undefined;
  try {
    for (;;) {
      try {
        return await attempt({ ...answers }, path);
      } catch (reason) {
        const trouble = troubleOf(reason);
        const asked = trouble.question;
        // A question asked twice means its answer did not settle it; show the trouble instead of a loop.
        if (!asked || (asked.key in answers && !asked.columns)) throw reason;
        path ??= asked.path;
        const answer = await show({
          title: trouble.file ? `A question about ${trouble.file}` : 'A question',
          text: trouble.message,
          choices: asked.choices,
          columns: asked.columns ?? null,
        });
        if (answer === null) return null;
        answers[asked.key] = answer;
      }
    }
  } finally {
    question.value = null;
  }
}
