import type { Geometry } from 'geojson';
import type { Point } from '../../core/grid/frame.ts';
import type { NeckSmelled } from '../../core/stands/smelled.ts';
import type { MovedLine } from '../../core/travel/flow-lines.ts';

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

export interface SmelledAnswer {
  /** The hour and the air it is told for. */
  when: string;
  sentences: string[];
  notes: string[];
  /** Over the usual threshold as far as this, m, towards this, degrees from grid north. */
  carry: number;
  bearing: number;
  necks: NeckSmelled[];
  /** Where scent is over the threshold of a keen nose, and within that over the usual one; null where nowhere. */
  keen: Geometry | null;
  usual: Geometry | null;
}

export interface DraggedAnswer {
  /** Lines of travel that run elsewhere, from where they part to where they meet again. */
  moved: MovedLine[];
  /** The neck asked about, or the best; then those whose share changes most. Shares of all travel. */
  necks: { id: string; rank: number; before: number; after: number }[];
  /** Across the line of the proposal. */
  line: { before: number; after: number };
  sentences: string[];
  seconds: number;
}

export interface HandAnswers {
  'hand.dragged': DraggedAnswer;
  'hand.air': { ready: true };
  'hand.smelled': SmelledAnswer;
  'hand.onward': OnwardAnswer;
}
