import { computed, signal } from '@preact/signals';
import type { Feature, FeatureKind } from '../../core/features/feature.ts';
import type { RequestParams } from '../../electron/service/contract.ts';
import type { Drawable } from '../words/drawable.ts';
import { rowsOf } from './rows.ts';
import { notice, stale, startScout, summary, tell } from './session.ts';
import { table } from './tables.ts';
import { selection } from './view.ts';

/** Drawing: which kind is being drawn, and every edit's way to the service. */

export const drawing = signal<Drawable | null>(null);
/** Points in the sketch, and whether a taken-back one can be put again. */
export const sketch = signal<{ points: number; redo: number; measure: string }>({
  points: 0,
  redo: 0,
  measure: '',
});
/** What the map does when asked by a button or key while drawing. Set by the map. */
export const pen = signal<{
  undo(): void;
  redo(): void;
  finish(): void;
  cancel(): void;
  addAt(points: [number, number][]): void;
} | null>(null);

export const canUndo = computed(() =>
  pen.value && sketch.value.points > 0 ? true : (summary.value?.canUndo ?? false),
);
export const canRedo = computed(() =>
  pen.value && (sketch.value.points > 0 || sketch.value.redo > 0)
    ? sketch.value.redo > 0
    : (summary.value?.canRedo ?? false),
);

/** What is only written down changes nothing the analysis rests on (`withoutLog` of core/features). */
const LOGGED: ReadonlySet<string> = new Set<FeatureKind>(['quiet', 'visit', 'observation', 'note', 'walk']);

/** An edit is taken in: what rests on it is out of date. */
export const took = (said: string): void => changed(said);

const changed = (said: string, kind?: string): void => {
  if (kind === undefined || !LOGGED.has(kind)) stale.value = true;
  notice.value = said;
};

/** Undoes the last point while drawing, else the last edit of the property. */
export async function undo(): Promise<void> {
  if (pen.value && sketch.value.points > 0) {
    pen.value.undo();
    return;
  }
  const answer = await tell('edit.undo', {});
  if (!answer) return;
  summary.value = answer;
  changed('Undone.');
}

export async function redo(): Promise<void> {
  if (pen.value && sketch.value.redo > 0) {
    pen.value.redo();
    return;
  }
  const answer = await tell('edit.redo', {});
  if (!answer) return;
  summary.value = answer;
  changed('Done again.');
}

export async function putFeature(feature: Feature, said: string): Promise<boolean> {
  const answer = await tell('features.put', { feature } as RequestParams<'features.put'>);
  if (!answer) return false;
  summary.value = answer;
  changed(said, feature.kind);
  return true;
}

/** Several features in one edit, which one undo takes back. */
export async function putFeatures(
  label: string,
  features: readonly Feature[],
  said: string,
): Promise<boolean> {
  const answer = await tell('features.putAll', {
    label,
    features: [...features],
  } as RequestParams<'features.putAll'>);
  if (!answer) return false;
  summary.value = answer;
  changed(said);
  return true;
}

export async function removeFeature(id: string): Promise<void> {
  const kind = rowsOf('features', table('features').peek()).find((row) => row.id === id)?.kind;
  const answer = await tell('features.remove', { id });
  if (!answer) return;
  summary.value = answer;
  if (selection.value?.id === id) selection.value = null;
  changed('Removed. Undo brings it back.', kind);
}

export async function changeSettings(patch: Record<string, unknown>, rerun: boolean): Promise<void> {
  const answer = await tell('settings.change', { patch });
  if (!answer) return;
  summary.value = answer;
  if (rerun) await startScout();
}
