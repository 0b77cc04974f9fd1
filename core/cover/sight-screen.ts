import type { Grid } from '../grid/frame.ts';
import type { Vegetation } from '../terrain/visibility.ts';
import { COVER } from './types.ts';

/** Height of what stands on each cover class, m, and the view lost in a metre of it near the ground: our assumptions. */
const STANDING: Record<number, { height: number; loss: number }> = {
  [COVER.brush]: { height: 3, loss: 0.12 },
  [COVER.deciduous]: { height: 18, loss: 0.025 },
  [COVER.evergreen]: { height: 15, loss: 0.06 },
  [COVER.wet]: { height: 1.5, loss: 0.08 },
  [COVER.built]: { height: 6, loss: 0.9 },
};

/** The cover board that screening is told by is read from this far, m (Nudds 1977; value from memory). */
export const BOARD_DISTANCE = 15;

/**
 * What hides a deer without being ground: height and loss of view a metre for every cell. Heights are the measured
 * ones where there are any and the class's otherwise; where screening is known, the loss is the one that hides that
 * share of a deer over the distance a cover board is read from.
 *
 * @param measured height of trees and brush above the ground, m; null without a point cloud
 */
export function sightScreen(cover: Grid<Uint8Array>, screening: Grid, measured: Grid | null): Vegetation {
  const { frame } = cover;
  const height = new Float32Array(cover.cells.length);
  const loss = new Float32Array(cover.cells.length);
  for (let i = 0; i < height.length; i++) {
    const standing = STANDING[cover.cells[i]!];
    const tall = measured?.cells[i] ?? Number.NaN;
    height[i] = Number.isNaN(tall) ? (standing?.height ?? 0) : tall;
    const hidden = screening.cells[i]!;
    loss[i] = Number.isNaN(hidden)
      ? (standing?.loss ?? 0)
      : 1 - (1 - Math.min(hidden, 0.999)) ** (1 / BOARD_DISTANCE);
  }
  return { height: { frame, cells: height }, loss: { frame, cells: loss } };
}
