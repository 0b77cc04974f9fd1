import type { Grid, Point } from '../grid/frame.ts';
import { cellCentre } from '../grid/frame.ts';
import type { Progress } from '../grid/progress.ts';
import { seededRandom } from '../grid/random.ts';
import { type Weights, weightsOf } from './assumptions.ts';
import { barriersOf } from './barriers.ts';
import { coarseLabels, coarseResistance } from './coarsen.ts';
import { type EdgeCosts, edgeCosts, type MoveCosts, moveCosts } from './edges.ts';
import type { Flow, TravelPair } from './flow.ts';
import { drawnIn, type MarginShares } from './margin.ts';
import { type ReliefGround, reliefGround } from './relief.ts';
import { reshared } from './reshare.ts';
import { type ResistanceInputs, resistanceUnder } from './resistance.ts';
import { leastCosts, solveFlow } from './solve-flow.ts';
import { thinned, thinning } from './thinned.ts';
import type { Assumption, TravelArea } from './types.ts';
import { drawWeights } from './uncertainty.ts';
import { underfootOf } from './underfoot.ts';

/** What flow is solved on, apart from the weights. */
export interface FlowInputs extends ResistanceInputs {
  /** m; NaN no data. */
  elevation: Grid;
  assumptions: readonly Assumption[];
  resistance: Grid;
  areas: Grid<Int32Array>;
  pairs: readonly TravelPair[];
}

/** What edges and moves cost under some weights on a grid coarser by a whole factor. */
export function costsOn(
  inputs: Pick<FlowInputs, 'features' | 'slope'>,
  relief: ReliefGround,
  resistance: Grid,
  weights: Weights,
  factor: number,
): { costs: EdgeCosts; crossings: MoveCosts } {
  const barriers = barriersOf(inputs.features, weights, inputs.slope);
  const coarse = coarseResistance(resistance, factor);
  const costs = edgeCosts(coarse, barriers, underfootOf(relief, inputs.features, weights));
  return { costs, crossings: moveCosts(coarse.frame, barriers, costs) };
}

/**
 * Flow under some weights on a grid coarser by a whole factor.
 *
 * @param areas on that grid
 */
function flowOn(
  inputs: Pick<FlowInputs, 'features' | 'pairs' | 'slope'>,
  areas: Int32Array,
  relief: ReliefGround,
  resistance: Grid,
  weights: Weights,
  factor: number,
): Flow {
  const { costs, crossings } = costsOn(inputs, relief, resistance, weights, factor);
  return solveFlow(costs, areas, inputs.pairs, weights.focus, crossings, { accuracy: ACCURACY });
}

/** A share that is read off a flow, as of what crosses a line. */
export type Measure = (flow: Flow) => number;

/** The same shares when something is changed. */
export interface Trial {
  /** What was changed, as the end of "… when"; null for a run over the uncertain weights. */
  change: string | null;
  /** The edge of the data was moved. */
  margin: boolean;
  weights: Weights | null;
  shares: Float64Array;
  /** Another model of routes spreads all travel: only ranks can be compared, not shares. */
  ranksOnly: boolean;
}

/** What was changed, in the words of a neck's reasons. */
const MARGIN = 'the edge of the map is drawn in';

export interface Trials {
  /** What the cells of the runs give for the usual weights; every run's share is read against it. */
  usual: Float64Array;
  /** The same on the cells on which the model is changed, which may be finer. */
  usualOfChanges: Float64Array;
  list: Trial[];
}

/** The most cells a changed model is solved on: what keeps the stage within seconds. */
export const TRIAL_CELLS = 75_000;
/** The most cells of the runs over the uncertain weights, so that fifty are not waited for. */
export const RUN_CELLS = 20_000;
/** Of the trials' shares. */
export const ACCURACY = 1e-3;

/** What trials are run on. */
export interface TrialGround {
  ground: FlowInputs;
  /** How many of its cells a side make one of the trials'. */
  within: number;
  /** On the trials' cells. */
  areas: Int32Array;
  relief: ReliefGround;
}

