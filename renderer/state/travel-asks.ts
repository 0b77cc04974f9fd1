import { computed, effect, signal } from '@preact/signals';
import type { Feature } from 'geojson';
import type { Point } from '../../core/grid/frame.ts';
import type { Closure } from '../../core/travel/types.ts';
import type { OverlaySummary } from '../../electron/service/contract.ts';
import { startAim, stopAim } from './aiming.ts';
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
export const fit = inquiry('travel.fit');

/** The spot travel is to be gathered at or kept from; reach in m, about a bow shot and a half: our assumption. */
export const spot = signal<{ at: Point; reach: number } | null>(null);
export const reach = signal(60);

/** Travel between two areas, by number or any; null asks for none. */
export type PairEnd = number | 'all' | { feature: string };
export const pair = signal<{ from: PairEnd; to: PairEnd } | null>(null);
/** A drawn stand, judged by its own range. */
export const standAsked = signal<string | null>(null);
/** The two goals: a spot to gather travel past, and one whose downwind side it is to keep out of. */
export const gather = signal<Point | null>(null);
export const keepOut = signal<Point | null>(null);
/** Where the wind is from for the second goal, degrees: a west wind, our assumption. */
export const goalWind = signal(270);

/** What every comparison is asked besides the necks. */
export const asked = computed(() => {
  const within = (point: Point | null) => point && { x: point[0], y: point[1], reach: reach.value };
  const goals = { gather: within(gather.value), keepOut: within(keepOut.value) };
  return {
    pair: pair.value,
    stand: standAsked.value === null ? null : { feature: standAsked.value },
    goals:
      goals.gather || goals.keepOut
        ? {
            gather: goals.gather,
            keepOut: goals.keepOut && { ...goals.keepOut, windFrom: goalWind.value },
          }
        : null,
  };
});

const GOALS = {
  gather: { title: 'Gather travel', place: 'Click the spot that travel is to pass.', at: gather },
  keepOut: {
    title: 'Keep travel out',
    place: 'Click the spot whose downwind side travel is to leave alone.',
    at: keepOut,
  },
} as const;

export function aimGoal(goal: keyof typeof GOALS): void {
  const { title, place, at } = GOALS[goal];
  startAim({
    title,
    places: [place],
    done: ([point]) => {
      at.value = point!;
      stopAim();
      compareIfAsked();
    },
  });
}

/** A change of what is asked is answered at once when travel was compared before. */
export function compareIfAsked(): void {
  if (whatIf.asked.peek() !== null) compare();
}

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
  const at = spot.peek();
  void whatIf.put({
    trial: [],
    spot: at && { x: at.at[0], y: at.at[1], reach: at.reach },
    ...asked.peek(),
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
  for (const one of [why, closures, uncertainty, sightings, fit]) one.forget();
});
effect(() => {
  void propertyKey.value;
  spot.value = null;
  pair.value = null;
  standAsked.value = null;
  gather.value = null;
  keepOut.value = null;
});

export const travelOverlays = computed((): OverlaySummary[] => {
  const answer = stage.value === 'travel' ? whatIf.answer.value : null;
  return answer ? [answer.overlays.after, answer.overlays.change] : [];
});

export const travelMarks = computed((): Feature[] => {
  if (stage.value !== 'travel') return [];
  const here = why.asked.value;
  const watched = spot.value;
  return [
    ...(here ? [spotMark('why', [here.x, here.y], 'why here')] : []),
    ...(watched ? [spotMark('watched', watched.at, 'spot watched')] : []),
    ...(gather.value ? [spotMark('gather', gather.value, 'gather here')] : []),
    ...(keepOut.value ? [spotMark('keep-out', keepOut.value, 'keep out downwind')] : []),
    ...(closures.answer.value?.closures ?? []).map((closure, n) =>
      lineMark(`closure-${n}`, closure.path, `closure ${n + 1}`),
    ),
  ];
});
