import type { Point } from '../../core/grid/frame.ts';

/** Answers of the map's tools, as the window gets them: SI numbers, sentences in the user's units. */

export interface ProfileAnswer {
  /** At most 400 places, both ends among them; null where not known. */
  places: {
    distance: number;
    at: Point;
    /** m. */
    ground: number | null;
    /** Steepest slope of the ground there, degrees. */
    slope: number | null;
    /** Along the line, rise over run. */
    grade: number | null;
    /** Number of its class among `covers`. */
    cover: number | null;
  }[];
  /** On the level, and over the ground, m. */
  length: number;
  surfaceLength: number;
  climb: number;
  descent: number;
  /** Cover classes met, the most of the line first, with the share of the line on each. */
  covers: { label: string; colour: string; pattern: string; share: number }[];
  sight: {
    visible: boolean;
    /** The first ground in the straight line between the ends, and by how much, m. */
    obstruction: { at: Point; distance: number; above: number } | null;
    sentence: string;
  };
  sentences: string[];
  note: string;
}
