import type { PinFit } from '../../core/grid/pinning.ts';
import type { PropertySummary } from './contract.ts';

/** Answers about pinned pictures: lengths in m, sentences in the user's units. */

export type { PinnedPicture } from '../../core/analysis/settings.ts';
export type { Pin, PinFit } from '../../core/grid/pinning.ts';

export interface PinFitAnswer {
  /** Null while the pins do not place it. */
  fit: PinFit | null;
  /** What the pins tell, and what they cannot. */
  sentences: string[];
}

export interface PictureAnswers {
  'pictures.keep': { summary: PropertySummary; id: string; note: string | null };
  'pictures.fit': PinFitAnswer;
}
