import { computed, signal } from '@preact/signals';
import type { Feature, FeatureKind } from '../../core/features/feature.ts';
import type { RequestParams } from '../../electron/service/contract.ts';
import { notice, stale, startScout, summary, tell } from './session.ts';
import { selection } from './view.ts';

/** Drawing: which kind is being drawn, and every edit's way to the service. */

export type Shape = 'Point' | 'LineString' | 'Polygon';

/** The kinds the window offers to draw, each with its shape. */
export const DRAWABLE: { kind: FeatureKind; shape: Shape; title: string; status: 'existing' | 'proposed' }[] =
  [
    { kind: 'boundary', shape: 'Polygon', title: 'Boundary', status: 'existing' },
    { kind: 'fence', shape: 'LineString', title: 'Fence', status: 'existing' },
    { kind: 'road', shape: 'LineString', title: 'Road', status: 'existing' },
    { kind: 'railroad', shape: 'LineString', title: 'Railroad', status: 'existing' },
    { kind: 'creek', shape: 'LineString', title: 'Creek', status: 'existing' },
    { kind: 'pond', shape: 'Polygon', title: 'Pond', status: 'existing' },
    { kind: 'building', shape: 'Polygon', title: 'Building', status: 'existing' },
    { kind: 'powerline', shape: 'LineString', title: 'Power line', status: 'existing' },
    { kind: 'gap', shape: 'Point', title: 'Gap, gate, low span', status: 'existing' },
    { kind: 'trail', shape: 'LineString', title: 'Trail', status: 'existing' },
    { kind: 'bedding', shape: 'Polygon', title: 'Bedding', status: 'existing' },
    { kind: 'food', shape: 'Polygon', title: 'Food', status: 'existing' },
    { kind: 'crop', shape: 'Polygon', title: 'Crop', status: 'existing' },
    { kind: 'access', shape: 'LineString', title: 'Way in', status: 'existing' },
    { kind: 'stand', shape: 'Point', title: 'Stand', status: 'existing' },
    { kind: 'quiet', shape: 'Polygon', title: 'Quiet ground', status: 'existing' },
    { kind: 'visit', shape: 'Point', title: 'Visit', status: 'existing' },
    { kind: 'sighting', shape: 'Point', title: 'Sighting', status: 'existing' },
    { kind: 'note', shape: 'Point', title: 'Note', status: 'existing' },
    { kind: 'truth', shape: 'Polygon', title: 'Cover as seen', status: 'existing' },
    { kind: 'barricade', shape: 'LineString', title: 'Barricade', status: 'proposed' },
    { kind: 'screen', shape: 'LineString', title: 'Screen', status: 'proposed' },
    { kind: 'cut', shape: 'Polygon', title: 'Cut', status: 'proposed' },
    { kind: 'opening', shape: 'Polygon', title: 'Opening', status: 'proposed' },
    { kind: 'conifers', shape: 'Polygon', title: 'Conifers', status: 'proposed' },
  ];

export const drawing = signal<(typeof DRAWABLE)[number] | null>(null);
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

const changed = (said: string): void => {
  stale.value = true;
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
  changed(said);
  return true;
}

export async function removeFeature(id: string): Promise<void> {
  const answer = await tell('features.remove', { id });
  if (!answer) return;
  summary.value = answer;
  if (selection.value?.id === id) selection.value = null;
  changed('Removed. Undo brings it back.');
}

export async function changeSettings(patch: Record<string, unknown>, rerun: boolean): Promise<void> {
  const answer = await tell('settings.change', { patch });
  if (!answer) return;
  summary.value = answer;
  if (rerun) await startScout();
}
