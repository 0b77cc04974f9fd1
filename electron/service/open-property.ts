import type { Artifacts } from '../../core/analysis/artifacts.ts';
import type { PlannedStep } from '../../core/analysis/plan-run.ts';
import type { Imagery } from '../../core/cover/types.ts';
import { inVariant } from '../../core/features/variants.ts';
import type { FittedSet } from '../../core/travel/assumption-sets.ts';
import { openStore, type StoreClient } from '../store/store-client.ts';
import { createResultCache, type ResultCache } from '../workers/result-cache.ts';
import type { Overlay } from './overlays.ts';
import { planScout, type ScoutInput } from './scout.ts';
import type { Tried } from './today.ts';

/** The property a window works on: its file, its sources in shared memory, and what has been computed of it. */
export interface OpenProperty {
  path: string;
  store: StoreClient;
  cache: ResultCache;
  display: Imagery | null;
  /**
   * What the file says of itself, as of the last edit, the features of every variant of the plan among it: a window
   * asks often, and the store may be busy saving.
   */
  head: Awaited<ReturnType<StoreClient['head']>>;
  /** With what exists and what the chosen variant proposes. */
  input: ScoutInput;
  /** Sources and products there now. */
  artifacts: Partial<Artifacts>;
  /** Content key of each artifact there now. */
  keys: Map<keyof Artifacts, string>;
  /** What the file as last edited leads to. */
  plan: PlannedStep[];
  /** Grids made on demand by their ids, oldest first; the newest of each kind are kept. */
  overlays: Map<string, Overlay>;
  /** What was solved for the last proposal, under the keys of the travel it was tried against. */
  tried: { key: string; found: Tried } | null;
  /** The assumption set last offered, and the assumptions it was fitted from. */
  offered: { from: string; set: FittedSet } | null;
}

/** Opens a property file; results of earlier runs come back through the cache when the scout runs. */
export async function openProperty(path: string): Promise<OpenProperty> {
  const store = await openStore(path);
  const head = await store.head();
  const { frame, settings } = head;
  const all = await store.sources();
  const sources = { ...all, features: inVariant(all.features, settings.plans) };
  const input = { frame, sources, settings };
  return {
    path,
    store,
    cache: createResultCache(`${path}.cache`),
    display: await store.display(),
    head,
    input,
    artifacts: { ...sources },
    keys: new Map(),
    plan: planScout(input),
    overlays: new Map(),
    tried: null,
    offered: null,
  };
}

/** Notes under which key each product of a finished step stands. */
export function noteKeys(property: OpenProperty, planned: PlannedStep): void {
  for (const made of planned.step.makes as (keyof Artifacts)[])
    property.keys.set(made, `${planned.key}/${made}`);
}

/** After an edit: the features, settings and wind in force, and the plan they lead to. */
export async function refresh(property: OpenProperty): Promise<void> {
  const before = property.head.wind;
  property.head = await property.store.head();
  const { settings, features: all } = property.head;
  const features = inVariant(all, settings.plans);
  const { sources } = property.input;
  const wind = property.head.wind === before ? sources.wind : await property.store.wind();
  property.input = { ...property.input, settings, sources: { ...sources, features, wind } };
  property.artifacts.features = features;
  property.artifacts.wind = wind;
  property.plan = planScout(property.input);
}

/** Whether a step's products are there and follow from the file as it is now. */
export const isCurrent = (property: OpenProperty, { step, key }: PlannedStep): boolean =>
  (step.makes as (keyof Artifacts)[]).every((made) => property.keys.get(made) === `${key}/${made}`);

/** The cache, before which comes what is in memory already: it is not read again, and arrays stay the same. */
export function cacheOf(property: OpenProperty): ResultCache {
  return {
    async get(key) {
      const planned = property.plan.find((candidate) => candidate.key === key);
      if (!planned || !isCurrent(property, planned)) return property.cache.get(key);
      const makes = planned.step.makes as (keyof Artifacts)[];
      return Object.fromEntries(makes.map((made) => [made, property.artifacts[made]]));
    },
    put: (key, products) => property.cache.put(key, products),
  };
}
