import type { Grid } from '../grid/frame.ts';
import { REACH, reachGrid } from './reach.ts';
import { type SightGround, sightWindow } from './sight-window.ts';
import type { Subject } from './subjects.ts';
import type { Leaves, StandSpot } from './types.ts';

/** 1 where a deer is in range of a stand and in clear view. */
export function reachMask(ground: SightGround, spot: StandSpot, leaves: Leaves): Grid<Uint8Array> {
  const window = sightWindow(ground, spot.at, spot.range + ground.elevation.frame.cellSize, leaves);
  const { frame, cells } = reachGrid(window, spot).codes;
  return { frame, cells: cells.map((code) => (code === REACH.clear ? 1 : 0)) };
}

/** A place to hunt from as the air knows it. */
export const subjectOf = ({ id, name, at, seatHeight, proposed }: StandSpot): Subject => ({
  type: 'stand',
  id,
  name,
  at,
  seatHeight,
  proposed,
});
