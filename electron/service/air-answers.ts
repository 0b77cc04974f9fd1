import type { DayPart, PartTable } from '../../core/air/season.ts';
import type { stabilityOf } from '../../core/air/stability.ts';
import type { DeerWind, SharedWind } from '../../core/stands/deer-wind.ts';
import type { OverlaySummary } from './ground-answers.ts';

/** Answers about the air, as the window gets them: SI numbers and sentences in the user's units. */

export type AirState = ReturnType<typeof stabilityOf>;

export interface RoseAnswer {
  /** Null without a wind record. */
  parts: PartTable[] | null;
  /** What was kept of the record, and what was assumed. */
  notes: string[];
  sentence: string;
}

/** Air near the ground on an even lattice, row by row from the north: what the map draws its arrows from. */
export interface AirLattice {
  /** The first place, frame CRS, m, and the way from one to the next. */
  west: number;
  north: number;
  step: number;
  columns: number;
  rows: number;
  /** m/s; null where there is no ground. */
  speed: (number | null)[];
  /** Degrees from grid north; null where the way is not known: air that hardly moves, or eddies behind a rise. */
  towards: (number | null)[];
  /** Share of the cold layer's own flow, 0..1. */
  held: number[];
}

export interface HourAnswer {
  state: AirState;
  /** Height of the sun over a level horizon, degrees. */
  sun: number;
  arrows: AirLattice;
  /** Share of the ground over which the cold layer keeps its own flow, 0..1. */
  held: number;
  /** Depth of the cold layer at that hour; null by day. */
  overlay: OverlaySummary | null;
  sentence: string;
  notes: string[];
}

export interface ScentAnswer {
  state: AirState;
  /** What a hunter's scent is thinned to, s/m3, where it is over the keenest nose of the band. */
  overlay: OverlaySummary;
  verdict: string;
  /** m, for the usual nose and the ends of the band. */
  carry: { usual: number; low: number; high: number };
  /** Share of travel it touches, 0..1. */
  travel: { usual: number; low: number; high: number };
  bedding: string[];
  /** Where it spills out of the creek, frame CRS. */
  spill: [number, number] | null;
  /** Mean time scent takes to these distances, s; null where none came. */
  arrivals: { distance: number; seconds: number | null }[];
  notes: string[];
}

export interface StandAirAnswer {
  name: string;
  cases: {
    part: DayPart;
    wind: string;
    speed: number;
    /** Share of the hours of that part; null without a record. */
    share: number | null;
    low: number;
    high: number;
    state: AirState;
    verdict: string;
  }[];
  parts: { part: DayPart; clean: number | null; good: string[]; bad: string[] }[];
  risks: string[];
  /** The deer's own wind, all travel together; empty where no trail is known. */
  deer: DeerWind[];
  /** Winds that serve deer and hunter alike here, the likeliest first. */
  shared: SharedWind[];
  /** Clock times of a clear calm night's drainage at the spot, standard time; null where it never drains. */
  turns: { begins: string | null; ends: string | null; zone: string };
  notes: string[];
}
