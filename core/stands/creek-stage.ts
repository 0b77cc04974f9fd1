import { cellAt, type Grid, type Point } from '../grid/frame.ts';
import type { CreekStage } from './types.ts';

/** How the creeks stand, and what drains to each cell. */
export interface CreekWater {
  stage: CreekStage;
  /** Cells that drain through each. */
  accumulation: Grid<Uint32Array>;
}

/**
 * Depth of a creek full to its banks, m, by what it drains, km2: the curve for the United States of Bieger, Rathjens,
 * Allen & Arnold, "Development and evaluation of bankfull hydraulic geometry relationships for the physiographic
 * regions of the United States" (J. American Water Resources Association 51, 2015). Values from memory.
 */
const bankfull = (km2: number): number => 0.3 * km2 ** 0.213;

/** Of that depth, what the mean flow of a year fills (Leopold, "A View of the River", 1994; from memory). */
const MEAN_FLOW = 1 / 3;
/** A place told for a channel may lie this many cells off the cells that water takes. */
const OFF = 1;

/**
 * How deep the water is at a place of a creek, m: none where it is dry. Ground beyond the map drains in unseen, so that
 * it is the least there is.
 */
export function waterDepth({ stage, accumulation }: CreekWater, at: Point): number {
  if (stage === 'dry') return 0;
  const { frame, cells } = accumulation;
  let drained = 0;
  for (let dy = -OFF; dy <= OFF; dy++)
    for (let dx = -OFF; dx <= OFF; dx++) {
      const i = cellAt(frame, at[0] + dx * frame.cellSize, at[1] + dy * frame.cellSize);
      if (i >= 0) drained = Math.max(drained, cells[i]!);
    }
  const full = bankfull((drained * frame.cellSize ** 2) / 1e6);
  return stage === 'high' ? full : full * MEAN_FLOW;
}
