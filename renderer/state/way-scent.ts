import { computed, effect, signal, untracked } from '@preact/signals';
import type { Feature } from 'geojson';
import type { Point } from '../../core/grid/frame.ts';
import type { RequestParams } from '../../electron/service/contract.ts';
import { WAY_WORDS } from '../words/stands.ts';
import { startAim } from './aiming.ts';
import { wayScent } from './air-asks.ts';
import { asked, scentBasis } from './air-clock.ts';
import { lineMark, spotMark } from './asked-marks.ts';
import { rowsOf } from './rows.ts';
import { approach } from './stands-asks.ts';
import { table } from './tables.ts';

/** Whose scent is followed along a way: a drawn line, a way in that was found, or one clicked on the map. */

export interface WalkedWay {
  id: string;
  name: string;
  way: RequestParams<'air.wayScent'>['way'];
}

const clicked = signal<Point[] | null>(null);
const CLICKED = 'clicked';

/** Ways that are drawn, those to a stand first. */
const KIND: Record<string, string> = { access: 'Access', trail: 'Trail', road: 'Road' };
const ORDER = Object.keys(KIND);

export const ways = computed((): WalkedWay[] => {
  const drawn = rowsOf('features', table('features').value)
    .filter(({ kind, shape }) => kind in KIND && /LineString$/.test(shape.type))
    .sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind))
    .map(({ id, kind, name }, k) => ({ id, name: name ?? `${KIND[kind]} ${k + 1}`, way: { feature: id } }));
  const found = (approach.answer.value?.approach.ways ?? []).map(({ id, kind, path }) => ({
    id: `found ${id}`,
    name: `${WAY_WORDS[kind]} in, as found last`,
    way: { path: path.map(([x, y]): [number, number] => [x, y]) },
  }));
  const own = clicked.value;
  return [
    ...found,
    ...drawn,
    ...(own
      ? [
          {
            id: CLICKED,
            name: 'the way clicked',
            way: { path: own.map(([x, y]): [number, number] => [x, y]) },
          },
        ]
      : []),
  ];
});

const chosen = signal<string | null>(null);
export const walked = computed(
  () => ways.value.find(({ id }) => id === chosen.value) ?? ways.value[0] ?? null,
);
export const backwards = signal(false);
/** m/s; a walk that takes care, our assumption. */
export const pace = signal(1);

export const chooseWay = (id: string): void => {
  chosen.value = id;
};

export const aimWay = (): void =>
  startAim({
    title: 'A way walked',
    places: ['Click where the walk starts.', 'Click where it ends.'],
    done: (points) => {
      clicked.value = points;
      chosen.value = CLICKED;
    },
  });

export function askWay(): void {
  const of = walked.peek();
  if (!of) return;
  const turned = backwards.peek();
  const way =
    'path' in of.way
      ? { path: turned ? of.way.path.toReversed() : of.way.path }
      : { feature: of.way.feature, reversed: turned };
  void wayScent.put({ way, pace: pace.peek(), ...asked.peek() });
}

effect(() => {
  void scentBasis.value;
  untracked(() => wayScent.forget());
});

/** Whether the clock still stands where the answer was asked. */
export const wayIsNow = computed(() => {
  const was = wayScent.asked.value;
  if (!was) return true;
  const now = asked.value;
  // Cloud may be one number or one an hour.
  return (Object.keys(now) as (keyof typeof now)[]).every(
    (key) => JSON.stringify(was[key]) === JSON.stringify(now[key]),
  );
});

/** The minutes of the way, those whose scent meets bedding or travel apart, and where the walk starts. */
export const wayMarks = computed((): Feature[] => {
  const answer = wayScent.answer.value;
  if (!answer) return [];
  const start = answer.stretches[0]?.path[0];
  // Minutes alike are one line: each line's pale edge would lie over the end of the one before.
  const runs: { meets: boolean; path: Point[] }[] = [];
  for (const { path, bedding, travel } of answer.stretches) {
    const meets = bedding.length > 0 || travel > 0;
    const last = runs.at(-1);
    if (last?.meets === meets) last.path.push(...path);
    else runs.push({ meets, path: [...path] });
  }
  return [
    ...runs.map(({ meets, path }, n) => lineMark(`walk-${meets ? 'meets' : 'clean'}-${n}`, path)),
    ...(start ? [spotMark('walk-start', start, 'walk starts here')] : []),
  ];
});
