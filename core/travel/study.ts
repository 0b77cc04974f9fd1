import type { CoverSource } from '../cover/types.ts';
import { distanceTo } from '../grid/distance.ts';
import type { Grid } from '../grid/frame.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { type Weights, weightsOf } from './assumptions.ts';
import { barriersOf } from './barriers.ts';
import { coarseLabels, coarseResistance, factorFor, finePassage } from './coarsen.ts';
import { findCrossings } from './crossings.ts';
import { travelDoubts } from './doubts.ts';
import { edgeCosts, moveCosts } from './edges.ts';
import { type Flow, passageOf, solveFlow, type TravelPair } from './flow.ts';
import { describeNecks, type NeckSources, sharesIn, type Trials } from './necks.ts';
import { findPinches } from './pinch.ts';
import { type ResistanceInputs, resistanceOf } from './resistance.ts';
import type { Assumption, Corridor, Crossing, Neck } from './types.ts';
import { drawWeights } from './uncertainty.ts';

export interface StudyInputs
  extends ResistanceInputs,
    Omit<NeckSources, 'barriers' | 'features' | 'areas' | 'cover'> {
  assumptions: readonly Assumption[];
  areas: Grid<Int32Array>;
  travelAreas: NeckSources['areas'];
  corridors: readonly Corridor[];
  coverSource: CoverSource;
}

export interface StudyOptions {
  maxNecks: number;
  runs: number;
  seed: number;
}

/** The most cells flow and trials are solved on: what keeps the stage within seconds. */
const FLOW_CELLS = 300_000;
const TRIAL_CELLS = 75_000;
/** Pinches kept beyond those shown, so that ranks in the trials have others to lose to. */
const SPARE = 10;

/** Passage, necks and crossings of the corridors' pairs, with the spread over the uncertain weights. */
export function studyTravel(
  inputs: StudyInputs,
  options: StudyOptions,
  progress: Progress = silent,
): { passage: Grid; necks: Neck[]; crossings: Crossing[]; doubts: string[] } {
  const { frame } = inputs.resistance;
  const weights = weightsOf(inputs.assumptions);
  const barriers = barriersOf(inputs.features, weights);
  const flowFactor = factorFor(frame, FLOW_CELLS);
  const trialFactor = Math.max(flowFactor, factorFor(frame, TRIAL_CELLS));

  const flow = flowOn(inputs, inputs.resistance, weights, flowFactor, 1e-5, part(progress, 0, 0.4));
  const passage = passageOf(flow, coarseResistance(inputs.resistance, flowFactor));
  const toArea = distanceTo(flow.frame, coarseLabels(inputs.areas, flowFactor).cells);
  const pinches = findPinches(flow, passage, toArea, barriers, options.maxNecks + SPARE);
  progress(0.5);

  const trials: Trials = { shares: [], usual: sharesIn(flow, pinches) };
  if (pinches.length > 0 && options.runs > 0) {
    const usual =
      trialFactor === flowFactor ? flow : flowOn(inputs, inputs.resistance, weights, trialFactor, 1e-3);
    trials.usual = sharesIn(usual, pinches);
    drawWeights(inputs.assumptions, options.runs, options.seed).forEach((drawn, run) => {
      const trial = flowOn(inputs, resistanceOf(inputs, drawn), drawn, trialFactor, 1e-3);
      trials.shares.push(sharesIn(trial, pinches));
      progress(0.5 + (0.45 * (run + 1)) / options.runs);
    });
  }
  const bias =
    pinches.reduce((sum, { share }, k) => sum + trials.usual[k]! - share, 0) / Math.max(1, pinches.length);

  const necks = describeNecks(
    flow,
    pinches,
    trials,
    { ...inputs, areas: inputs.travelAreas, barriers },
    options.maxNecks,
  );
  const crossings = findCrossings(flow, inputs.corridors, barriers, inputs.features, inputs.edgeDistance);
  const doubts = travelDoubts({
    frame,
    features: inputs.features,
    coverSource: inputs.coverSource,
    areas: inputs.travelAreas,
    cutOff: flow.cutOff,
    necks,
    flowFactor,
    trialFactor,
    bias,
  });
  progress(1);
  return {
    passage: finePassage(passage, frame, inputs.resistance.cells),
    necks,
    crossings,
    doubts,
  };
}

/** Flow under some weights on a grid coarser by a whole factor. */
function flowOn(
  inputs: StudyInputs,
  resistance: Grid,
  weights: Weights,
  factor: number,
  accuracy: number,
  progress: Progress = silent,
): Flow {
  const pairs: TravelPair[] = inputs.corridors.map(({ from, to, share }) => ({ from, to, share }));
  const barriers = barriersOf(inputs.features, weights);
  const coarse = coarseResistance(resistance, factor);
  return solveFlow(
    edgeCosts(coarse, barriers),
    coarseLabels(inputs.areas, factor).cells,
    pairs,
    weights.focus,
    moveCosts(coarse.frame, barriers),
    { accuracy, progress },
  );
}