/** The ground of trials on cells `factor` times the map's. */
export function trialGround(inputs: FlowInputs, flowFactor: number, factor: number): TrialGround {
  const by = factor === flowFactor ? 1 : thinning(factor);
  const ground = thinned(inputs, by);
  const within = factor / by;
  const relief = reliefGround(inputs.elevation, factor);
  return { ground, within, areas: coarseLabels(ground.areas, within).cells, relief };
}

/**
 * Flow under the usual weights on the trials' cells, which are `factor` times the map's.
 *
 * @param on those cells, where they are at hand
 */
export function usualTrial(
  inputs: FlowInputs,
  usualFlow: Flow,
  flowFactor: number,
  factor: number,
  on?: TrialGround,
): Flow {
  if (factor === flowFactor) return usualFlow;
  const { ground, within, areas, relief } = on ?? trialGround(inputs, flowFactor, factor);
  return flowOn(inputs, areas, relief, ground.resistance, weightsOf(inputs.assumptions), within);
}

export const sharesOf = (measures: readonly Measure[], flow: Flow): Float64Array =>
  Float64Array.from(measures, (measure) => measure(flow));

/** Trials may be run in bands, side by side, each with its own part of them in their order. */
export interface Band {
  index: number;
  count: number;
}
const ALL: Band = { index: 0, count: 1 };

/** Below this share on the wider cells, nothing can be told of what the margin does to it. */
const TOO_LITTLE = 0.002;

/**
 * What a margin twice as wide does to the shares. Among more ends farther out all of them are parts of more travel, so
 * only their ranks are compared.
 */
export function marginDoubled({ usual, wide }: MarginShares, usualOfChanges: Float64Array): Trial {
  const shares = usualOfChanges.map((share, k) =>
    usual[k]! >= TOO_LITTLE ? (share * wide[k]!) / usual[k]! : share,
  );
  return { change: 'the map reaches twice as far', margin: true, weights: null, shares, ranksOnly: true };
}

/** One of the changed models between every few runs, so that each band has its part of what takes longest. */
function spreadOut<T>(runs: readonly T[], changes: readonly T[]): T[] {
  const place = (k: number): number => Math.round((runs.length * k) / changes.length);
  return changes.flatMap((change, k) => [...runs.slice(place(k), place(k + 1)), change]);
}

/**
 * Solves the flow again on a coarser grid: under drawn weights, and with one thing of the model changed at a time
 * (size of the cells, route model, ends of travel, edge of the data).
 *
 * @param flowFactor times the map's cells are those of the usual flow, `factor` times those of the trials
 * @param band of the trials, which are the same in however many bands they are run
 * @param runFactor times the map's cells are those of the runs over drawn weights
 */
