import { distanceToEdge } from '../cover/blocks.ts';
import { drawFeatures } from '../cover/drawn.ts';
import { type Feature, ofKind } from '../features/feature.ts';
import type { Grid, Point } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { weightsOf } from './assumptions.ts';
import { type Barrier, barriersOf } from './barriers.ts';
import { coarseLabels, coarseResistance, FLOW_CELLS, factorFor } from './coarsen.ts';
import { type EdgeCosts, edgeCosts, moveCosts } from './edges.ts';
import { type Flow, shareOf } from './flow.ts';
import { passing, withinReach } from './region.ts';
import { type ResistanceInputs, resistanceOf } from './resistance.ts';
import { solveFlow, updateFlow } from './solve-flow.ts';
import type { FlowInputs } from './trials.ts';

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
  costs: EdgeCosts;
  flow: Flow;
}

export function solveToday(inputs: FlowInputs, progress: Progress = silent): TodayTravel {
  const weights = weightsOf(inputs.assumptions);
  const factor = factorFor(inputs.resistance.frame, FLOW_CELLS);
  const barriers = barriersOf(inputs.features, weights);
  const ground = coarseResistance(inputs.resistance, factor);
  const costs = edgeCosts(ground, barriers);
  const areas = coarseLabels(inputs.areas, factor).cells;
  const crossings = moveCosts(ground.frame, barriers);
  const options = { accuracy: ACCURACY, progress };
  const flow = solveFlow(costs, areas, inputs.pairs, weights.focus, crossings, options);
  return { factor, costs, areas, flow };
}

/**
 * The same with every proposed feature built, from where today's flow stands: only pairs that come by what changed
 * are solved again. An earlier try may stand in for today as the start, when no pair was cut off in it; the answer is
 * the same to the accuracy. A proposed feature with the attribute `removes` (the id of another) takes that one away.
 */
export function solveBuilt(
  inputs: FlowInputs,
  today: TodayTravel,
  from: Pick<BuiltTravel, 'costs' | 'flow'> = today,
): BuiltTravel {
  const weights = weightsOf(inputs.assumptions);
  const features = asBuilt(inputs.features);
  const barriers = barriersOf(features, weights);
  const ground = coarseResistance(groundAsBuilt(inputs, features), today.factor);
  const costs = edgeCosts(ground, barriers);
  const crossings = moveCosts(ground.frame, barriers);
  const { areas } = today;
  const { flow } =
    weights.focus > 0
      ? updateFlow(from.flow, from.costs, costs, areas, weights.focus, crossings, ACCURACY, today.flow)
      : // Travel that wanders at random is not kept within windows, so nothing can be carried over.
        { flow: solveFlow(costs, areas, inputs.pairs, 0, crossings, { accuracy: ACCURACY }) };
  return { features, barriers, ground, areas, costs, flow };
}

/** Features as they stand when everything proposed is built. */
function asBuilt(features: readonly Feature[]): Feature[] {
  const gone = new Set(
    features.flatMap(({ status, attributes: { removes } }) =>
      status === 'proposed' && typeof removes === 'string' ? [removes] : [],
    ),
  );
  return features
    .filter(({ id, attributes }) => !gone.has(id) && attributes.removes === undefined)
    .map((feature) => (feature.status === 'proposed' ? { ...feature, status: 'existing' } : feature));
}

/** Kinds that change what grows or stands on the ground, and those that change how it is walked. */
const CHANGES_COVER = ['cut', 'screen', 'crop', 'pond', 'building', 'creek', 'road'] as const;
const CHANGES_GROUND = [...CHANGES_COVER, 'trail'] as const;

function groundAsBuilt(inputs: FlowInputs, features: readonly Feature[]): Grid {
  const proposed = inputs.features.filter(({ status }) => status === 'proposed');
  const removed = inputs.features.filter(({ id }) =>
    proposed.some(({ attributes }) => attributes.removes === id),
  );
  const changed = [...proposed, ...removed];
  if (ofKind(changed, ...CHANGES_GROUND).length === 0) return inputs.resistance;
  const weights = weightsOf(inputs.assumptions);
  if (ofKind(proposed, ...CHANGES_COVER).length === 0) return resistanceOf({ ...inputs, features }, weights);
  const copy = <G extends { frame: Grid['frame']; cells: { slice(): unknown } }>(grid: G): G => ({
    ...grid,
    cells: grid.cells.slice(),
  });
  const layers: Omit<ResistanceInputs, 'slope' | 'edgeDistance' | 'features'> = {
    cover: copy(inputs.cover),
    canopy: copy(inputs.canopy),
    screening: copy(inputs.screening),
    footing: copy(inputs.footing),
  };
  drawFeatures(layers.cover.frame, features, {
    cover: layers.cover.cells,
    canopy: layers.canopy.cells,
    screening: layers.screening.cells,
    footing: layers.footing.cells,
  });
  const edgeDistance = distanceToEdge(layers.cover);
  return resistanceOf({ ...layers, slope: inputs.slope, edgeDistance, features }, weights);
}

/** Share of all travel that passes within reach of a spot, m. */
export const shareWithin = (flow: Flow, at: Point, reach: number): number =>
  shareOf(flow, passing(flow, withinReach(flow.frame, { at, reach })));
