import type { CoverSource } from '../cover/types.ts';
import { distanceTo } from '../grid/distance.ts';
import type { Grid } from '../grid/frame.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { weightsOf } from './assumptions.ts';
import { barriersOf } from './barriers.ts';
import { coarseResistance, factorFor, finePassage } from './coarsen.ts';
import { findCrossings } from './crossings.ts';
import { travelDoubts } from './doubts.ts';
import { judgeFirmness, spreadOf } from './firmness.ts';
import { passageOf, shareAcross } from './flow.ts';
import { armsAround, findJunctions } from './junctions.ts';
import type { MarginShares } from './margin.ts';
import { describeNecks, type NeckSources, neckPlaces } from './necks.ts';
import { findPinches, type Pinch } from './pinch.ts';
import { redundancyOf } from './redundancy.ts';
import { sampleRoutes } from './routes.ts';
import { scoreSightings, sightingsOf } from './sightings.ts';
import {
  type Band,
  type FlowInputs,
  type Measure,
  marginDoubled,
  RUN_CELLS,
  runTrials,
  sharesOf,
  TRIAL_CELLS,
  type Trial,
  type Trials,
  trialGround,
  usualTrial,
} from './trials.ts';
import type { Corridor, Crossing, Junction, Neck, NeckPlace, Route, Spread } from './types.ts';
import { underfootOf } from './underfoot.ts';
import type { TodayTravel } from './what-if.ts';

export interface StudyInputs
  extends Omit<FlowInputs, 'pairs'>,
    Omit<NeckSources, 'barriers' | 'features' | 'areas' | 'cover' | 'resistance'> {
  travelAreas: NeckSources['areas'];
  corridors: readonly Corridor[];
  /** The flow between the corridors' areas that all is read off. */
  todayTravel: TodayTravel;
  coverSource: CoverSource;
}

export interface StudyOptions {
  maxNecks: number;
  /** Runs over the uncertain weights; with none, nothing is called firm. */
  runs: number;
  seed: number;
}

export interface Study {
  passage: Grid;
  necks: Neck[];
  junctions: Junction[];
  crossings: Crossing[];
  routes: Route[];
  doubts: string[];
}

/** Pinches kept beyond those shown, so that ranks in the trials have others to lose to. */
const SPARE = 10;

/** What is sought in today's flow, before it is known how sure it is. */
export interface Sought {
  pinches: Pinch[];
  /** Where the necks will lie that are shown, in their order. */
  places: NeckPlace[];
  junctions: ReturnType<typeof findJunctions>;
  crossings: ReturnType<typeof findCrossings>;
}

/** Passage, necks, junctions, crossings and sampled routes of today's flow, and how sure they are. */
export function studyTravel(given: StudyInputs, options: StudyOptions, progress: Progress = silent): Study {
  const sought = seek(given, options.maxNecks);
  progress(0.05);
  const trials = trySought(given, sought, options, part(progress, 0.05, 0.9));
  const study = judgeSought(given, sought, trials, options);
  progress(1);
  return study;
}

/** Necks, junctions and crossings of today's flow. */
export function seek(given: StudyInputs, maxNecks: number): Sought {
  const { features, slope } = given;
  const barriers = barriersOf(features, weightsOf(given.assumptions), slope);
  const { flow, costs, areas } = given.todayTravel;
  const passage = passageOf(flow, costs.resistance);
  const toArea = distanceTo(flow.frame, areas);
  const pinches = findPinches(flow, passage, toArea, barriers, maxNecks + SPARE);
  return {
    pinches,
    places: neckPlaces(flow, pinches.slice(0, maxNecks), features),
    junctions: findJunctions(flow, passage, toArea, features),
    crossings: findCrossings(flow, given.corridors, barriers, features, given.edgeDistance, slope),
  };
}

/** Shares of what was sought, in the order of the trials' measures: pinches, junctions, crossings. */
export const measuresOf = ({ pinches, junctions, crossings }: Sought): Measure[] => [
  ...pinches.map(
    ({ line }): Measure =>
      (of) =>
        shareAcross(of, line).share,
  ),
  ...junctions.map(
    ({ at, reach }): Measure =>
      (of) =>
        armsAround(of, at, reach).share,
  ),
  ...crossings.map(
    ({ span }): Measure =>
      (of) =>
        shareAcross(of, span).share,
  ),
];

const withPairs = (given: StudyInputs) => ({
  ...given,
  pairs: given.corridors.map(({ from, to, share }) => ({ from, to, share })),
});

