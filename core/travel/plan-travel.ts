import { COVER } from '../cover/types.ts';
import { type Feature, ofKind } from '../features/feature.ts';
import type { Grid } from '../grid/frame.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { weightsOf } from './assumptions.ts';
import { checkBarricades } from './barricades.ts';
import { barriersOf } from './barriers.ts';
import { proposeClosures } from './closures.ts';
import { coarseLabels, coarseResistance, factorFor } from './coarsen.ts';
import { edgeCosts, moveCosts } from './edges.ts';
import { shareAcross } from './flow.ts';
import { boundaryRings } from './owner.ts';
import { resistanceOf } from './resistance.ts';
import { updateFlow } from './solve-flow.ts';
import { FLOW_CELLS } from './study.ts';
import { type FlowInputs, flowOn } from './trials.ts';
import type { Corridor, Neck, PlanTravel } from './types.ts';

export interface PlanInputs extends Omit<FlowInputs, 'pairs'> {
  corridors: readonly Corridor[];
  necks: readonly Neck[];
}

/** Best necks on the owner's ground for which closures are sought in turn. */
const TRIED = 3;

/** Features as they stand when everything proposed is built. */
const asBuilt = (features: readonly Feature[]): Feature[] =>
  features.map((feature) => (feature.status === 'proposed' ? { ...feature, status: 'existing' } : feature));

/** Proposed features whose effect on travel this stage can tell: lines, gaps and trails. */
const TELLS = ['fence', 'barricade', 'road', 'creek', 'gap', 'trail', 'building'] as const;

/**
 * Travel with every proposed feature built, against travel today: the necks' shares, what each barricade does, and
 * the closures that would gather more at the first of the best necks on the owner's ground that can be helped. The pairs and their weights, and how
 * dearly a detour is weighed, stay as they are, so that the two can be compared.
 */
export function planTravel(given: PlanInputs, progress: Progress = silent): PlanTravel {
  const inputs = { ...given, pairs: given.corridors.map(({ from, to, share }) => ({ from, to, share })) };
  const weights = weightsOf(inputs.assumptions);
  const proposed = inputs.features.filter(({ status }) => status === 'proposed');
  const boundary = boundaryRings(inputs.features);
  const own = inputs.necks.filter(({ owner }) => owner === 'inside' || owner === 'unknown').slice(0, TRIED);
  const plan: PlanTravel = { necks: [], barricades: [], goal: null, closures: [], doubts: [] };
  if (inputs.pairs.length === 0 || weights.focus === 0 || (proposed.length === 0 && own.length === 0))
    return plan;

  const factor = factorFor(inputs.resistance.frame, FLOW_CELLS);
  const areas = coarseLabels(inputs.areas, factor).cells;
  const today = {
    costs: edgeCosts(coarseResistance(inputs.resistance, factor), barriersOf(inputs.features, weights)),
    flow: flowOn(inputs, inputs.resistance, weights, factor, 1e-4, part(progress, 0, 0.5)),
  };
  const built = asBuilt(inputs.features);
  const barriers = barriersOf(built, weights);
  const changesGround = ofKind(proposed, 'trail', 'building', 'creek').length > 0;
  const ground: Grid = coarseResistance(
    changesGround ? resistanceOf({ ...inputs, features: built }, weights) : inputs.resistance,
    factor,
  );
  const costs = edgeCosts(ground, barriers);
  const { flow } = updateFlow(
    today.flow,
    today.costs,
    costs,
    areas,
    weights.focus,
    moveCosts(ground.frame, barriers),
    1e-4,
  );
  progress(0.7);

  plan.necks = inputs.necks.map(({ id, line }) => ({
    id,
    before: shareAcross(today.flow, line).share,
    after: shareAcross(flow, line).share,
  }));
  plan.barricades = checkBarricades(ofKind(proposed, 'barricade'), {
    before: today.flow,
    after: flow,
    resistance: ground,
    features: built,
    cover: inputs.cover,
    weights,
  });
  progress(0.8);
  // The best neck may hold all its travel already; then the next is asked.
  for (const { id, line } of own) {
    plan.closures = proposeClosures(line, {
      flow,
      costs,
      areas,
      barriers,
      focus: weights.focus,
      cover: inputs.cover,
      boundary,
    });
    if (plan.closures.length > 0) {
      plan.goal = id;
      break;
    }
  }
  plan.doubts = doubtsOf(proposed, inputs.cover);
  progress(1);
  return plan;
}

function doubtsOf(proposed: readonly Feature[], cover: Grid<Uint8Array>): string[] {
  const doubts: string[] = [];
  const untold = new Set(
    proposed.filter(({ kind }) => !(TELLS as readonly string[]).includes(kind)).map(({ kind }) => kind),
  );
  if (untold.size > 0)
    doubts.push(
      `Proposed features of kind ${[...untold].join(', ')} change cover or the ends of travel; their effect shows only when they are drawn as existing.`,
    );
  if (cover.cells.every((code) => code === 0 || code === COVER.water))
    doubts.push('Cover is unknown, so the work of a closure is reckoned as on timbered ground.');
  return doubts;
}
