import { computed, signal } from '@preact/signals';
import type { KeptView } from '../../electron/service/contract.ts';
import { changeSettings } from './editing.ts';
import { notice, summary } from './session.ts';
import { STAGES, type Stage } from './stages.ts';
import { type Choices, flight, goTo, layersOf, putLayers, stage } from './view.ts';

/** Views of the map kept to show the client, and showing them one after another with nothing else in the window. */

export const keptViews = computed(() => (summary.value?.settings.views ?? []) as readonly KeptView[]);

/** What the map shows now: west, south, east, north; set by the map. */
export const mapExtent = signal<readonly number[] | null>(null);

/** Which of the kept views is shown to the client; null while working. */
export const showing = signal<number | null>(null);

const isStage = (name: string): name is Stage => (STAGES as readonly string[]).includes(name);
const put = (views: readonly KeptView[]): Promise<void> => changeSettings({ views }, false);

export async function keepForClient(): Promise<void> {
  const extent = mapExtent.peek();
  if (!extent) return;
  const views = keptViews.peek();
  const name = stage.peek();
  const view = { id: crypto.randomUUID(), caption: '', stage: name, extent, layers: layersOf(name) };
  await put([...views, view]);
  notice.value = `Kept as view ${views.length + 1} for the client. Its caption is written in Report.`;
}

export const captionView = (id: string, caption: string): Promise<void> =>
  put(keptViews.peek().map((view) => (view.id === id ? { ...view, caption } : view)));

export const dropView = (id: string): Promise<void> => put(keptViews.peek().filter((view) => view.id !== id));

/** Moves a view one place up (-1) or down (1). */
export function moveView(id: string, by: -1 | 1): Promise<void> | undefined {
  const views = [...keptViews.peek()];
  const from = views.findIndex((view) => view.id === id);
  const other = views[from + by];
  if (from < 0 || !other) return;
  views[from + by] = views[from]!;
  views[from] = other;
  return put(views);
}

let before: { stage: Stage; layers: Map<Stage, Choices> } | null = null;

/** Time for the map to take its new size before it flies, ms. */
const SETTLE = 80;

const flyTo = (extent: readonly number[]): void => {
  const [west, south, east, north] = extent as [number, number, number, number];
  setTimeout(() => {
    flight.value = { extent: [west, south, east, north], span: 0 };
  }, SETTLE);
};

export function showView(index: number): void {
  const view = keptViews.peek()[index];
  if (!view || !isStage(view.stage)) return;
  before ??= { stage: stage.peek(), layers: new Map() };
  // What showed while working comes back afterwards.
  if (!before.layers.has(view.stage)) before.layers.set(view.stage, layersOf(view.stage));
  goTo(view.stage);
  putLayers(view.stage, view.layers);
  showing.value = index;
  flyTo(view.extent);
}

/** The next view or the one before; stays at the ends. */
export function stepView(by: -1 | 1): void {
  const next = (showing.peek() ?? 0) + by;
  if (next >= 0 && next < keptViews.peek().length) showView(next);
}

export function endShow(): void {
  showing.value = null;
  if (!before) return;
  for (const [name, layers] of before.layers) putLayers(name, layers);
  goTo(before.stage);
  before = null;
}
