import type { ComparedStand } from '../../core/stands/compare.ts';

/** Answers about where stands should go: SI numbers and sentences in the user's units. */

export type { ComparedStand } from '../../core/stands/compare.ts';

export interface StandCompareAnswer {
  stands: ComparedStand[];
  sentences: string[];
  cautions: string[];
  notes: string[];
  seconds: number;
}

export interface StandsSearchAnswers {
  'stands.compare': StandCompareAnswer;
}
