import type { Approach, StandReach } from '../../core/stands/types.ts';
import type { OverlaySummary } from './ground-answers.ts';

/** Answers about stands, as the window gets them: SI numbers and sentences in the user's units. */

export type { StandSettings } from '../../core/stands/settings.ts';
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
