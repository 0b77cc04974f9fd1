import { computed, effect, signal } from '@preact/signals';
import { COORDINATE_STYLES, type CoordinateStyle } from '../words/coordinates.ts';
import { type MarkLayer, STAGE_LAYERS, STAGES, type Stage, type TileLayer } from './stages.ts';

/** What the person looks at: the stage, the thing chosen, which layers show, the theme. */

export type Selection = {
  type: 'neck' | 'crossing' | 'stand' | 'pool' | 'feature' | 'saddle' | 'bench' | 'channel' | 'junction';
  id: string;
};

const kept = (key: string): string | null => {
  try {
    return localStorage.getItem(`hollowgate.${key}`);
  } catch {
    return null;
  }
};
const keep = (key: string, value: string): void => {
  try {
    localStorage.setItem(`hollowgate.${key}`, value);
  } catch {
    // Storage may be denied; the window works without memory.
  }
};

const keptStage = kept('stage');
export const stage = signal<Stage>(STAGES.find((name) => name === keptStage) ?? 'travel');
export const selection = signal<Selection | null>(null);
/** Frame coordinates the map should fly to; a new object each time. */
export const flight = signal<{ extent: [number, number, number, number]; span: number } | null>(null);

export type Theme = 'auto' | 'light' | 'dark';
const keptTheme = kept('theme');
export const theme = signal<Theme>(keptTheme === 'light' || keptTheme === 'dark' ? keptTheme : 'auto');

effect(() => keep('stage', stage.value));
effect(() => keep('theme', theme.value));

const keptStyle = kept('coordinates') as CoordinateStyle | null;
/** How places are written. */
export const coordinateStyle = signal<CoordinateStyle>(
  keptStyle !== null && keptStyle in COORDINATE_STYLES ? keptStyle : 'decimal',
);
effect(() => keep('coordinates', coordinateStyle.value));

export interface LayerChoice {
  on: boolean;
  opacity: number;
}
export type Choices = Record<string, LayerChoice>;

const startChoices = (name: Stage): Choices => {
  const { paint, marks } = STAGE_LAYERS[name];
  return Object.fromEntries([
    ...paint.map(({ layer, opacity, off }) => [layer, { on: !off, opacity }] as const),
    ...marks.map(({ layer, off }) => [layer, { on: !off, opacity: 1 }] as const),
  ]);
};

const choices = signal<Record<Stage, Choices>>(
  Object.fromEntries(STAGES.map((name) => [name, startChoices(name)])) as Record<Stage, Choices>,
);

export const shown = computed(() => choices.value[stage.value]);

/** Which layers of a stage show, and puts others in their place. */
export const layersOf = (name: Stage): Choices => choices.peek()[name];
export const putLayers = (name: Stage, layers: Choices): void => {
  choices.value = { ...choices.value, [name]: { ...choices.value[name], ...layers } };
};

export function choose(layer: TileLayer | MarkLayer, change: Partial<LayerChoice>): void {
  const now = choices.value[stage.value];
  const before = now[layer] ?? { on: false, opacity: 1 };
  choices.value = { ...choices.value, [stage.value]: { ...now, [layer]: { ...before, ...change } } };
}

/** How the pictures laid over the ground by answers are shown, by their kind. */
const overlayChoices = signal<Record<string, LayerChoice>>({});
export const overlayChoice = (kind: string): LayerChoice =>
  // Passage as proposed would hide the change of it, which says more.
  overlayChoices.value[kind] ?? { on: kind !== 'passage-after', opacity: 0.8 };

export function chooseOverlay(kind: string, change: Partial<LayerChoice>): void {
  overlayChoices.value = { ...overlayChoices.value, [kind]: { ...overlayChoice(kind), ...change } };
}

export function goTo(next: Stage): void {
  stage.value = next;
  selection.value = null;
}

/** Chooses a thing, or nothing, and flies there; `span` is the least ground to show around it, m. */
export function flyTo(chosen: Selection | null, points: readonly (readonly number[])[], span = 300): void {
  selection.value = chosen;
  if (points.length === 0) return;
  const xs = points.map((p) => p[0]!);
  const ys = points.map((p) => p[1]!);
  flight.value = { extent: [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)], span };
}

/** True while the start panel is shown over an open property. */
export const startOpen = signal(false);

/** Whether the card of layers is unfolded. */
const cramped = window.matchMedia('(max-width: 1200px), (max-height: 560px)');
export const layersOpen = signal(!cramped.matches);
cramped.addEventListener('change', () => {
  layersOpen.value = !cramped.matches;
});

interface KeptView {
  centre: number[];
  resolution: number;
}

/** The view of a frame as it was left, so that reopening returns to it. */
export function keptView(frameKey: string): KeptView | null {
  const text = kept('view');
  if (text === null) return null;
  try {
    const value = JSON.parse(text) as KeptView & { frame: string };
    const [x, y] = value.centre;
    return value.frame === frameKey && Number.isFinite(x) && Number.isFinite(y) && value.resolution > 0
      ? value
      : null;
  } catch {
    return null;
  }
}

export const keepView = (frame: string, view: KeptView): void =>
  keep('view', JSON.stringify({ frame, ...view }));
