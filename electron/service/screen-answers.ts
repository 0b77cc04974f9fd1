import type { ScreenPlant } from '../../core/stands/screen-growth.ts';
import type { ScreenTrial } from '../../core/stands/screen-trial.ts';

/** Answers about screens: SI numbers and sentences in the user's units. */

export type { ScreenPlant } from '../../core/stands/screen-growth.ts';
export type { ScreenTrial } from '../../core/stands/screen-trial.ts';

export interface ScreenAnswer {
  trial: ScreenTrial;
  /** Lines of the planting. */
  lines: GeoJSON.FeatureCollection;
  plant: ScreenPlant;
  width: number;
  length: number;
  /** Degrees from true north a crescent opens to; null for other shapes. */
  opens: number | null;
  /** Side of the way it stands on; null for other shapes. */
  side: string | null;
  /** The screen as a proposed feature would state it. */
  attributes: Record<string, string | number>;
  notes: string[];
  cautions: string[];
  seconds: number;
}

export interface ScreenAnswers {
  'stands.screen': ScreenAnswer;
}
