import type { WeightKey, Weights } from './assumptions.ts';
import type { Assumption } from './types.ts';
import { weightGroups } from './uncertainty.ts';

/** One group of assumptions moved to an end of its range, all others as they are. */
export interface WeightStep {
  keys: readonly WeightKey[];
  to: 'low' | 'high';
}

/** So many assumptions at most are moved at once: our choice. */
const MOST_STEPS = 5;
/** Parts of the way to the ends that the chosen are tried at together. */
export const PARTS = [0.5, 1] as const;

/** Every assumption that varies to either end of its range; those that are wrong together move together. */
export const singleSteps = (assumptions: readonly Assumption[]): WeightStep[] =>
  weightGroups(assumptions).flatMap((keys) => {
    const moves = (to: 'low' | 'high'): boolean =>
      assumptions.some((row) => keys.includes(row.key as WeightKey) && row[to] !== row.value);
    return (['low', 'high'] as const).filter(moves).map((to) => ({ keys, to }));
  });

/**
 * The steps that pay for themselves: each gains more than its standard error, of every group the better end, the
 * best few.
 */
export function payingSteps(
  steps: readonly WeightStep[],
  gains: readonly { mean: number; error: number }[],
): WeightStep[] {
  const taken = new Set<WeightKey>();
  return [...steps.keys()]
    .filter((k) => gains[k]!.mean > gains[k]!.error)
    .sort((a, b) => gains[b]!.mean - gains[a]!.mean || a - b)
    .flatMap((k) => {
      const step = steps[k]!;
      if (taken.has(step.keys[0]!)) return [];
      taken.add(step.keys[0]!);
      return [step];
    })
    .slice(0, MOST_STEPS);
}

/** The weights with steps taken a part of the way, to two figures. */
export function stepped(
  assumptions: readonly Assumption[],
  usual: Weights,
  steps: readonly WeightStep[],
  part: number,
): Weights {
  const weights = { ...usual };
  for (const { keys, to } of steps)
    for (const row of assumptions) {
      if (!keys.includes(row.key as WeightKey)) continue;
      const there = row.value + part * (row[to] - row.value);
      weights[row.key as WeightKey] = Number(there.toPrecision(2));
    }
  return weights;
}
