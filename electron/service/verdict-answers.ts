import type { BothWays } from '../../core/stands/clean-share.ts';
import type { CalendarDay, Chance } from '../../core/stands/hour-calendar.ts';
import type { Moon } from '../../core/stands/moon.ts';
import type { Apart } from '../../core/stands/season-sheet.ts';
import type { WayTaken } from '../../core/stands/stand-ways.ts';
import type { StandVerdict } from '../../core/stands/verdict.ts';
import type { AirState } from './air-answers.ts';

/** Answers about when a stand is hunted: SI numbers, clock times in standard time, sentences in the user's units. */

export type { BothWays } from '../../core/stands/clean-share.ts';
export type { Chance, HourCell } from '../../core/stands/hour-calendar.ts';
export type { HuntSettings } from '../../core/stands/hunt-settings.ts';
export type { Apart } from '../../core/stands/season-sheet.ts';
export type { WayTaken } from '../../core/stands/stand-ways.ts';
export type { StandVerdict } from '../../core/stands/verdict.ts';

interface Band {
  usual: number;
  low: number;
  high: number;
}

/** One wind at one part of the day. Shares 0..1 of the travel expected then; null where none is. */
export interface CaseRow {
  part: string;
  wind: string;
  speed: number;
  /** Share of the season's hours of this part; null without a record. */
  share: number | null;
  state: AirState;
  /** Clean, spoiled and never add up to one. */
  clean: Band | null;
  spoiled: number | null;
  never: number | null;
  alarmed: number | null;
  directions: BothWays[];
  bedding: string[];
  hunt: 'yes' | 'doubtful' | 'no';
  why: string;
  /** The way in, and where it is looked at on its own the way out; empty where none was judged. */
  ways: readonly WayTaken[];
}

/** What a date has left of a stand. */
export interface OnDate {
  /** What is left of the expected travel after visits near by, 0..1. */
  left: number;
  reasons: string[];
  /** Days since it was sat, and still to wait; null where no sit is logged. */
  since: number | null;
  wait: number;
  /** The quiet ground it lies on, where that is closed then. */
  closed: string | null;
  phase: string | null;
  moon: Moon;
}

export interface VerdictAnswer {
  /** By the air alone. */
  verdict: StandVerdict;
  /** Hours a week its wind allows and a clean way leads in and out; null without a wind record. */
  usable: { hours: Band | null; rested: number | null };
  /** Ways that are not clean whatever the wind, a line each. */
  lost: string[];
  cases: CaseRow[];
  /** How long deer stay in reach and in view on average, s; null where none come. */
  inView: number | null;
  onDate: OnDate | null;
  notes: string[];
  seconds: number;
}

export interface SheetLine {
  /** Index into `windows`. */
  window: number;
  part: string;
  wind: string;
  share: number | null;
  /** Best first, with the clean share; empty means stay home. */
  choices: { stand: string; name: string; clean: number; firm: boolean; ways: readonly WayTaken[] }[];
  /** `HH:MM` on the window's middle day: be seated by, hunt until. */
  seated: string;
  until: string;
  /** Leave before the next part of the day. */
  leave: boolean;
  sentence: string;
}

export interface SheetAnswer {
  windows: { name: string; from: string; to: string; rut: boolean }[];
  lines: SheetLine[];
  apart: (Apart & { names: [string, string] })[];
  zone: string;
  notes: string[];
  seconds: number;
}

export interface ForecastPart {
  part: string;
  from: string;
  to: string;
  /** The hunters' stands, best first; empty means stay home. */
  picks: {
    stand: string;
    name: string;
    clean: number;
    left: number;
    seated: string;
    why: string;
    ways: readonly WayTaken[];
  }[];
  /** Stands that were passed over, and why. */
  passed: { stand: string; name: string; why: string }[];
  sentence: string;
}

export interface ForecastAnswer {
  wind: string;
  parts: ForecastPart[];
  phase: string | null;
  moon: Moon;
  zone: string;
  notes: string[];
  seconds: number;
}

/** One day of the season by its hours. */
export interface HoursDay extends CalendarDay {
  /** Lawful light as `HH:MM`; null where the sun does not rise or set. */
  light: { from: string; to: string } | null;
  phase: string | null;
  /** Visits near by that cost some of the travel expected: a line a stand. */
  disturbed: string[];
  /** Sits written down on the day. */
  sits: string[];
}

export interface HoursAnswer {
  days: HoursDay[];
  chances: Chance[];
  /** Names of the stands by id. */
  names: Record<string, string>;
  zone: string;
  /** What the hours are not known by. */
  doubts: string[];
  notes: string[];
  seconds: number;
}

export interface VerdictAnswers {
  'stands.hours': HoursAnswer;
  'stands.verdict': VerdictAnswer;
  'stands.sheet': SheetAnswer;
  'stands.forecast': ForecastAnswer;
}
