import type { Artifacts } from '../../core/analysis/artifacts.ts';
import type { AnyStep, PlannedStep } from '../../core/analysis/plan-run.ts';
import { existing, withoutLog } from '../../core/features/feature.ts';
import type { ResultCache } from './result-cache.ts';
import type { StepPool } from './step-pool.ts';

export interface RunHooks {
  /** Share of the whole run and the titles of what runs now. */
  progress(fraction: number, doing: string): void;
  /** A step's products are in `artifacts`. */
  stepDone(planned: PlannedStep, fromCache: boolean, seconds: number): void;
}

/**
 * Runs planned steps, as many at once as the pool has workers, each as soon as what it needs is there.
 * Results do not depend on the pool's size: steps are pure and share nothing but their inputs.
 *
 * @param artifacts the sources, and products of an earlier run, which are shown until this run's take their place
 * @param expected seconds each step is expected to take, for the progress share
 * @param cancel one Int32 the caller sets to stop
 * @throws Cancelled; Problem or Error of the first step that failed, after those running have ended
 */
export async function runSteps(
  plan: readonly PlannedStep[],
  artifacts: Partial<Artifacts>,
  pool: StepPool,
  cache: ResultCache | null,
  expected: (step: string) => number,
  cancel: SharedArrayBuffer,
  hooks: RunHooks,
): Promise<void> {
  const total = plan.reduce((sum, { step }) => sum + expected(step.name), 0);
  const share = new Map<string, number>();
  const running = new Map<string, { title: string; promise: Promise<void> }>();
  const waiting = [...plan];
  // What an earlier run made is there under the same name, but belongs to other keys.
  const coming = new Set<string>(plan.flatMap(({ step }) => step.makes as string[]));
  // An edit may put other features in their place while this run, whose keys name these, goes on.
  const { features } = artifacts;
  let failure: unknown = null;

  const report = () => {
    const done = plan.reduce((sum, { step }) => sum + expected(step.name) * (share.get(step.name) ?? 0), 0);
    hooks.progress(total > 0 ? done / total : 1, [...running.values()].map(({ title }) => title).join('; '));
  };

  const runOne = async (planned: PlannedStep) => {
    const { step, params, key } = planned;
    const started = performance.now();
    const cached = cache ? await cache.get(key) : null;
    const products =
      cached ??
      (await pool.run(
        {
          step: step.name,
          inputs: inputsOf(step, artifacts, features),
          params,
          cancel,
        },
        (fraction) => {
          share.set(step.name, fraction);
          report();
        },
      ));
    if (!cached) await cache?.put(key, products);
    Object.assign(artifacts, products);
    for (const made of step.makes as string[]) coming.delete(made);
    share.set(step.name, 1);
    hooks.stepDone(planned, cached !== null, (performance.now() - started) / 1000);
  };

  const stop = new Int32Array(cancel);
  while (waiting.length > 0 || running.size > 0) {
    if (failure === null) {
      for (const planned of [...waiting]) {
        if (running.size >= pool.size) break;
        const ready = (planned.step.needs as string[]).every(
          (need) => need in artifacts && !coming.has(need),
        );
        if (!ready) continue;
        waiting.splice(waiting.indexOf(planned), 1);
        const { name, title } = planned.step;
        const promise = runOne(planned)
          .catch((error) => {
            failure ??= error;
            Atomics.store(stop, 0, 1);
          })
          .finally(() => running.delete(name));
        running.set(name, { title, promise });
      }
      report();
    }
    if (running.size === 0) break;
    await Promise.race([...running.values()].map(({ promise }) => promise));
  }
  if (failure !== null) throw failure;
}

function inputsOf(
  step: AnyStep,
  artifacts: Partial<Artifacts>,
  features: Artifacts['features'] | undefined,
): Record<string, unknown> {
  const needs = step.needs as (keyof Artifacts)[];
  const inputs: Record<string, unknown> = Object.fromEntries(needs.map((need) => [need, artifacts[need]]));
  if (inputs.features) inputs.features = (step.proposed ? withoutLog : existing)(features!);
  return inputs;
}
