import { leavesDown } from '../cover/leaves.ts';
import { sightScreen } from '../cover/sight-screen.ts';
import type { Frame, Grid, Point } from '../grid/frame.ts';
import { cropTo, windowAt } from '../grid/window.ts';
import type { Vegetation } from '../terrain/visibility.ts';
import type { Leaves } from './types.ts';

/** What sight near a stand depends on, over the whole map. */
export interface SightGround {
  /** m; NaN no data. */
  elevation: Grid;
  cover: Grid<Uint8Array>;
  /** Share of a deer hidden at 1 to 5 ft; NaN unknown. */
  screening: Grid;
  /** Height of vegetation from a point cloud, m; null without one. */
  vegetation: Grid | null;
}

/** The same round one spot, made ready for looking. */
export interface SightWindow {
  frame: Frame;
  elevation: Grid;
  cover: Grid<Uint8Array>;
  standing: Vegetation;
}

/** Ground and what stands on it within `reach` metres of a spot, leaves on or down. */
export function sightWindow(ground: SightGround, at: Point, reach: number, leaves: Leaves): SightWindow {
  const frame = windowAt(ground.elevation.frame, at, reach);
  const cover = cropTo(ground.cover, frame);
  const measured = ground.vegetation && cropTo(ground.vegetation, frame);
  const leafy = sightScreen(cover, cropTo(ground.screening, frame), measured);
  return {
    frame,
    elevation: cropTo(ground.elevation, frame),
    cover,
    standing: leaves === 'on' ? leafy : leavesDown(leafy, cover),
  };
}