export function runTrials(
  inputs: FlowInputs & { travelAreas: readonly Pick<TravelArea, 'id' | 'kind'>[] },
  measures: readonly Measure[],
  flowFactor: number,
  factor: number,
  runs: number,
  seed: number,
  progress: Progress,
  band = ALL,
  runFactor = factor,
): Trial[] {
  if (runs === 0) return [];
  const on = trialGround(inputs, flowFactor, factor);
  const underWeights = drawnTrials(
    inputs,
    measures,
    runFactor === factor ? on : trialGround(inputs, flowFactor, runFactor),
  );
  const { ground, within, areas, relief } = on;
  const { resistance } = ground;
  const weights = weightsOf(inputs.assumptions);
  const changed =
    (change: string, flow: () => Flow, ranksOnly = false) =>
    (): Trial => ({
      change,
      margin: change === MARGIN,
      weights: null,
      shares: sharesOf(measures, flow()),
      ranksOnly,
    });
  const endsMoved = (half: number) =>
    changed('the ends of travel move', () => {
      const moved = coarseLabels(halfAreas(ground.areas, seededRandom(seed + 1), half), within).cells;
      return flowOn(inputs, moved, relief, resistance, weights, within);
    });
  const edgeDrawnIn = changed(MARGIN, () => {
    const inside = drawnIn(resistance, ground.areas, inputs.features);
    const labels = coarseLabels(inside.areas, within).cells;
    return flowOn(inputs, labels, relief, inside.resistance, weights, within);
  });
  const wider = changed('the cells are twice as wide', () => {
    const labels = coarseLabels(inputs.areas, 2 * flowFactor).cells;
    const wideRelief = reliefGround(inputs.elevation, 2 * flowFactor);
    return flowOn(inputs, labels, wideRelief, inputs.resistance, weights, 2 * flowFactor);
  });
  const atRandom = changed(
    'travel wanders at random instead of seeking the cheapest way',
    () => flowOn(inputs, areas, relief, resistance, { ...weights, focus: 0 }, within),
    true,
  );
  const changes = [
    endsMoved(0),
    endsMoved(1),
    edgeDrawnIn,
    // The trials' own cells may be as wide already; their shares are then read off the usual.
    ...(factor < 2 * flowFactor ? [wider] : []),
    atRandom,
  ];
  const all = spreadOut(drawWeights(inputs.assumptions, runs, seed).map(underWeights), changes);
  const place = (index: number): number => Math.round((all.length * index) / band.count);
  const own = all.slice(place(band.index), place(band.index + 1));
  return own.map((run, k) => {
    const trial = run();
    progress((k + 1) / own.length);
    return trial;
  });
}

/** How the flow is solved under drawn weights. */
function drawnTrials(
  inputs: FlowInputs & { travelAreas: readonly Pick<TravelArea, 'id' | 'kind'>[] },
  measures: readonly Measure[],
  { ground, within, areas, relief }: TrialGround,
): (drawn: Weights) => () => Trial {
  const weights = weightsOf(inputs.assumptions);
  const { costs, crossings } = costsOn(inputs, relief, ground.resistance, weights, within);
  const usual = leastCosts(costs, areas, inputs.pairs, crossings);
  const resistanceOf = resistanceUnder(ground);
  return (drawn) => () => {
    const flow = flowOn(inputs, areas, relief, resistanceOf(drawn), drawn, within);
    // How far deer go and how much food draws them is uncertain too: travel is shared out between the pairs anew.
    const shares = sharesOf(measures, reshared(flow, drawn, usual, weights, inputs.travelAreas));
    return { change: null, margin: false, weights: drawn, shares, ranksOnly: false };
  };
}

/** Keeps one half of every area, cut through its middle at a drawn bearing. */
function halfAreas({ frame, cells }: Grid<Int32Array>, random: () => number, half: number): Grid<Int32Array> {
  const sums = new Map<number, { x: number; y: number; count: number }>();
  for (let i = 0; i < cells.length; i++) {
    if (cells[i] === 0) continue;
    const [x, y] = cellCentre(frame, i);
    const sum = sums.get(cells[i]!) ?? { x: 0, y: 0, count: 0 };
    sum.x += x;
    sum.y += y;
    sum.count++;
    sums.set(cells[i]!, sum);
  }
  const cuts = new Map<number, { at: Point; normal: Point }>();
  for (const label of [...sums.keys()].sort((a, b) => a - b)) {
    const { x, y, count } = sums.get(label)!;
    const angle = 2 * Math.PI * random() + Math.PI * half;
    cuts.set(label, { at: [x / count, y / count], normal: [Math.sin(angle), Math.cos(angle)] });
  }
  const out = new Int32Array(cells.length);
  for (let i = 0; i < cells.length; i++) {
    if (cells[i] === 0) continue;
    const { at, normal } = cuts.get(cells[i]!)!;
    const [x, y] = cellCentre(frame, i);
    if ((x - at[0]) * normal[0] + (y - at[1]) * normal[1] >= -1e-9) out[i] = cells[i]!;
  }
  return { frame, cells: out };
}
