import { computed, effect, signal, untracked } from '@preact/signals';
import type { DraggedAnswer, RequestParams } from '../../electron/service/contract.ts';
import { troubleOf } from '../connection/trouble.ts';
import { isBlind } from './blind-trial.ts';
import { ask, propertyKey } from './session.ts';
import { selection } from './view.ts';

/** Travel re-routed while a proposal is dragged: the last place asked while an answer is under way is asked next. */

/** Proposals whose place travel follows at once; what changes the ground itself takes longer. */
const FOLLOWED: ReadonlySet<string> = new Set(['barricade', 'fence', 'trail']);
export const isFollowed = ({ kind, status }: { kind: string; status: string }): boolean =>
  status === 'proposed' && FOLLOWED.has(kind);

type Asked = RequestParams<'hand.dragged'>;

/** The proposal told of; null once something else is chosen. */
const dragged = signal<string | null>(null);
/** The last answer, or why there is none. */
const told = signal<{ answer: DraggedAnswer } | { why: string } | null>(null);
/** A newer place is on its way. */
export const dragSolving = signal(false);

export const dragTold = computed(() =>
  dragged.value !== null && selection.value?.id === dragged.value && !isBlind.value ? told.value : null,
);
export const dragOpen = computed(
  () => dragged.value !== null && selection.value?.id === dragged.value && !isBlind.value,
);

/** The neck chosen last, which is what a drag is about. */
const neck = signal<string | null>(null);
effect(() => {
  const now = selection.value;
  untracked(() => {
    if (now?.type === 'neck') neck.value = now.id;
    if (dragged.value !== null && now?.id !== dragged.value) forget();
  });
});
effect(() => {
  void propertyKey.value;
  untracked(() => {
    neck.value = null;
    forget();
  });
});

function forget(): void {
  dragged.value = null;
  told.value = null;
  next = null;
}

let next: Asked | null = null;
let asking = false;

/** Asks how travel runs with a proposal as it is now. */
export async function follow(feature: Asked['feature']): Promise<void> {
  dragged.value = feature.id;
  next = { feature, neck: neck.peek() };
  if (asking) return;
  asking = true;
  dragSolving.value = true;
  while (next) {
    const now: Asked = next;
    next = null;
    try {
      const answer = await ask('hand.dragged', now);
      if (dragged.peek() === now.feature.id) told.value = { answer };
    } catch (reason) {
      const trouble = troubleOf(reason);
      if (trouble.kind !== 'cancelled' && dragged.peek() === now.feature.id)
        told.value = { why: `${trouble.message} ${trouble.fix}`.trim() };
    }
  }
  asking = false;
  dragSolving.value = false;
}
