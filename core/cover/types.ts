import type { Frame, Grid, Point } from '../grid/frame.ts';

/** Cover classes of the `cover` grid; 0 is no data or unknown. */
export const COVER = {
  open: 1,
  brush: 2,
  deciduous: 3,
  evergreen: 4,
  wet: 5,
  water: 6,
  built: 7,
} as const;

/** 3 or 4 bands (red, green, blue, near infrared) on one frame, scaled to 0..255; `valid` 0 is no data. */
export interface Imagery {
  frame: Frame;
  bands: Uint8Array[];
  valid: Uint8Array;
}

/** Where the cover classes came from. */
export type CoverSource = 'imagery' | 'land cover' | 'vegetation height' | 'terrain alone';

/**
 * What lies above, at and below deer height, kept apart: a photo from above shows only the canopy.
 * Fractions 0..1; NaN is *unknown*, which travel varies in its band instead of guessing.
 */
export interface CoverLayers {
  cover: Grid<Uint8Array>;
  /** Share of ground under tree canopy. */
  canopy: Grid;
  /** Share of a deer hidden at 1 to 5 ft. */
  screening: Grid;
  /** Ease of footing: 1 firm and clear, 0 impassable tangle or bog. */
  footing: Grid;
}

export interface CoverBlock {
  /** The value its cells hold in the `blocks` grid, from 1, largest first. */
  id: number;
  /** m². */
  area: number;
  centre: Point;
  outline: Point[][];
}
