import type { Artifacts, Sources } from '../../core/analysis/artifacts.ts';
import { type PlannedStep, planRun } from '../../core/analysis/plan-run.ts';
import type { Settings } from '../../core/analysis/settings.ts';
import { STEPS } from '../../core/analysis/step-table.ts';
import type { Frame } from '../../core/grid/frame.ts';
import type { ResultCache } from '../workers/result-cache.ts';
import { type RunHooks, runSteps } from '../workers/run-steps.ts';
import type { StepPool } from '../workers/step-pool.ts';
import { digest, sourceKeys } from './source-keys.ts';

export interface ScoutInput {
  frame: Frame;
  sources: Sources;
  settings: Settings;
}

export const planScout = ({ frame, sources, settings }: ScoutInput): PlannedStep[] =>
  planRun(STEPS, sourceKeys(frame, sources), settings, digest);

/** How many seconds each step took before, by name; steps never seen count one second. */
export type StepSeconds = Record<string, number>;

/**
 * One whole analysis of a property.
 *
 * @param seconds durations of earlier runs for the progress share; updated with this run's
 * @param cancel one Int32 that the caller sets to stop
 */
export async function runScout(
  input: ScoutInput,
  plan: PlannedStep[],
  tools: { pool: StepPool; cache: ResultCache | null; seconds: StepSeconds },
  cancel: SharedArrayBuffer,
  hooks: RunHooks,
  into: Partial<Artifacts> = {},
): Promise<Artifacts> {
  Object.assign(into, input.sources);
  const { pool, cache, seconds } = tools;
  // A copy: shares that changed their meaning while a run goes on would let its progress fall.
  const before = { ...seconds };
  await runSteps(plan, into, pool, cache, (step) => before[step] ?? 1, cancel, {
    progress: hooks.progress,
    stepDone: (planned, fromCache, took) => {
      if (!fromCache) seconds[planned.step.name] = took;
      hooks.stepDone(planned, fromCache, took);
    },
  });
  return into as Artifacts;
}
