import type { Progress } from '../grid/progress.ts';
import type { Artifacts, Results } from './artifacts.ts';
import type { Settings } from './settings.ts';

/**
 * One named piece of the analysis: a pure function with declared needs, parameters and products.
 * The scheduler keys a result by name, version, canonical parameters and its parents' keys, so `version` must
 * rise whenever the same inputs may give another result.
 */
export interface Step<
  Need extends keyof Artifacts = keyof Artifacts,
  Make extends keyof Results = keyof Results,
  Params = unknown,
> {
  /** `room.idea`, e.g. `ground.drainage`. */
  name: string;
  version: number;
  /** What the progress line says, e.g. `Filling depressions`. */
  title: string;
  needs: readonly Need[];
  makes: readonly Make[];
  /**
   * Sees proposed features as well. Every other step is given those of today alone and keyed by them, so that a
   * barricade moved on the drawing board leaves it standing.
   */
  proposed?: true;
  /** The part of the settings it uses and nothing else; must be JSON. */
  params(settings: Settings): Params;
  /**
   * May be called in any worker. Must not keep or change its inputs.
   * @throws Problem in plain words when the data cannot carry the step; Cancelled through `progress`.
   */
  run(inputs: Pick<Artifacts, Need>, params: Params, progress: Progress): Pick<Results, Make>;
}

/** Infers the needs and products from the literal lists. */
export const defineStep = <const Need extends keyof Artifacts, const Make extends keyof Results, Params>(
  step: Step<Need, Make, Params>,
): Step<Need, Make, Params> => step;
