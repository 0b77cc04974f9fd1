import { existing, type Feature } from '../features/feature.ts';
import type { Grid, Point } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { weightsOf } from './assumptions.ts';
import { type Barrier, barriersOf } from './barriers.ts';
import { asBuilt, groundWith } from './built-ground.ts';
import { coarseLabels, coarseResistance, FLOW_CELLS, factorFor } from './coarsen.ts';
import { type EdgeCosts, edgeCosts, type MoveCosts, moveCosts } from './edges.ts';
import { type Flow, shareOf, type TravelPair } from './flow.ts';
import { withNewEnds } from './new-ends.ts';
import { passing, withinReach } from './region.ts';
import { reliefGround } from './relief.ts';
import { pairsStanding, solveFlow, updateFlow } from './solve-flow.ts';
import { trailsOf } from './trails.ts';
import type { Band, FlowInputs } from './trials.ts';
import type { Corridor, TravelArea } from './types.ts';
import { underfootOf } from './underfoot.ts';

/** Accuracy of the shares: so that from whatever start a solve set out, they agree to a millionth. */
export const ACCURACY = 1e-8;

/** Travel as it is today on the grid proposals are tried on; plain data, kept from one try to the next. */
export interface TodayTravel {
  factor: number;
  costs: EdgeCosts;
  /** Area numbers on the flow's frame. */
  areas: Int32Array;
  flow: Flow;
}

/** Travel with everything proposed built. */
export interface BuiltTravel {
  features: Feature[];
  barriers: Barrier[];
  /** Resistance on the flow's frame. */
  ground: Grid;
  /** Area numbers on the flow's frame. */
  areas: Int32Array;
  /** Ends of travel that are not there today. */
  ends: TravelArea[];
  /** What all travel is shared out between. */
  pairs: TravelPair[];
  costs: EdgeCosts;
  flow: Flow;
}

/** @param mostCells of the grid it is solved on */
export function solveToday(
  inputs: FlowInputs,
  progress: Progress = silent,
  mostCells = FLOW_CELLS,
): TodayTravel {
  const weights = weightsOf(inputs.assumptions);
  const factor = factorFor(inputs.resistance.frame, mostCells);
  const barriers = barriersOf(inputs.features, weights, inputs.slope);
  const ground = coarseResistance(inputs.resistance, factor);
  const relief = reliefGround(inputs.elevation, factor);
  const costs = edgeCosts(ground, barriers, underfootOf(relief, inputs.features, weights));
  const areas = coarseLabels(inputs.areas, factor).cells;
  const crossings = moveCosts(ground.frame, barriers, costs);
  const options = { accuracy: ACCURACY, progress };
  const flow = solveFlow(costs, areas, inputs.pairs, weights.focus, crossings, options);
  return { factor, costs, areas, flow };
}

/** What a what-if rests on: today's travel and how it was shared out. */
export interface WhatIfInputs extends FlowInputs {
  travelAreas: readonly TravelArea[];
  corridors: readonly Corridor[];
}

/** A solve to start another from. */
export type Start = Pick<TodayTravel, 'costs' | 'areas' | 'flow'>;

/**
 * Travel with every proposed feature built, from where today's flow stands. An earlier try may stand in for today as
 * the start; the answer is the same to the accuracy.
 *
 * @param inputs with what is proposed among the features
 */
export const solveBuilt = (
  inputs: WhatIfInputs,
  today: TodayTravel,
  from: Start = today,
  band?: Band,
): BuiltTravel =>
  solveWith({ ...inputs, features: existing(inputs.features) }, asBuilt(inputs.features), today, from, band);

/** What several bands solved side by side, as one. */
export function joinBuilt(parts: readonly BuiltTravel[]): BuiltTravel {
  const [first] = parts as [BuiltTravel];
  const { frame } = first.flow;
  const known = new Map(parts.flatMap(({ flow }) => flow.pairs.map((was) => [keyOf(was.pair), was])));
  const flow: Flow = { frame, pairs: [], cutOff: [] };
  for (const pair of first.pairs) {
    const was = known.get(keyOf(pair));
    if (was) flow.pairs.push(was);
    else flow.cutOff.push(pair);
  }
  return { ...first, flow };
}

const keyOf = ({ from, to }: TravelPair): string => `${from} ${to}`;

/**
 * Travel with other features than today's: only pairs that come by what changed are solved again. New bedding and food
 * are ends of travel.
 *
 * @param inputs with today's features
 * @param band solves its part of what has to be solved, for `joinBuilt`
 */
