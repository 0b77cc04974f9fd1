import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Artifacts } from '../../core/analysis/artifacts.ts';
import type { PlannedStep } from '../../core/analysis/plan-run.ts';
import { Cancelled } from '../../core/grid/problem.ts';
import { troubleOf } from '../host/trouble.ts';
import type { StepPool } from '../workers/step-pool.ts';
import { LAYER_ARTIFACT, TABLE_ARTIFACT } from './catalog.ts';
import type { ServiceEvent } from './contract.ts';
import { cacheOf, noteKeys, type OpenProperty } from './open-property.ts';
import { runScout, type StepSeconds } from './scout.ts';

interface Run {
  id: string;
  property: OpenProperty;
  /** The keys the run leads to: a run asked for twice is the same run. */
  goal: string;
  cancel: SharedArrayBuffer;
  ended: Promise<void>;
}

export interface Scouting {
  /** Starts a run, or answers with the one that already leads to the same results. */
  start(property: OpenProperty): Promise<string>;
  /** Stops the run, if any, and waits for its end. */
  cancel(): Promise<boolean>;
}

const REPORT_EVERY_MS = 100;
const goalOf = (plan: PlannedStep[]) => plan.map(({ key }) => key).join();
const madeBy = <T extends string>(catalog: Record<T, keyof Artifacts>, planned: PlannedStep): T[] =>
  (Object.keys(catalog) as T[]).filter((name) => (planned.step.makes as string[]).includes(catalog[name]));

/** Runs scouts one at a time for a window and tells it how they go. */
export function createScouting(
  pool: StepPool,
  folder: string,
  emit: (event: ServiceEvent) => void,
): Scouting {
  const timings = join(folder, 'step-seconds.json');
  let current: Run | null = null;
  let counter = 0;

  const readSeconds = async (): Promise<StepSeconds> => {
    try {
      return JSON.parse(await readFile(timings, 'utf8')) as StepSeconds;
    } catch {
      return {};
    }
  };

  const cancel = async () => {
    const run = current;
    if (!run) return false;
    Atomics.store(new Int32Array(run.cancel), 0, 1);
    await run.ended;
    return true;
  };

  async function perform(run: Omit<Run, 'ended'>, plan: PlannedStep[]): Promise<void> {
    const { id, property } = run;
    const started = performance.now();
    const seconds = await readSeconds();
    let reported = Number.NEGATIVE_INFINITY;
    try {
      const artifacts = await runScout(
        property.input,
        plan,
        { pool, cache: cacheOf(property), seconds },
        run.cancel,
        {
          progress(fraction, doing) {
            const now = performance.now();
            if (now - reported < REPORT_EVERY_MS) return;
            reported = now;
            const elapsed = (now - started) / 1000;
            const remaining = fraction > 0.05 ? (elapsed * (1 - fraction)) / fraction : null;
            emit({ type: 'scout.progress', run: id, fraction, doing, remaining });
          },
          stepDone(planned, fromCache) {
            noteKeys(property, planned);
            const layers = madeBy(LAYER_ARTIFACT, planned);
            const tables = madeBy(TABLE_ARTIFACT, planned);
            emit({ type: 'scout.step', run: id, step: planned.step.name, layers, tables, fromCache });
          },
        },
        property.artifacts,
      );
      await property.store.saveResults(artifacts);
      await mkdir(folder, { recursive: true });
      await writeFile(timings, JSON.stringify(seconds)).catch(() => {});
      emit({ type: 'scout.done', run: id, seconds: (performance.now() - started) / 1000 });
    } catch (error) {
      if (error instanceof Cancelled) emit({ type: 'scout.cancelled', run: id });
      else emit({ type: 'scout.failed', run: id, trouble: troubleOf(error) });
    }
  }

  return {
    cancel,
    async start(property) {
      const { plan } = property;
      const goal = goalOf(plan);
      if (current?.property === property && current.goal === goal) return current.id;
      await cancel();
      const run = { id: `scout-${++counter}`, property, goal, cancel: new SharedArrayBuffer(4) };
      const ended = perform(run, plan).finally(() => {
        if (current?.id === run.id) current = null;
      });
      current = { ...run, ended };
      return run.id;
    },
  };
}
