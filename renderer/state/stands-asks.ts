import { batch, computed, effect, signal, untracked } from '@preact/signals';
import type { Point } from '../../core/grid/frame.ts';
import type { Leaves, WalkTime, Weapon } from '../../core/stands/types.ts';
import type { RequestParams, StandSettings } from '../../electron/service/contract.ts';
import { startAim } from './aiming.ts';
import { putFeature } from './editing.ts';
import { inquiry } from './inquiry.ts';
import { propertyKey, run, summary } from './session.ts';
import { stands } from './stand-list.ts';
import { stage } from './view.ts';

/** Questions of one stand: what it reaches, and how to get in and out. */

export const look = inquiry('stands.look');
export const approach = inquiry('stands.approach');

export type StandsLeaf =
  | 'range'
  | 'ways'
  | 'night'
  | 'verdict'
  | 'season'
  | 'hours'
  | 'day'
  | 'log'
  | 'screens'
  | 'compare'
  | 'rulings'
  | 'search';
export const standsLeaf = signal<StandsLeaf>('night');

/** The stand asked about, by its id; a spot tried out has none. */
const chosenId = signal<string | null>(null);
/** Where it is tried out, away from where it is drawn. */
export const triedAt = signal<Point | null>(null);
/** What is tried of it; null leaves what it has. */
export interface TriedStand {
  seatHeight: number | null;
  weapon: Weapon | null;
  range: number | null;
}
const OWN: TriedStand = { seatHeight: null, weapon: null, range: null };
export const tried = signal<TriedStand>(OWN);
export const leaves = signal<Leaves | null>(null);

export const chosen = computed(() => stands.value.find(({ id }) => id === chosenId.value) ?? null);
/** Where the stand asked about sits now. */
export const seatAt = computed((): Point | null => triedAt.value ?? chosen.value?.at ?? null);

/** The stand or spot with what is tried of it, as every question of stands takes it. */
export const asked = computed(() => ({
  stand: chosen.value?.id ?? null,
  at: triedAt.value,
  ...tried.value,
}));

export const chooseStand = (id: string | null): void =>
  batch(() => {
    chosenId.value = id;
    triedAt.value = null;
    tried.value = OWN;
  });

export const aimSpot = (): void =>
  startAim({
    title: 'A spot for a stand',
    places: ['Click where someone would sit.'],
    done: ([at]) =>
      batch(() => {
        chooseStand(null);
        triedAt.value = at!;
      }),
  });

export const aimMove = (): void =>
  startAim({
    title: 'Move the stand',
    places: ['Click where it is to be tried.'],
    done: ([at]) => {
      triedAt.value = at!;
    },
  });

/** Writes what is tried into the property: the stand moved, or a spot drawn as a proposed stand. */
export async function keepTried(): Promise<void> {
  const at = seatAt.peek();
  if (!at) return;
  const of = chosen.peek();
  const { seatHeight, weapon, range } = tried.peek();
  const id = of?.id ?? `drawn-${crypto.randomUUID()}`;
  const put = await putFeature(
    {
      id,
      kind: 'stand',
      status: of?.row.status ?? 'proposed',
      name: of?.row.name ?? null,
      geometry: { type: 'Point', coordinates: [at[0], at[1]] },
      attributes: {
        ...of?.row.attributes,
        ...(seatHeight === null ? {} : { seatHeight }),
        ...(weapon === null ? {} : { weapon }),
        ...(range === null ? {} : { range }),
      },
      source: of?.row.source ?? 'drawn',
    },
    of ? 'The stand is changed. Undo takes it back.' : 'A stand is proposed. Undo takes it back.',
  );
  if (put) chooseStand(id);
}

/** What a person may set about stands; null while no property is open. */
export const standSettings = computed(
  () => (summary.value?.settings.stands as StandSettings | undefined) ?? null,
);

/** What the scout must have found before a stand can be looked at. */
export const standsReady = computed(
  () => run.value === null && (summary.value?.tables.some(({ name }) => name === 'stand-risks') ?? false),
);

/** The tables that answers about stands rest on, by their keys. */
export const basis = computed(() =>
  (summary.value?.tables ?? [])
    .filter(({ name }) => ['features', 'routes', 'corridors', 'necks', 'junctions'].includes(name))
    .map(({ key }) => key)
    .join(' '),
);

// A drag asks faster than answers come: only the last place asked while one is under way is asked next.
let looking = false;
let next: RequestParams<'stands.look'> | null = null;
async function lookAt(params: RequestParams<'stands.look'>): Promise<void> {
  next = params;
  if (looking) return;
  looking = true;
  while (next) {
    const now: RequestParams<'stands.look'> = next;
    next = null;
    await look.put(now);
  }
  looking = false;
}

effect(() => {
  void propertyKey.value;
  untracked(() => chooseStand(null));
});
// The first stand is shown at once; one that was removed gives way to it.
effect(() => {
  if (stage.value !== 'stands' || chosen.value || triedAt.value) return;
  const first = stands.value[0];
  if (first) chosenId.value = first.id;
});
// A setting answers with a new object only where something in it changed.
const settled = computed(() => JSON.stringify(standSettings.value));
effect(() => {
  void basis.value;
  void settled.value;
  if (stage.value !== 'stands' || standsLeaf.value !== 'range' || !standsReady.value) return;
  if (!seatAt.value) return;
  const params = { ...asked.value, leaves: leaves.value };
  untracked(() => void lookAt(params));
});
// Ways in are slow to find and are asked for by hand; those to where it no longer is are put away.
effect(() => {
  void asked.value;
  void basis.value;
  void settled.value;
  untracked(approach.forget);
});

export const walkTime = signal<WalkTime>('dawn');
export const walkMode = signal<'foot' | 'vehicle'>('foot');
/** Degrees from true north, or null for a calm. */
export const walkWind = signal<number | null>(null);
export const overNeighbour = signal(false);

export const askWays = (): void =>
  void approach.put({
    ...asked.peek(),
    time: walkTime.peek(),
    mode: walkMode.peek(),
    from: null,
    windFrom: walkWind.peek(),
    allowNeighbour: overNeighbour.peek() ? true : null,
  });
