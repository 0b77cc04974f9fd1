import { computed, effect, signal } from '@preact/signals';
import type { Feature } from 'geojson';
import type { Point } from '../../core/grid/frame.ts';
import type { Closure } from '../../core/travel/types.ts';
import type { OverlaySummary } from '../../electron/service/contract.ts';
import { startAim } from './aiming.ts';
import { lineMark, spotMark } from './asked-marks.ts';
import { putFeature } from './editing.ts';
import { inquiry } from './inquiry.ts';
import { propertyKey, summary } from './session.ts';
import { stage } from './view.ts';

/** Questions of travel: why here, what if the proposals were built, and how sure it is. */

export const why = inquiry('travel.why');
export const whatIf = inquiry('travel.whatIf');
export const closures = inquiry('travel.closures');
export const sets = inquiry('travel.sets');
export const uncertainty = inquiry('travel.uncertainty');
export const sightings = inquiry('travel.sightings');

/** The spot travel is to be gathered at or kept from; reach in m, about a bow shot and a half: our assumption. */
export const spot = signal<{ at: Point; reach: number } | null>(null);
export const reach = signal(60);

export const aimWhy = (): void =>
  startAim({
    title: 'Why here',
    places: ['Click a place that deer pass, or do not.'],
    done: ([at]) => void why.put({ x: at![0], y: at![1] }),
  });

export const aimSpot = (): void =>
  startAim({
    title: 'A spot to watch',
    places: ['Click the spot that travel is to pass, or to leave alone.'],
    done: ([at]) => {
      spot.value = { at: at!, reach: reach.value };
      compare();
    },
  });

/** Changes with what is drawn and with what the last scout found. */
export const planKey = computed(() =>
  (summary.value?.tables ?? [])
    .filter(({ name }) => name === 'features' || name === 'necks')
    .map(({ key }) => key)
    .join(' '),
);
let comparedFor = '';
export const isCompared = (): boolean => comparedFor === planKey.value;

/** Travel with every proposal built, against today. */
export function compare(): void {
  comparedFor = planKey.peek();
  const at = spot.value;
  void whatIf.put({
    trial: [],
    spot: at && { x: at.at[0], y: at.at[1], reach: at.reach },
  });
}

/** Takes a closure over as a barricade of the plan; it is compared as any other from then on. */
export async function adopt(closure: Closure): Promise<void> {
  const put = await putFeature(
    {
      id: `proposed-${crypto.randomUUID()}`,
      kind: 'barricade',
      status: 'proposed',
      name: null,
      geometry: { type: 'LineString', coordinates: closure.path.map(([x, y]) => [x, y]) },
      attributes: {},
      source: 'proposed by the program',
    } as never,
    'Barricade proposed. Undo takes it back.',
  );
  if (!put) return;
  closures.forget();
  compare();
}

// What was said of necks that are no longer so is not kept.
export const necksKey = computed(() => summary.value?.tables.find(({ name }) => name === 'necks')?.key);
effect(() => {
  void necksKey.value;
  for (const one of [why, closures, uncertainty, sightings]) one.forget();
});
effect(() => {
  void propertyKey.value;
  spot.value = null;
});

export const travelOverlays = computed((): OverlaySummary[] => {
  const answer = stage.value === 'travel' ? whatIf.answer.value : null;
  return answer ? [answer.overlays.after, answer.overlays.change] : [];
});

export const travelMarks = computed((): Feature[] => {
  if (stage.value !== 'travel') return [];
  const asked = why.asked.value;
  const watched = spot.value;
  return [
    ...(asked ? [spotMark('why', [asked.x, asked.y], 'why here')] : []),
    ...(watched ? [spotMark('watched', watched.at, 'spot watched')] : []),
    ...(closures.answer.value?.closures ?? []).map((closure, n) =>
      lineMark(`closure-${n}`, closure.path, `closure ${n + 1}`),
    ),
  ];
});
