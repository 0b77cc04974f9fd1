import type { Grid } from '../grid/frame.ts';
import { COVER } from './types.ts';

/** Height that makes timber, and below which ground is open, m: our assumption. */
const TIMBER = 3;
const BRUSH = 0.5;
/** Growth below this hides nothing of a deer at 1 to 5 ft: 1 ft, m. */
const LOWEST_SCREEN = 0.3048;

/** Cells of the layers that height corrects, changed in place. */
export interface HeightOn {
  cover: Uint8Array;
  canopy: Float32Array;
  screening: Float32Array;
}

/**
 * Tells timber, brush and open ground apart by the height of what grows there, where a point cloud gives it. Height
 * counts before colour; water, wet ground and buildings stay as they are. The kind of timber comes from the photo where
 * that saw timber too, else it counts as deciduous. What is under the crowns stays unknown; only growth lower than a
 * foot is known to screen nothing.
 *
 * @param height of vegetation above the ground, m; NaN unknown
 * @returns doubts in plain words
 */
export function applyHeight(height: Grid, { cover, canopy, screening }: HeightOn): string[] {
  const cells = height.cells;
  let known = 0;
  let guessed = 0;
  for (let i = 0; i < cells.length; i++) {
    const tall = cells[i]!;
    if (Number.isNaN(tall)) continue;
    known++;
    const seen = cover[i];
    if (seen === COVER.water || seen === COVER.wet || seen === COVER.built) continue;
    canopy[i] = tall >= TIMBER ? 1 : 0;
    if (tall < LOWEST_SCREEN) screening[i] = 0;
    if (tall >= TIMBER) {
      if (seen === COVER.deciduous || seen === COVER.evergreen) continue;
      cover[i] = COVER.deciduous;
      guessed++;
    } else cover[i] = tall >= BRUSH ? COVER.brush : COVER.open;
  }
  const doubts: string[] = [];
  if (known < cells.length)
    doubts.push(
      `The point cloud gives the height of vegetation for ${Math.round((100 * known) / cells.length)}% of the map; elsewhere cover rests on the other inputs.`,
    );
  if (guessed > 0)
    doubts.push('Timber known by its height alone counts as deciduous; evergreen may be among it.');
  doubts.push('Heights are as old as the point cloud: what was cut or grew up since is not in them.');
  return doubts;
}
