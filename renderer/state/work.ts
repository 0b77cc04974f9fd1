import { computed, effect, signal } from '@preact/signals';
import type { WorkAnswer } from '../../electron/service/contract.ts';
import { inquiry } from './inquiry.ts';
import { ask, propertyKey, report, summary } from './session.ts';

/** The work of the open property, asked for again when a feature or a setting changes. */

const loaded = signal<{ of: string; answer: WorkAnswer } | null>(null);
const wanted = signal(false);
const key = computed(() => {
  const property = summary.value;
  if (!property) return null;
  const features = property.tables.find(({ name }) => name === 'features')?.key;
  return JSON.stringify([propertyKey.value, features, property.settings.plan, property.units]);
});

const load = (now: string): void => {
  ask('work.plan', {}).then((answer) => {
    if (key.peek() === now) loaded.value = { of: now, answer };
  }, report);
};

effect(() => {
  if (wanted.value && key.value !== null) load(key.value);
});

/** Worlds of drawn weights a band is over: our choice. Each takes as long as a quarter of the plan’s own tries. */
const WORLDS = 8;

/** What each job gains: tried in travel one by one, on demand. */
export const gains = inquiry('work.gains');

/** Null until it is there. Gains are laid over it once they were asked for and nothing changed since. */
export const work = computed((): WorkAnswer | null => {
  if (!wanted.peek())
    queueMicrotask(() => {
      wanted.value = true;
    });
  return loaded.value?.of === key.value ? loaded.value.answer : null;
});

export async function computeGains(): Promise<void> {
  await gains.put({ worlds: WORLDS });
  const now = key.peek();
  if (now !== null) load(now);
}