/** How many times as wide as the map's the cells are on which the model is changed, or the weights alone are drawn. */
const trialFactorOf = ({ resistance, todayTravel }: StudyInputs, mostCells = TRIAL_CELLS): number =>
  Math.max(todayTravel.factor, factorFor(resistance.frame, mostCells));
const runFactorOf = (given: StudyInputs): number => trialFactorOf(given, RUN_CELLS);

/** Runs the trials, or a band of them, over what was sought. */
export function trySought(
  given: StudyInputs,
  sought: Sought,
  { runs, seed }: Pick<StudyOptions, 'runs' | 'seed'>,
  progress: Progress,
  band?: Band,
): Trial[] {
  const measures = measuresOf(sought);
  return runTrials(
    withPairs(given),
    measures,
    given.todayTravel.factor,
    trialFactorOf(given),
    measures.length > 0 ? runs : 0,
    seed,
    progress,
    band,
    runFactorOf(given),
  );
}

/**
 * What was found, and how sure it is.
 *
 * @param tried every trial on the property's own ground
 * @param margin shares with twice the margin; null where that could not be tried
 */
export function judgeSought(
  given: StudyInputs,
  sought: Sought,
  tried: Trial[],
  options: Pick<StudyOptions, 'maxNecks' | 'seed'>,
  margin: MarginShares | null = null,
): Study {
  const { frame } = given.resistance;
  const inputs = withPairs(given);
  const weights = weightsOf(inputs.assumptions);
  const barriers = barriersOf(inputs.features, weights, inputs.slope);
  const { flow, factor: flowFactor, costs } = inputs.todayTravel;
  const trialFactor = trialFactorOf(given);
  const { pinches, junctions, crossings } = sought;
  const passage = passageOf(flow, costs.resistance);
  const runFactor = runFactorOf(given);
  const on = trialGround(inputs, flowFactor, trialFactor);
  const usualFlow = usualTrial(inputs, flow, flowFactor, trialFactor, on);
  const measures = measuresOf(sought);
  const usualOfChanges = sharesOf(measures, usualFlow);
  const usual =
    runFactor === trialFactor
      ? usualOfChanges
      : sharesOf(measures, usualTrial(inputs, flow, flowFactor, runFactor));
  const list = margin ? [...tried, marginDoubled(margin, usualOfChanges)] : tried;
  const trials: Trials = { usual, usualOfChanges, list };
  const redundancy = redundancyOf(
    pinches.slice(0, options.maxNecks),
    flow.pairs.map(({ pair }) => pair),
    usualFlow,
    coarseResistance(on.ground.resistance, on.within),
    underfootOf(on.relief, inputs.features, weights),
    on.areas,
    barriers,
    weights.focus,
  );
  const necks = describeNecks(
    flow,
    pinches,
    judgeFirmness(pinches, trials, inputs.assumptions),
    redundancy,
    { ...inputs, areas: inputs.travelAreas, barriers },
    options.maxNecks,
  );
  const shown = finePassage(passage, frame, inputs.resistance.cells);
  const sightings = sightingsOf(inputs.features);
  return {
    passage: shown,
    necks,
    junctions: junctions.map((junction, k) => withSpread(junction, pinches.length + k, trials)),
    crossings: crossings.map(({ span: _, ...crossing }, k) =>
      withSpread(crossing, pinches.length + junctions.length + k, trials),
    ),
    routes: sampleRoutes(flow, inputs.travelAreas, options.seed),
    doubts: travelDoubts({
      frame,
      features: inputs.features,
      coverSource: inputs.coverSource,
      areas: inputs.travelAreas,
      cutOff: flow.cutOff,
      necks,
      flowFactor,
      runFactor,
      marginDoubled: margin !== null,
      bias: pinches.reduce((sum, { share }, k) => sum + usual[k]! - share, 0) / Math.max(1, pinches.length),
      sightings: sightings.length > 0 ? scoreSightings(shown, sightings, options.seed) : null,
    }),
  };
}

/** A finding with the spread of its share, which is one of those the trials measured. */
function withSpread<F extends { share: number; reasons: string[] }>(
  found: F,
  measure: number,
  trials: Trials,
): F & { spread: Spread } {
  const spread = spreadOf(found.share, measure, trials);
  const percent = (share: number): string => `${Math.round(share * 100)}%`;
  const band = `From ${percent(spread.low)} to ${percent(spread.high)} over ${spread.runs} runs of the uncertain weights.`;
  return { ...found, spread, reasons: spread.runs > 0 ? [...found.reasons, band] : found.reasons };
}
