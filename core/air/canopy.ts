import { COVER } from '../cover/types.ts';
import type { Grid } from '../grid/frame.ts';

/** Share under canopy where only the class is known: our assumption; the legend says more than 0.2 for timber. */
const BY_CLASS: Record<number, number> = { [COVER.deciduous]: 0.7, [COVER.evergreen]: 0.7, [COVER.wet]: 0.3 };

/** The canopy with its unknown cells taken from the cover class, since air has to be reckoned with something. */
export const canopyForAir = (canopy: Grid, cover: Grid<Uint8Array>): Grid => ({
  frame: canopy.frame,
  cells: canopy.cells.map((share, i) => (Number.isNaN(share) ? (BY_CLASS[cover.cells[i]!] ?? 0) : share)),
});
