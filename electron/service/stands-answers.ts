import type { Feature } from '../../core/features/feature.ts';
import type { Approach, StandReach } from '../../core/stands/types.ts';
import type { OverlaySummary } from './ground-answers.ts';

/** Answers about stands, as the window gets them: SI numbers and sentences in the user's units. */

export type { Approach, StandReach } from '../../core/stands/types.ts';

export interface StandLookAnswer {
  reach: StandReach;
  /** Range and view round the stand, in classes. */
  overlay: OverlaySummary;
  /** Polygons with the columns of `Sector`: one ring out to the range. */
  sectors: GeoJSON.FeatureCollection;
  /** Lines with the columns of `Lane`. */
  lanes: GeoJSON.FeatureCollection;
  cautions: string[];
  seconds: number;
}

export interface StandApproachAnswer {
  approach: Approach;
  /** How much of a walker there deer would see, hear and smell at that time, as a multiple of time spent. */
  overlay: OverlaySummary;
  /** Lines with the columns of `ApproachWay`. */
  lines: GeoJSON.FeatureCollection;
  seconds: number;
}

export interface HiddenYear {
  /** Years from now. */
  year: number;
  /** Height of the screen then, m; null where several differ. */
  height: number | null;
  /** Share of looks from bedding and travel that still find the hunter, 0..1. */
  seen: number;
}

export interface StandHiddenAnswer {
  years: HiddenYear[];
  /** Without any screen. */
  bare: number;
  /** The first year in which it is hidden; null where the screens never do it. */
  hiddenFrom: number | null;
  sentence: string;
  notes: string[];
}

export interface StandScreenAnswer extends StandHiddenAnswer {
  /** To be saved with `features.put`. */
  features: Feature[];
}
