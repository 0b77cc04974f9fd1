import { cellCount, type Frame, type Grid, type TypedArray } from '../grid/frame.ts';
import { weightsOf } from './assumptions.ts';
import { coarseLabels } from './coarsen.ts';
import { type ResistanceInputs, resistanceOf } from './resistance.ts';
import type { Assumption } from './types.ts';

interface Ground extends ResistanceInputs {
  resistance: Grid;
  areas: Grid<Int32Array>;
  assumptions: readonly Assumption[];
}

/** Cells taken a side of each cell of the trials: four of them tell its mean well enough. Our assumption. */
const TAKEN = 2;

/** How many cells of the map a side go into one that is looked at, for trials on cells `factor` times as wide. */
export const thinning = (factor: number): number =>
  factor % TAKEN === 0 && factor > TAKEN ? factor / TAKEN : 1;

/**
 * The ground of flows on wide cells: of every block of `by` x `by` cells the one in its middle stands for all, and its
 * resistance is worked out anew. Under many weights that is most of the work.
 */
export function thinned<I extends Ground>(inputs: I, by: number): I {
  if (by === 1) return inputs;
  const { frame: old } = inputs.resistance;
  const frame: Frame = {
    ...old,
    cellSize: old.cellSize * by,
    width: Math.ceil(old.width / by),
    height: Math.ceil(old.height / by),
  };
  const take = <A extends TypedArray>({ cells }: Grid<A>): Grid<A> => {
    const out = new (cells.constructor as new (count: number) => A)(cellCount(frame));
    for (let row = 0, i = 0; row < frame.height; row++) {
      const from = Math.min(old.height - 1, row * by + (by >> 1)) * old.width;
      for (let column = 0; column < frame.width; column++, i++)
        out[i] = cells[from + Math.min(old.width - 1, column * by + (by >> 1))]!;
    }
    return { frame, cells: out };
  };
  const ground = {
    ...inputs,
    cover: take(inputs.cover),
    canopy: take(inputs.canopy),
    screening: take(inputs.screening),
    footing: take(inputs.footing),
    slope: take(inputs.slope),
    edgeDistance: take(inputs.edgeDistance),
    areas: coarseLabels(inputs.areas, by),
  };
  return { ...ground, resistance: resistanceOf(ground, weightsOf(inputs.assumptions)) };
}
