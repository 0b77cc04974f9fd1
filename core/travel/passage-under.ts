import type { Grid } from '../grid/frame.ts';
import { type Weights, weightsOf } from './assumptions.ts';
import { coarseLabels } from './coarsen.ts';
import type { EdgeCosts } from './edges.ts';
import { type Flow, passageOf } from './flow.ts';
import { reliefGround } from './relief.ts';
import { reshared } from './reshare.ts';
import { resistanceOf } from './resistance.ts';
import { leastCosts, solveFlow } from './solve-flow.ts';
import { ACCURACY, costsOn, type FlowInputs } from './trials.ts';
import type { TravelArea } from './types.ts';

export interface FitInputs extends FlowInputs {
  travelAreas: readonly Pick<TravelArea, 'id' | 'kind'>[];
}

/**
 * A function that tells today's passage under other weights, on a grid coarser by a whole factor: the pairs stay, how
 * all travel is shared out between them does not. Weights that change no edge here (no fence, no road) are not solved
 * for, and none is solved twice.
 */
export function passageUnder(inputs: FitInputs, factor: number): (weights: Weights) => Grid {
  const usual = weightsOf(inputs.assumptions);
  const areas = coarseLabels(inputs.areas, factor).cells;
  const relief = reliefGround(inputs.elevation, factor);
  const costsUnder = (weights: Weights, resistance: Grid) =>
    costsOn(inputs, relief, resistance, weights, factor);
  const solve = (weights: Weights, { costs, crossings }: ReturnType<typeof costsUnder>): Flow =>
    solveFlow(costs, areas, inputs.pairs, weights.focus, crossings, { accuracy: ACCURACY });
  const today = costsUnder(usual, inputs.resistance);
  const flow = solve(usual, today);
  const usualCosts = leastCosts(today.costs, areas, inputs.pairs, today.crossings);
  const known = new Map<string, Grid>();
  return (weights) => {
    const key = JSON.stringify(weights);
    const former = known.get(key);
    if (former) return former;
    const there = costsUnder(weights, resistanceOf(inputs, weights));
    const isSame = weights.focus === usual.focus && sameCosts(there.costs, today.costs);
    const solved = isSame ? flow : solve(weights, there);
    const passage = passageOf(
      reshared(solved, weights, usualCosts, usual, inputs.travelAreas),
      today.costs.resistance,
    );
    known.set(key, passage);
    return passage;
  };
}

const sameCosts = (a: EdgeCosts, b: EdgeCosts): boolean =>
  a.east.every((cost, i) => Object.is(cost, b.east[i])) &&
  a.south.every((cost, i) => Object.is(cost, b.south[i]));
