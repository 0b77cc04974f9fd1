import type { Feature } from '../features/feature.ts';
import type { BarricadeCheck, Shift } from '../travel/types.ts';
import type { Job } from './types.ts';

/** What an idea is for. Gains of different aims have units of their own, between which no rate of exchange is made up. */
export const DRAFT_AIMS = ['travel', 'stand', 'bedding'] as const;
export type DraftAim = (typeof DRAFT_AIMS)[number];

export const DRAFT_SIZES = ['weekend', 'winter', 'everything'] as const;
export type DraftSize = (typeof DRAFT_SIZES)[number];

/** One thing that could be done, as a feature that is only proposed. */
export interface DraftIdea {
  feature: Feature;
  aim: DraftAim;
  /**
   * Travel: share of all travel that it adds at its neck, from a solve with it built. Stand: mean share of all travel
   * met clean over the hours of light. Bedding: share of the season's daylight hours in which it is checked from a trail.
   */
  gain: number;
  /** The first says it in one line. */
  reasons: string[];
  cautions: string[];
  /** Ids of ideas without which it would gain less than half. */
  needs: string[];
}

/** What was looked at and is not proposed. */
export interface PassedIdea {
  what: string;
  why: string;
}

export interface DraftFound {
  ideas: DraftIdea[];
  passed: PassedIdea[];
}

/** An idea with the work it takes. */
export interface DraftLine extends DraftIdea {
  job: Job;
  /** Where its kind of work is allowed in the days when timber may be cut. */
  inWinter: boolean;
}

/** What is done in one size of the draft, and what is left out of it. */
export interface DraftPick {
  size: DraftSize;
  /** Person hours to spend; null without a limit. */
  budget: number | null;
  /** Person hours of the lines whose hours are known. */
  hours: number;
  /** Ids, in the order of the work. */
  lines: string[];
  left: { id: string; why: string }[];
}

/** A size of the draft built as a whole, against what is drawn now; shares of all travel. */
export interface DraftEffect {
  necks: ({ id: string; rank: number } & Shift)[];
  barricades: BarricadeCheck[];
  /** What passes within range of each stand it proposes. */
  stands: ({ id: string } & Shift)[];
}
