import type { Artifacts } from '../../core/analysis/artifacts.ts';
import type { PlannedStep } from '../../core/analysis/plan-run.ts';
import type { Imagery } from '../../core/cover/types.ts';
import { openStore, type StoreClient } from '../store/store-client.ts';
import { createResultCache, type ResultCache } from '../workers/result-cache.ts';
import type { OverlayKind } from './contract.ts';
import type { Overlay } from './overlays.ts';
import { planScout, type ScoutInput } from './scout.ts';

/** The property a window works on: its file, its sources in shared memory, and what has been computed of it. */
export interface OpenProperty {
  path: string;
  store: StoreClient;
  cache: ResultCache;
  display: Imagery | null;
  /** What the file says of itself, as of the last edit: a window asks often, and the store may be busy saving. */
  head: Awaited<ReturnType<StoreClient['head']>>;
  input: ScoutInput;
  /** Sources and products there now. */
  artifacts: Partial<Artifacts>;
  /** Content key of each artifact there now. */
  keys: Map<keyof Artifacts, string>;
  /** Grids made on demand, the newest of each kind. */
  overlays: Map<OverlayKind, Overlay>;
}

/** Opens a property file; results of earlier runs come back through the cache when the scout runs. */
export async function openProperty(path: string): Promise<OpenProperty> {
  const store = await openStore(path);
  const head = await store.head();
  const { frame, settings } = head;
  const sources = await store.sources();
  return {
    path,
    store,
    cache: createResultCache(`${path}.cache`),
    display: await store.display(),
    head,
    input: { frame, sources, settings },
    artifacts: { ...sources },
    keys: new Map(),
    overlays: new Map(),
  };
}

/** Notes under which key each product of a finished step stands. */
export function noteKeys(property: OpenProperty, planned: PlannedStep): void {
  for (const made of planned.step.makes as (keyof Artifacts)[])
    property.keys.set(made, `${planned.key}/${made}`);
}

/** After an edit: the features and settings in force, and the plan they lead to. */
export async function refresh(property: OpenProperty): Promise<PlannedStep[]> {
  property.head = await property.store.head();
  const { settings, features } = property.head;
  property.input = { ...property.input, settings, sources: { ...property.input.sources, features } };
  property.artifacts.features = features;
  return planScout(property.input);
}
