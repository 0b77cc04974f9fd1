import type { Point } from '../../core/grid/frame.ts';

/** Answers about the spot the pointer rests on: shares 0..1, SI numbers, sentences in the user's units. */

export interface OnwardAnswer {
  /** Share of all travel that passes within reach of the spot, m. */
  share: number;
  reach: number;
  /** How far deer are followed, m. */
  ahead: number;
  /** Most travelled first; none where too little passes to say. With `stays` they add up to 1. */
  ways: {
    share: number;
    /** Degrees clockwise from grid north. */
    bearing: number;
    path: Point[];
    when: 'dusk' | 'dawn' | 'any';
    words: string;
  }[];
  /** Share of the deer here whose travel ends here. */
  stays: number;
  /** How much passes. */
  sentence: string;
  notes: string[];
}

export interface HandAnswers {
  'hand.onward': OnwardAnswer;
}
