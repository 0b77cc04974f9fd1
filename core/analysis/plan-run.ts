import type { Artifacts, Sources } from './artifacts.ts';
import { canonical } from './canonical.ts';
import type { Settings } from './settings.ts';
import type { Step } from './step.ts';

/** A step as the scheduler sees it, whatever it needs and makes. */
// biome-ignore lint/suspicious/noExplicitAny: steps of different needs share one table
export type AnyStep = Step<any, any, any>;

export interface PlannedStep {
  step: AnyStep;
  params: unknown;
  /** Names this result for good: equal keys mean equal bits. */
  key: string;
}

/** Content keys of what the readers brought in; `today` is that of the features that stand today. */
export type SourceKeys = Record<keyof Sources, string> & { today?: string };

/**
 * Orders the steps so that each follows what it needs, and keys each by its name, version, canonical
 * parameters and its parents' keys.
 *
 * @param steps the step table; each artifact is made by one step at most
 * @param digest a cryptographic hash of text, given by the host
 * @throws Error when a step needs what no step makes, or steps need each other in a circle
 */
export function planRun(
  steps: readonly AnyStep[],
  { today, ...sourceKeys }: SourceKeys,
  settings: Settings,
  digest: (text: string) => string,
): PlannedStep[] {
  const artifactKeys = new Map<keyof Artifacts, string>(
    Object.entries(sourceKeys) as [keyof Sources, string][],
  );
  const maker = new Map<keyof Artifacts, AnyStep>();
  for (const step of steps) {
    for (const made of step.makes as (keyof Artifacts)[]) {
      const other = maker.get(made) ?? (artifactKeys.has(made) ? { name: 'the readers' } : undefined);
      if (other) throw new Error(`both ${other.name} and ${step.name} make ${made}`);
      maker.set(made, step);
    }
  }
  const planned: PlannedStep[] = [];
  let waiting = [...steps];
  while (waiting.length > 0) {
    const ready = waiting.filter((step) =>
      (step.needs as (keyof Artifacts)[]).every((need) => artifactKeys.has(need)),
    );
    if (ready.length === 0) {
      const stuck = waiting[0]!;
      const lacks = (stuck.needs as (keyof Artifacts)[]).find((need) => !artifactKeys.has(need))!;
      const why = maker.has(lacks) ? 'the steps need each other in a circle' : 'no step makes it';
      throw new Error(`step ${stuck.name} needs ${lacks}, but ${why}`);
    }
    for (const step of ready) {
      const params = step.params(settings);
      const keyOf = (need: keyof Artifacts) =>
        need === 'features' && today !== undefined && !step.proposed ? today : artifactKeys.get(need);
      const parents = (step.needs as (keyof Artifacts)[]).map((need) => [need, keyOf(need)]);
      const key = digest(canonical([step.name, step.version, params, parents]));
      planned.push({ step, params, key });
      for (const made of step.makes as (keyof Artifacts)[]) artifactKeys.set(made, `${key}/${made}`);
    }
    waiting = waiting.filter((step) => !ready.includes(step));
  }
  return planned;
}
