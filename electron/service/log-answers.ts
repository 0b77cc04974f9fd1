import type { LogScore } from '../../core/stands/hunt-log.ts';
import type { Observation } from '../../core/stands/observations.ts';

/** Answers about the log of hunts: SI numbers and sentences in the user's units. */

export type { LogScore } from '../../core/stands/hunt-log.ts';
export type { Observation } from '../../core/stands/observations.ts';

export interface LogRow {
  id: string;
  date: string;
  /** Id and name of the stand; the name is null where that stand is gone. */
  stand: string | null;
  name: string | null;
  from: number | null;
  to: number | null;
  /** Null where hours or wind were not told. */
  part: string | null;
  wind: string | null;
  /** What the verdict says of that stand, wind and part; null where it says nothing. */
  expected: { hunt: 'yes' | 'doubtful' | 'no'; clean: number | null; why: string } | null;
  /** Why nothing is expected, where that is so. */
  silent: string | null;
  observations: Observation[];
}

export interface LogAnswer {
  /** Latest first. */
  sits: LogRow[];
  scores: LogScore[];
  notes: string[];
  seconds: number;
}

export interface LogAnswers {
  'stands.log': LogAnswer;
}
