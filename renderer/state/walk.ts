import { computed, effect, signal } from '@preact/signals';
import type { WalkList } from '../../core/plan/types.ts';
import { spotMark } from './asked-marks.ts';
import { ask, notice, propertyKey, report, stale, summary, tell } from './session.ts';

/** The walk list of the open property, asked for again when travel, stands or a feature changes. */

const loaded = signal<{ of: string; list: WalkList | null } | null>(null);
/** Whether the list is looked at: its stops are on the map then. */
export const walkShown = signal(false);

const key = computed(() => {
  const property = summary.value;
  if (!property) return null;
  const parts = ['features', 'necks', 'crossings', 'corridors', 'areas', 'barricades', 'stand-risks'];
  const keys = property.tables.filter(({ name }) => parts.includes(name)).map((table) => table.key);
  return JSON.stringify([propertyKey.value, keys]);
});

effect(() => {
  const now = key.value;
  if (!walkShown.value || now === null) return;
  ask('walk.list', {}).then((list) => {
    if (key.peek() === now) loaded.value = { of: now, list };
  }, report);
});

/** Undefined until it is there; null before the scout is done. */
export const walk = computed((): WalkList | null | undefined =>
  loaded.value?.of === key.value ? loaded.value.list : undefined,
);

export const walkMarks = computed(() =>
  walkShown.value
    ? (walk.value?.spots ?? []).map(({ id, at, number, found }) =>
        spotMark(id, at, `Stop ${number}${found ? ' ✓' : ''}`),
      )
    : [],
);

/** Writes down what was found at a stop; what that puts on the map counts from the next scout on. */
export async function answerStop(stop: string, choice: string | null, text: string): Promise<void> {
  const sets = walk
    .peek()
    ?.spots.find(({ id }) => id === stop)
    ?.choices.find((each) => each.key === choice)?.sets;
  const answer = await tell('walk.answer', { stop, choice, text });
  if (!answer) return;
  summary.value = answer;
  if (sets) stale.value = true;
  notice.value = sets
    ? 'Written down, and put on the map: it counts from the next scout on.'
    : 'Written down on the map.';
}