export function solveWith(
  inputs: WhatIfInputs,
  features: Feature[],
  today: TodayTravel,
  from: Start = today,
  band: Band = { index: 0, count: 1 },
): BuiltTravel {
  const weights = weightsOf(inputs.assumptions);
  const barriers = barriersOf(features, weights, inputs.slope);
  const fine = groundWith(inputs, features);
  const ground = fine === inputs.resistance ? today.costs.resistance : coarseResistance(fine, today.factor);
  const underfoot = { ...today.costs.underfoot, trails: trailsOf(features, weights) };
  const costs = edgeCosts(ground, barriers, underfoot);
  const crossings = once(() => moveCosts(ground.frame, barriers, costs));
  const known = new Set(inputs.features.map(({ id }) => id));
  const { areas, pairs, added } = withNewEnds(
    inputs,
    { areas: today.areas, pairs: [...inputs.pairs] },
    features.filter(({ id }) => !known.has(id)),
    fine,
    today.factor,
    ground,
    crossings,
    weights,
  );
  const flow = solveFrom([from, today], { costs, areas }, pairs, weights.focus, crossings, band);
  return { features, barriers, ground, areas, ends: added, pairs, costs, flow };
}

/**
 * Flow of some pairs, each from the first start that has it between the same cells, or from nothing. Travel that
 * wanders at random is not kept within windows, so nothing of it can be carried over.
 */
function solveFrom(
  starts: readonly Start[],
  { costs, areas }: Omit<Start, 'flow'>,
  pairs: readonly TravelPair[],
  focus: number,
  crossings: () => MoveCosts,
  band: Band,
): Flow {
  const left = new Map(pairs.map((pair) => [keyOf(pair), pair]));
  const flow: Flow = { frame: costs.resistance.frame, pairs: [], cutOff: [] };
  const take = ({ pairs, cutOff }: Flow): void => {
    flow.pairs.push(...pairs);
    flow.cutOff.push(...cutOff);
  };
  const windows = starts.at(-1)!.flow;
  const different = focus > 0 ? [...new Set(starts)] : [];
  const movedSince = new Map(different.map((start) => [start, movedAreas(start.areas, areas)]));
  const usableOf = (start: Start): Flow => {
    const moved = movedSince.get(start)!;
    const pairs = start.flow.pairs.flatMap((was) => {
      const pair = left.get(keyOf(was.pair));
      return pair && !moved.has(pair.from) && !moved.has(pair.to) ? [{ ...was, pair }] : [];
    });
    return { ...start.flow, pairs, cutOff: [] };
  };
  // A barricade moved on leaves pairs behind that stand as they do today, which then need not be solved.
  for (const start of different.toReversed())
    for (const was of pairsStanding(usableOf(start), start.costs, costs, ACCURACY)) {
      left.delete(keyOf(was.pair));
      flow.pairs.push(was);
    }
  const cells = new Map(windows.pairs.map(({ pair, window }) => [keyOf(pair), window.width * window.height]));
  const sizeOf = (pair: TravelPair): number => cells.get(keyOf(pair)) ?? Number.POSITIVE_INFINITY;
  const others = [...left.values()]
    .sort((a, b) => sizeOf(b) - sizeOf(a) || 0)
    .filter((_, k) => turnOf(k, band.count) !== band.index);
  for (const pair of others) left.delete(keyOf(pair));
  for (const start of different) {
    const before = usableOf(start);
    for (const { pair } of before.pairs) left.delete(keyOf(pair));
    if (before.pairs.length > 0)
      take(updateFlow(before, start.costs, costs, areas, focus, crossings, ACCURACY, windows).flow);
  }
  if (left.size > 0)
    take(solveFlow(costs, areas, [...left.values()], focus, crossings(), { accuracy: ACCURACY }));
  const order = new Map(pairs.map((pair, k) => [keyOf(pair), k]));
  flow.pairs.sort((a, b) => order.get(keyOf(a.pair))! - order.get(keyOf(b.pair))!);
  return flow;
}

/** Areas whose cells are not the same on both. */
function movedAreas(a: Int32Array, b: Int32Array): Set<number> {
  const moved = new Set<number>();
  if (a === b) return moved;
  for (let i = 0; i < a.length; i++)
    if (a[i] !== b[i]) {
      moved.add(a[i]!);
      moved.add(b[i]!);
    }
  return moved;
}

/** Share of all travel that passes within reach of a spot, m. */
export const shareWithin = (flow: Flow, at: Point, reach: number): number =>
  shareOf(flow, passing(flow, withinReach(flow.frame, { at, reach })));

/** The same answer every time, worked out when it is first asked for. */
function once<T extends object>(make: () => T): () => T {
  let made: T | null = null;
  return () => (made ??= make());
}

/** Whose turn it is to take the next, there and back, so that nobody always takes the larger. */
const turnOf = (k: number, count: number): number => {
  const round = k % (2 * count);
  return round < count ? round : 2 * count - 1 - round;
};
