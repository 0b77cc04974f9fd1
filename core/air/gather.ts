import type { Grid } from '../grid/frame.ts';
import { accumulate, flowDirections, NO_RECEIVER } from '../terrain/flow.ts';

/** Where cold air gathers by the fall of the ground alone. */
export interface GatheredAir {
  /** m2 of ground whose air ends in a hollow, given by its cells, over the ground as surveyed. */
  onto(hollow: Int32Array): number;
  /** Ways over the filled ground (`flowDirections`), which air takes once a hollow is full. */
  onward: Grid<Uint8Array>;
}

/**
 * Gathers cold air downhill twice, cell by cell of the property: over the ground as surveyed, where it ends in every
 * hollow, and over the ground with its hollows filled, where it goes on over their sills. Not over the surface water
 * runs on: a road fill stops air though a culvert lets water through. Each cell hands all its air to the steepest
 * neighbour below (O'Callaghan & Mark, Computer Vision, Graphics and Image Processing 28, 1984).
 */
export function gatherAir(raw: Grid, filled: Grid): GatheredAir {
  const area = raw.frame.cellSize ** 2;
  const ways = flowDirections(raw);
  const gathered = accumulate(ways);
  return {
    onto(hollow) {
      let cells = 0;
      for (const i of hollow) if (ways.cells[i] === NO_RECEIVER) cells += gathered.cells[i]!;
      return cells * area;
    },
    onward: flowDirections(filled),
  };
}
