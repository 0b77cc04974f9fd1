import type { Point } from '../../core/grid/frame.ts';
import type {
  BarricadeCheck,
  Closure,
  GoalEffect,
  Shift,
  Spread,
  TravelArea,
} from '../../core/travel/types.ts';
import type { OverlaySummary } from './ground-answers.ts';

/** Answers about travel, as the window gets them: shares 0..1, SI numbers, sentences in the user's units. */

export interface WhyAnswer {
  /** Cost of a metre here against a metre of easy ground; null where the ground is not known. */
  total: number | null;
  /** What adds to it, the dearest first, each in extra metres of easy ground a metre. */
  parts: { part: string; label: string; value: number }[];
  /** Share of the sum left along an edge of cover or on a trail; 1 elsewhere. */
  factor: number;
  /** Ids of what passes here. */
  corridors: string[];
  necks: string[];
  routes: string[];
  sentences: string[];
}

/** The effect on the goals set; shares of all travel. */
export interface GoalsAnswer extends GoalEffect {
  sentences: string[];
}

/** What a comparison was asked besides the necks; null what was not asked. */
export interface AskedAnswer {
  /** Travel between the two areas asked for, in shares of that travel alone. */
  pair: {
    from: string;
    to: string;
    /** Share of all travel that it is; 0 for two areas that no part of all travel is reckoned straight between. */
    ofAll: number;
    necks: ({ id: string; rank: number } & Shift)[];
    /** Share of it that no way is left for. */
    cutOff: Shift;
    sentences: string[];
  } | null;
  /** Within the stand's range: of all travel, and of that between the two areas. */
  stand: ({ at: Point; reach: number; ofPair: Shift | null; sentence: string } & Shift) | null;
  goals: GoalsAnswer | null;
}

export interface WhatIfAnswer extends AskedAnswer {
  /** Proposed bedding and food, which are ends of travel in this comparison. */
  ends: { id: number; name: string; kind: TravelArea['kind'] }[];
  /** Passage with everything proposed built, and how it changes; today's is the `passage` layer. */
  overlays: { after: OverlaySummary; change: OverlaySummary };
  necks: {
    id: string;
    rank: number;
    before: number;
    after: number;
    /** Of each pair's own travel, 0..1; pairs that neither did nor do pass are left out. */
    pairs: { from: string; to: string; before: number; after: number }[];
  }[];
  barricades: (BarricadeCheck & { sentences: string[] })[];
  /** Share of all travel within reach of the spot asked for. */
  spot: { before: number; after: number; sentence: string } | null;
  sentences: string[];
  doubts: string[];
  seconds: number;
}

/** Travel in years to come, one value a year in the order of `years`. */
export interface YearsAnswer {
  years: number[];
  /** Day of the year it is computed for, MM-DD; null for a day out of every season. */
  date: string | null;
  /** Shares of all travel: with what exists alone, and with everything proposed. */
  necks: { id: string; rank: number; asIs: number[]; planned: number[] }[];
  /** What was asked, year by year: `before` as it then is, `after` with everything proposed. */
  asked: AskedAnswer[];
  /** Barricades that have rotted away by each year. */
  gone: { id: string; name: string }[][];
  sentences: string[];
  doubts: string[];
  seconds: number;
}

export interface ClosuresAnswer {
  /** The neck they gather travel at; null when no closure would help, or when they gather at the goal's spot. */
  goal: string | null;
  closures: (Closure & { sentence: string; effectSentences: string[] })[];
  sentence: string;
}

export interface AssumptionSetRow {
  key: string;
  label: string;
  /** What the set holds true. */
  holds: string;
  chosen: boolean;
}

export interface UncertaintyAnswer {
  necks: { id: string; rank: number; share: number; spread: Spread; firm: boolean; reasons: string[] }[];
  sentence: string;
  seconds: number;
}

export interface SightingsAnswer {
  seen: number;
  /** 0.5 is luck, 1 perfect; null without sightings, as are the others. */
  areaUnderCurve: number | null;
  inTopTenth: number | null;
  byLuck: number | null;
  verdict: string;
}

/** Weights fitted to sightings: offered, or why not. */
export interface FitAnswer {
  outcome: 'offered' | 'too few' | 'by luck' | 'no better';
  /** Spots seen on known ground, and the squares of ground they lie on. */
  seen: number;
  blocks: number;
  /** On all sightings, under the weights in force and under the fitted; null where nothing was tried or found. */
  inForce: { areaUnderCurve: number; inTopTenth: number } | null;
  fitted: { areaUnderCurve: number; inTopTenth: number } | null;
  /** How many times likelier sightings held out of the fit are under it, and the range luck leaves open. */
  heldOut: { times: number; low: number; high: number } | null;
  /** What the set offered is called; null when none is. */
  name: string | null;
  changes: { key: string; label: string; unit: string; from: number; to: number }[];
  sentence: string;
  doubts: string[];
}

export interface BlindTrialAnswer {
  marks: { at: Point; neck: string | null; distance: number | null }[];
  found: number;
  necksFound: number;
  /** Chance that one spot drawn at random finds a neck, and that as many marks would do as well. */
  chance: number;
  byLuck: number;
  sentence: string;
}
