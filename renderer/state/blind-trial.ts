import { computed, effect, signal } from '@preact/signals';
import type { Feature } from 'geojson';
import type { Point } from '../../core/grid/frame.ts';
import { aim, startAim, stopAim } from './aiming.ts';
import { spotMark } from './asked-marks.ts';
import { inquiry } from './inquiry.ts';
import { propertyKey } from './session.ts';
import type { MarkLayer, Stage, TileLayer } from './stages.ts';
import { necksKey } from './travel-asks.ts';
import { selection, stage } from './view.ts';

/**
 * A blind trial: before the necks are shown, a person marks where they know deer to cross; then the necks are
 * revealed. While it runs, everything that tells of them is kept off the map and the pages.
 */

export const blindTrial = inquiry('travel.blindTrial');

/** Marks while the necks are still hidden; null when no trial runs. */
export const marks = signal<readonly Point[] | null>(null);
/** A mark this near to a neck finds it, m: about a long bow shot, our assumption. */
export const blindReach = signal(45.72);
/** Whether the necks had been on the screen before the marks of the last trial were set. */
export const wasSeen = signal(false);

/** Properties whose necks have been shown in this window since it was opened. */
const shownOf = new Set<string>();
export const necksWereShown = (): boolean => shownOf.has(propertyKey.peek());
export const noteNecksShown = (): void => void shownOf.add(propertyKey.peek());

export const isBlind = computed(() => marks.value !== null);

const TELLING: ReadonlySet<string> = new Set<MarkLayer | TileLayer>([
  'passage',
  'corridors',
  'bands',
  'routes',
  'crossings',
  'junctions',
  'necks',
  'stands',
  'carries',
]);
/** Whether a layer must stay off the map for now. */
export const isHidden = (layer: string): boolean => isBlind.value && TELLING.has(layer);
/** Stages whose page speaks of necks. */
export const tellsOfNecks = (of: Stage): boolean => of === 'stands' || of === 'report';

export function beginTrial(): void {
  wasSeen.value = necksWereShown();
  marks.value = [];
  selection.value = null;
  blindTrial.forget();
  aimMark();
}

export const aimMark = (): void =>
  startAim({
    title: 'Where deer cross',
    places: ['Click every place where you know deer cross, one after another.'],
    done: ([at]) => {
      marks.value = [...(marks.peek() ?? []), at!];
    },
  });

export function takeMarkOff(which: number): void {
  marks.value = (marks.peek() ?? []).filter((_, n) => n !== which);
}

/** Ends the marking and asks how well the necks agree. */
export async function reveal(): Promise<void> {
  const set = marks.peek();
  if (!set || set.length === 0) return;
  await blindTrial.put({ marks: set.map(([x, y]) => [x, y]), reach: blindReach.peek() });
  if (!blindTrial.answer.peek()) return;
  endTrial();
}

export function endTrial(): void {
  marks.value = null;
  if (aim.peek()?.title === 'Where deer cross') stopAim();
}

effect(() => {
  void propertyKey.value;
  marks.value = null;
});
// What was said of necks that are no longer so is not kept.
effect(() => {
  void necksKey.value;
  blindTrial.forget();
});

export const blindMarks = computed((): Feature[] => {
  if (stage.value !== 'travel') return [];
  const found = blindTrial.answer.value?.marks ?? [];
  return [
    ...(marks.value ?? []).map((at, n) => spotMark(`mark-${n}`, at, `${n + 1}`)),
    ...(isBlind.value
      ? []
      : found.map(({ at, neck }, n) =>
          spotMark(`mark-${n}`, at, neck === null ? `${n + 1}: none near` : `${n + 1}: found`),
        )),
  ];
});
