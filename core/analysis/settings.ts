import { ONE_PLAN, type Variants } from '../features/variants.ts';
import type { Pin } from '../grid/pinning.ts';
import { EMPTY_BRIEF } from '../plan/brief.ts';
import type { PlanSettings } from '../plan/plan-work.ts';
import type { Brief } from '../plan/types.ts';
import { DEFAULT_CALENDAR } from '../plan/windows.ts';
import { DEFAULT_HUNT, type HuntSettings } from '../stands/hunt-settings.ts';
import { DEFAULT_STANDS, type StandSettings } from '../stands/settings.ts';
import type { CreekStage } from '../stands/types.ts';
import type { AssumptionSetKey, FittedSet } from '../travel/assumption-sets.ts';

/** What a person may set for a property. Every number the analysis uses beyond the data is here or an assumption. */
export interface Settings {
  name: string;
  /** True for the sample: shown wherever the property is shown. */
  invented: boolean;
  units: 'us' | 'metric';
  /** Side of a cell, m; null takes the elevation's own. */
  cellSize: number | null;
  /** Ground kept around the boundary, m. */
  margin: number;
  /** Answers to what the files do not state, e.g. `verticalUnit: 'metre'`. */
  answers: Record<string, string>;
  /** Overrides of travel assumptions by key. */
  weights: Record<string, number>;
  ground: {
    /** Area that starts a drainage line, m²; null lets the tool choose. */
    drainageThreshold: number | null;
    /** m; null lets the tool choose from the relief. */
    contourInterval: number | null;
    /** Sun of the shade, degrees: bearing from grid north and height. */
    sunAzimuth: number;
    sunAltitude: number;
  };
  travel: {
    /** Pairs of areas between which travel is computed, at most. */
    maxPairs: number;
    /** How many necks are ranked. */
    maxNecks: number;
    /** Runs over the uncertain weights for the spread. */
    runs: number;
    seed: number;
    /** Whose travel, and when; `weights` override it. */
    set: AssumptionSetKey;
    /** The set taken over from a fit to sightings; null before one was. */
    fitted: FittedSet | null;
    /** Day of the year travel is computed for, MM-DD; null for a day out of every season. */
    date: string | null;
    /** Years from now: barricades rot, cuts thicken. */
    year: number;
  };
  air: {
    /** Net loss of heat of the ground on a clear calm night, W/m². */
    cooling: number;
    /** Hours of cooling the picture is drawn for. */
    hours: number;
    /** How high the creeks stand when scent is followed into them. */
    creekStage: CreekStage;
  };
  stands: StandSettings;
  /** When stands are hunted. */
  hunt: HuntSettings;
  /** Rates, days and budget of the work. */
  plan: PlanSettings;
  /** What the client said before the first walk. */
  brief: Brief;
  /** The plans kept side by side. */
  plans: Variants;
  /** Views of the map to show the client, in their order. */
  views: readonly KeptView[];
  /** Scans and photos laid over the map by pins. */
  pictures: readonly PinnedPicture[];
}

/** A picture kept in the property under its id, and the pins that lay it on the map. */
export interface PinnedPicture {
  id: string;
  /** Name of its file. */
  name: string;
  /** Pixels, as it is shown. */
  width: number;
  height: number;
  pins: readonly Pin[];
}

/** What the map showed when it was kept. */
export interface KeptView {
  id: string;
  /** What the consultant says of it. */
  caption: string;
  stage: string;
  /** West, south, east and north on the property's frame, m. */
  extent: readonly number[];
  /** Which layers of the stage showed, and how strongly. */
  layers: Record<string, { on: boolean; opacity: number }>;
}

export const DEFAULT_SETTINGS: Settings = {
  name: 'Property',
  invented: false,
  units: 'us',
  cellSize: null,
  margin: 800,
  answers: {},
  weights: {},
  ground: { drainageThreshold: null, contourInterval: null, sunAzimuth: 315, sunAltitude: 45 },
  travel: { maxPairs: 12, maxNecks: 20, runs: 50, seed: 1, set: 'usual', fitted: null, date: null, year: 0 },
  air: { cooling: 50, hours: 8, creekStage: 'dry' },
  stands: DEFAULT_STANDS,
  hunt: DEFAULT_HUNT,
  plan: { rates: {}, calendar: DEFAULT_CALENDAR, budget: null, crewDays: null },
  brief: EMPTY_BRIEF,
  plans: ONE_PLAN,
  views: [],
  pictures: [],
};

/** Settings as given, by an older file or in part, with the usual values where they are silent, to any depth. */
export const overDefaults = (given: object): Record<string, unknown> => laidOver(DEFAULT_SETTINGS, given);

/** Values laid over others, section by section to any depth; what is undefined changes nothing. */
export function laidOver(usual: object, given: object): Record<string, unknown> {
  const merged: Record<string, unknown> = { ...usual };
  for (const [key, value] of Object.entries(given)) {
    const inner = merged[key];
    merged[key] =
      isSection(inner) && isSection(value) ? laidOver(inner, value) : value === undefined ? inner : value;
  }
  return merged;
}

const isSection = (part: unknown): part is object =>
  part !== null && typeof part === 'object' && !Array.isArray(part);
