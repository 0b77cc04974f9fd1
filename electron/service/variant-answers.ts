import type { Comparison, Three } from '../../core/travel/compare.ts';
import type { Closure } from '../../core/travel/types.ts';
import type { OverlaySummary } from './ground-answers.ts';
import type { AskedAnswer, WhatIfAnswer } from './travel-answers.ts';

/** Answers about plans kept side by side. */

export interface VariantsAnswer {
  chosen: string;
  variants: {
    id: string;
    name: string;
    /** What it proposes, by kind. */
    proposed: { kind: string; count: number }[];
  }[];
}

/** One plan against today. */
export interface PlanAnswer extends AskedAnswer {
  id: string;
  name: string;
  overlays: { after: OverlaySummary; change: OverlaySummary };
  barricades: WhatIfAnswer['barricades'];
  /** The closures that would gather more still, and the neck they gather at; null for the goal's spot or none. */
  goal: string | null;
  closures: Closure[];
  doubts: string[];
}

/** Shares of all travel today, under the first plan and under the second. */
export interface CompareAnswer {
  first: PlanAnswer;
  second: PlanAnswer;
  /** The second plan less the first. */
  difference: OverlaySummary;
  necks: ({ id: string; rank: number } & Three)[];
  junctions: Comparison['junctions'];
  sentences: string[];
  seconds: number;
}
