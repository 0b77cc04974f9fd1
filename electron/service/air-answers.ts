import type { DayPart, PartTable } from '../../core/air/season.ts';
import type { stabilityOf } from '../../core/air/stability.ts';
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

export interface HourAnswer {
  state: AirState;
  /** Points with `speed` (m/s), `towards` (degrees from grid north) and `held` (share of the cold layer's own flow). */
  arrows: GeoJSON.FeatureCollection;
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
  /** Clock times of a clear calm night's drainage at the spot, standard time; null where it never drains. */
  turns: { begins: string | null; ends: string | null; zone: string };
  notes: string[];
}
