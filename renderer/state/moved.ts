import { computed, effect, signal } from '@preact/signals';
import { movedLines } from '../words/moved.ts';
import { rowsOf } from './rows.ts';
import { propertyKey } from './session.ts';
import { table } from './tables.ts';
import { necksKey } from './travel-asks.ts';

/** The necks as they were before the last change of an assumption, and what it moved. */

const before = signal<{ key: string | undefined; necks: ReturnType<typeof necksNow> } | null>(null);

const necksNow = () => rowsOf('necks', table('necks').peek());

/** Remembers the necks before a change that runs the scout again. */
export function noteBefore(): void {
  before.value = { key: necksKey.peek(), necks: necksNow() };
}

export const forgetMoved = (): void => {
  before.value = null;
};

/** What the last change moved; null before its necks are there. */
export const moved = computed(() => {
  const was = before.value;
  const rows = table('necks').value;
  if (!was || was.necks.length === 0 || !rows || necksKey.value === was.key) return null;
  return movedLines(was.necks, rowsOf('necks', rows));
});

effect(() => {
  void propertyKey.value;
  before.value = null;
});
