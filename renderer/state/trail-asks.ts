import { computed, effect, signal, untracked } from '@preact/signals';
import type { Feature } from 'geojson';
import { SECTORS } from '../../core/air/types.ts';
import type { Point } from '../../core/grid/frame.ts';
import type { TrailsAnswer } from '../../electron/service/contract.ts';
import { airLeaf, trails } from './air-asks.ts';
import { lineMark, spotMark } from './asked-marks.ts';
import { run, summary } from './session.ts';
import { choose, stage } from './view.ts';

/** The deer's own wind: which wind the trails are drawn under, and what of the answer the map shows. */

const picked = signal<string | null>(null);
/** The group all of whose trails the map shows; without one, the strongest trail of each is drawn. */
export const shownGroup = signal<string | null>(null);

/** The wind chosen, else the one that blows most, else the one most travel has in its face or on its side. */
export const trailWindNow = computed((): string => {
  const winds = trails.answer.value?.winds ?? [];
  const best = winds.toSorted(
    (a, b) => (b.hours ?? 0) - (a.hours ?? 0) || b.into + b.across - (a.into + a.across),
  )[0];
  return picked.value ?? best?.wind ?? SECTORS[0];
});
export const pickTrailWind = (wind: string): void => {
  picked.value = wind;
};

/** Trails are there once travel is scouted. */
export const trailsReady = computed(
  () => summary.value?.tables.some(({ name, count }) => name === 'routes' && count > 0) ?? false,
);
const basis = computed(() =>
  (summary.value?.tables ?? [])
    .filter(({ name }) => ['areas', 'routes', 'features'].includes(name))
    .map(({ key }) => key)
    .join(' '),
);
effect(() => {
  void basis.value;
  untracked(() => {
    trails.forget();
    shownGroup.value = null;
  });
});

const open = computed(() => stage.value === 'air' && airLeaf.value === 'deer' && run.value === null);

// Which bedding lies where is half of what is asked here.
effect(() => {
  if (stage.value !== 'air') return;
  const on = airLeaf.value === 'deer';
  untracked(() => choose('areas', { on }));
});

const LEGS: Record<string, string> = { i: 'into', a: 'across', w: 'behind' };

type Trail = TrailsAnswer['trails'][number];
type Held = Trail['winds'][number];

/** Trails that run from one area to another, told as one: each weighs by the travel it stands for. */
export interface TrailGroup {
  id: string;
  from: string;
  to: string;
  share: number;
  trails: Trail[];
}

/** The groups with most travel first, and in each its trail with most travel. */
export const trailGroups = computed((): TrailGroup[] => {
  const groups = new Map<string, TrailGroup>();
  for (const trail of trails.answer.value?.trails ?? []) {
    const { from, to, share } = trail;
    const id = `${from} to ${to}`;
    const group = groups.get(id) ?? { id, from, to, share: 0, trails: [] };
    group.share += share;
    group.trails.push(trail);
    groups.set(id, group);
  }
  const byShare = (a: { share: number }, b: { share: number }) => b.share - a.share;
  for (const group of groups.values()) group.trails.sort(byShare);
  return [...groups.values()].sort(byShare);
});

/** How a group lies to a wind: shares of its travel, and the bedding some trail of it checks, nearest first. */
export function groupUnder({ trails: of, share }: TrailGroup, wind: string): Omit<Held, 'wind' | 'legs'> {
  const sums = { into: 0, across: 0, with: 0 };
  const nearest = new Map<string, number>();
  for (const trail of of) {
    const held = trail.winds.find((each) => each.wind === wind);
    if (!held) continue;
    const weight = share > 0 ? trail.share / share : 1 / of.length;
    for (const key of ['into', 'across', 'with'] as const) sums[key] += weight * held[key];
    for (const { area, distance } of held.checks)
      nearest.set(area, Math.min(distance, nearest.get(area) ?? Number.POSITIVE_INFINITY));
  }
  const checks = [...nearest].map(([area, distance]) => ({ area, distance }));
  return { ...sums, checks: checks.sort((a, b) => a.distance - b.distance) };
}

/** Pieces of a trail that lie alike to the wind, one after the other. */
function pieces({ route, path, winds }: Trail, wind: string): Feature[] {
  const legs = winds.find((each) => each.wind === wind)?.legs ?? '';
  const lines: Feature[] = [];
  for (let from = 0; from < legs.length; ) {
    let to = from + 1;
    while (legs[to] === legs[from]) to++;
    lines.push(lineMark(`trail-${LEGS[legs[from]!]}-${route}-${from}`, path.slice(from, to + 1)));
    from = to;
  }
  return lines;
}

function drawn(): Trail[] {
  const groups = trailGroups.value;
  const chosen = groups.find(({ id }) => id === shownGroup.value);
  return chosen ? chosen.trails : groups.map(({ trails: [strongest] }) => strongest!);
}

/** Proposals bear capitals, so that nobody takes them for the ranks of trails. */
export const proposalName = (n: number): string => String.fromCharCode(65 + n);

export const trailMarks = computed((): Feature[] => {
  const answer = open.value ? trails.answer.value : null;
  if (!answer) return [];
  const wind = trailWindNow.value;
  return [
    ...drawn().flatMap((trail) => pieces(trail, wind)),
    ...answer.bedding.map(({ at }, n) =>
      spotMark(`new-bedding-${n}`, at as Point, `new bedding ${proposalName(n)}`),
    ),
  ];
});
