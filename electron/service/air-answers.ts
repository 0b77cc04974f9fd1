import type { RecordSpan } from '../../core/air/record.ts';
import type { DayPart, PartTable, TogetherTable } from '../../core/air/season.ts';
import type { stabilityOf } from '../../core/air/stability.ts';
import type { BeddingProposal } from '../../core/stands/bedding-proposal.ts';
import type { DeerWind, SharedWind, TrailWind } from '../../core/stands/deer-wind.ts';
import type { OverlaySummary } from './ground-answers.ts';

/** Answers about the air, as the window gets them: SI numbers and sentences in the user's units. */

export type AirState = ReturnType<typeof stabilityOf>;

export interface RoseAnswer {
  /** Null without a wind record. */
  parts: PartTable[] | null;
  /** Parts of the day counted as one: first light to early afternoon, and the whole day. */
  together: TogetherTable[];
  /** What was kept of the record, and what was assumed. */
  notes: string[];
  sentence: string;
  /** Null without a wind record. */
  record: (RecordSpan & { sentence: string }) | null;
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
  /** Depth of the pools at that hour; null where none stands. */
  pools: OverlaySummary | null;
  /** Share of what they hold at the end of the night; 0 where none stands. */
  filled: number;
  sentence: string;
  notes: string[];
}

export interface ScentAnswer {
  state: AirState;
  /** The spot lies in eddies: near it the way is not known, and all counts as in doubt. */
  eddying: boolean;
  /** What a hunter's scent is thinned to, s/m3, where it is over the keenest nose of the band. */
  overlay: OverlaySummary;
  verdict: string;
  /** m, for the usual nose and the ends of the band. */
  carry: { usual: number; low: number; high: number };
  /** It goes on where it is no longer followed: the carry is at least so long. */
  beyond: { usual: boolean; low: boolean; high: boolean };
  /** Share of travel it touches, 0..1. */
  travel: { usual: number; low: number; high: number };
  bedding: string[];
  /** What it does in the creek: length below the banks, m, how long it takes there, s, and where it spills out, frame CRS; null where it meets none. */
  creek: { held: number; seconds: number; spill: [number, number] | null; words: string } | null;
  spill: [number, number] | null;
  /** Mean time scent takes to these distances, s; null where none came. */
  arrivals: { distance: number; seconds: number | null }[];
  /** How long scent was followed, s: slower air is not seen beyond. */
  followed: number;
  notes: string[];
}

/** Scent of a way that is walked: each minute by itself, a place by its worst minute. */
export interface WayScentAnswer {
  state: AirState;
  /** As of `ScentAnswer`, the worst minute of each place. */
  overlay: OverlaySummary;
  verdict: string;
  length: number;
  minutes: number;
  /** Share of travel it touches, 0..1. */
  travel: { usual: number; low: number; high: number };
  bedding: string[];
  /** The way a minute at a time: what the scent of that stretch touches. */
  stretches: {
    /** m along the way. */
    from: number;
    to: number;
    path: [number, number][];
    bedding: string[];
    travel: number;
  }[];
  /** What this cannot know. */
  doubts: string[];
  notes: string[];
}

/** Clock times of one day at a spot, standard time `HH:MM`; null where it does not happen. */
export interface TurnsAnswer {
  zone: string;
  /** The sun on that slope, terrain counted. */
  sunReaches: string | null;
  sunLeaves: string | null;
  /** In the order of the day: when the air turns, from what to what. */
  turns: { at: string; hour: number; from: SlopeAir; to: SlopeAir }[];
  /** What it does hour by hour; degrees from grid north, null where still. */
  hours: { hour: number; air: SlopeAir; speed: number; towards: number | null }[];
  sentence: string;
  notes: string[];
}
export type SlopeAir = 'drains' | 'still' | 'upslope';

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
    eddying: boolean;
    /** m. */
    carry: number;
    /** Share of travel it touches, 0..1. */
    travel: number;
    bedding: string[];
    verdict: string;
  }[];
  parts: { part: DayPart; clean: number | null; good: string[]; bad: string[] }[];
  risks: string[];
  /** The deer's own wind, all travel together; empty where no trail is known. */
  deer: DeerWind[];
  /** Winds that serve deer and hunter alike here, the likeliest first. */
  shared: SharedWind[];
  /** Clock times of a clear calm day at the spot, standard time; null where it does not happen. */
  turns: {
    /** Drainage in the evening and until the morning. */
    begins: string | null;
    ends: string | null;
    /** Wind up the slope from the morning to the afternoon. */
    upslopeBegins: string | null;
    upslopeEnds: string | null;
    sunReaches: string | null;
    zone: string;
  };
  notes: string[];
}

export interface TrailsAnswer {
  trails: {
    route: string;
    from: string;
    to: string;
    /** Share of all travel. */
    share: number;
    path: [number, number][];
    winds: Omit<TrailWind, 'route'>[];
    sentence: string;
  }[];
  /** The 16 winds over all travel, and the share of the season's daylight hours each blows; null without a record. */
  winds: (DeerWind & { hours: number | null })[];
  /** Where new bedding would be checked from a trail, the best first; empty without a wind record. */
  bedding: (BeddingProposal & { sentence: string })[];
  /** What this cannot know. */
  doubts: string[];
  notes: string[];
}
