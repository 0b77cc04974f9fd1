import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import type { Progress } from '../../../core/grid/progress.ts';

/**
 * One question a person asks of what has been computed, answered in a worker: a pure function of the artifacts it
 * needs and of the question. What it finds goes back to the service, its arrays on shared memory.
 */
export interface Inquiry<Need extends keyof Artifacts, Question, Found extends object> {
  needs: readonly Need[];
  /**
   * Must not keep or change its inputs.
   * @throws Problem in plain words; Cancelled through `progress`
   */
  run(inputs: Pick<Artifacts, Need>, question: Question, progress: Progress): Found;
}

/** Infers needs, question and finding from the literal. */
export const defineInquiry = <const Need extends keyof Artifacts, Question, Found extends object>(
  inquiry: Inquiry<Need, Question, Found>,
): Inquiry<Need, Question, Found> => inquiry;
