import { computed, effect, signal } from '@preact/signals';
import type { FeatureCollection } from 'geojson';
import { movedNecks } from '../words/moved.ts';
import { rowsOf } from './rows.ts';
import { propertyKey, run } from './session.ts';
import { table } from './tables.ts';

/** The necks as they were before the last change of an assumption, and what it moved. */

const before = signal<FeatureCollection | null>(null);

/** Remembers the necks before a change that runs the scout again. */
export function noteBefore(): void {
  before.value = table('necks').peek();
}

export const forgetMoved = (): void => {
  before.value = null;
};

/** What the last change moved; null until the run it set off is over and its necks are there. */
export const moved = computed(() => {
  const was = before.value;
  const now = table('necks').value;
  if (!was || !now || was === now || run.value) return null;
  return movedNecks(rowsOf('necks', was), rowsOf('necks', now));
});

effect(() => {
  void propertyKey.value;
  before.value = null;
});
