import { computed, effect, signal } from '@preact/signals';
import type { Feature } from 'geojson';
import type { DraftRow, DraftSize } from '../../electron/service/contract.ts';
import { shapeMark } from './asked-marks.ts';
import { changeSettings, putFeatures } from './editing.ts';
import { inquiry } from './inquiry.ts';
import { rowsOf } from './rows.ts';
import { summary } from './session.ts';
import { table } from './tables.ts';
import { stage } from './view.ts';

/** A plan the program drafts: asked for, looked through in its three sizes, and put into the plan. */

export const draft = inquiry('plan.draft');
export const draftSize = signal<DraftSize>('weekend');
/** Whether new stands are sought, which takes most of the time. */
export const seekStands = signal(true);
/** Whether the draft is looked at: its lines are on the map then. */
export const draftShown = signal(false);

const basis = computed(() => {
  const { settings, tables } = summary.value ?? {};
  const { travel, stands, hunt, weights } = settings ?? {};
  const keys = (tables ?? []).filter(({ name }) => name === 'features' || name === 'necks');
  return JSON.stringify([keys.map(({ key }) => key), travel, stands, hunt, weights]);
});
/** What it was made from, and what that became by its own lines being put in. */
const draftedOn = signal<ReadonlySet<string>>(new Set());
export const draftIsOld = computed(() => draft.answer.value !== null && !draftedOn.value.has(basis.value));

export async function askDraft(): Promise<void> {
  draftedOn.value = new Set([basis.peek()]);
  await draft.put({ stands: seekStands.peek() });
}

/** Days of a size; a draft that is there is shared out anew. */
export async function setDays(size: 'weekend' | 'winter', days: number): Promise<void> {
  const { plan } = summary.peek()!.settings as { plan?: { rates?: Record<string, number> } };
  await changeSettings({ plan: { rates: { ...plan?.rates, [`draft.${size}`]: days } } }, false);
  if (draft.answer.peek() && !draftIsOld.peek()) await askDraft();
}

/** Ids of everything that is drawn. */
const drawn = computed(() => new Set(rowsOf('features', table('features').value).map(({ id }) => id)));
export const isInPlan = ({ feature }: DraftRow): boolean => drawn.value.has(feature.id);

/** Lines of the chosen size, in the order of the work. */
export const chosenLines = computed((): DraftRow[] => {
  const answer = draft.answer.value;
  const size = answer?.sizes.find((each) => each.size === draftSize.value);
  const byId = new Map(answer?.lines.map((line) => [line.feature.id, line]));
  return size?.lines.map((id) => byId.get(id)!) ?? [];
});

/** Puts what is not yet in the plan into it, as proposed, in one edit. */
export async function putDraft(title: string): Promise<void> {
  const lines = chosenLines.peek().filter((line) => !isInPlan(line));
  const put = await putFeatures(
    `Draft: ${title.toLowerCase()}`,
    lines.map(({ feature }) => feature),
    `${lines.length === 1 ? 'One line is' : `${lines.length} lines are`} in the plan. One undo takes all of it back.`,
  );
  // What was put in is the draft itself: the rest of it still stands to be argued with.
  if (put) draftedOn.value = new Set([...draftedOn.peek(), basis.peek()]);
}

export const draftMarks = computed((): Feature[] =>
  draftShown.value && stage.value === 'work'
    ? chosenLines.value
        .filter((line) => !isInPlan(line))
        .map((line) => shapeMark(line.feature.id, line.feature.geometry, String(numberOf(line))))
    : [],
);

/** Where a line stands in the order of the whole draft, from 1. */
export const numberOf = (line: DraftRow): number => (draft.answer.value?.lines.indexOf(line) ?? -1) + 1;

effect(() => {
  if (draft.answer.value === null) draftSize.value = 'weekend';
});
