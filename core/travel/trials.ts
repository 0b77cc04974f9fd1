import type { Grid, Point } from '../grid/frame.ts';
import { cellCentre } from '../grid/frame.ts';
import { type Progress, part } from '../grid/progress.ts';
import { seededRandom } from '../grid/random.ts';
import { type Weights, weightsOf } from './assumptions.ts';
import { barriersOf } from './barriers.ts';
import { coarseLabels, coarseResistance } from './coarsen.ts';
import { type EdgeCosts, edgeCosts, type MoveCosts, moveCosts } from './edges.ts';
import type { Flow, TravelPair } from './flow.ts';
import { drawnIn } from './margin.ts';
import { type ReliefGround, reliefGround } from './relief.ts';
import { reshared } from './reshare.ts';
import { type ResistanceInputs, resistanceOf } from './resistance.ts';
import { leastCosts, solveFlow } from './solve-flow.ts';
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

/** Flow under some weights on a grid coarser by a whole factor. */
function flowOn(
  inputs: Pick<FlowInputs, 'features' | 'areas' | 'pairs' | 'slope'>,
  relief: ReliefGround,
  resistance: Grid,
  weights: Weights,
  factor: number,
  accuracy: number,
  progress?: Progress,
): Flow {
  const { costs, crossings } = costsOn(inputs, relief, resistance, weights, factor);
  return solveFlow(costs, coarseLabels(inputs.areas, factor).cells, inputs.pairs, weights.focus, crossings, {
    accuracy,
    ...(progress ? { progress } : {}),
  });
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
  /** What the trials' grid gives for the usual weights; every share is read against it. */
  usual: Float64Array;
  usualFlow: Flow;
  list: Trial[];
}

/** The most cells trials are solved on: what keeps the stage within seconds. */
export const TRIAL_CELLS = 75_000;
/** Of the trials' shares. */
export const ACCURACY = 1e-3;

/** Flow under the usual weights on the trials' cells, which are `factor` times the map's. */
export const usualTrial = (inputs: FlowInputs, usualFlow: Flow, flowFactor: number, factor: number): Flow =>
  factor === flowFactor
    ? usualFlow
    : flowOn(
        inputs,
        reliefGround(inputs.elevation, factor),
        inputs.resistance,
        weightsOf(inputs.assumptions),
        factor,
        ACCURACY,
      );

export const sharesOf = (measures: readonly Measure[], flow: Flow): Float64Array =>
  Float64Array.from(measures, (measure) => measure(flow));

/** Trials may be run in bands, side by side: the first has some of the drawn weights, the second all the rest. */
export type Band = 0 | 1;
/** Drawn weights that take as long as the trials that change something else. */
const AS_LONG = 6;

/**
 * Solves the flow again on a coarser grid: under drawn weights, and with one thing of the model changed at a time
 * (size of the cells, route model, ends of travel, edge of the data).
 *
 * @param flowFactor times the map's cells are those of the usual flow, `factor` times those of the trials
 * @param band of the trials, which are the same in however many bands they are run; null all of them
 */
export function runTrials(
  inputs: FlowInputs & { travelAreas: readonly Pick<TravelArea, 'id' | 'kind'>[] },
  measures: readonly Measure[],
  flowFactor: number,
  factor: number,
  runs: number,
  seed: number,
  progress: Progress,
  band: Band | null = null,
): Trial[] {
  const weights = weightsOf(inputs.assumptions);
  const relief = reliefGround(inputs.elevation, factor);
  const list: Trial[] = [];
  const add = (change: string | null, drawn: Weights | null, flow: Flow, ranksOnly = false): void => {
    list.push({
      change,
      weights: drawn,
      margin: change === MARGIN,
      shares: sharesOf(measures, flow),
      ranksOnly,
    });
  };
  const first = Math.min(runs, Math.ceil((runs + AS_LONG) / 2));
  const begin = band === 1 ? first : 0;
  const drawn = drawWeights(inputs.assumptions, runs, seed).slice(begin, band === 0 ? first : runs);
  const again = part(progress, 0, band === 0 ? 1 : 0.8);
  const { costs, crossings } = costsOn(inputs, relief, inputs.resistance, weights, factor);
  const usual = leastCosts(costs, coarseLabels(inputs.areas, factor).cells, inputs.pairs, crossings);
  drawn.forEach((each, run) => {
    const flow = flowOn(inputs, relief, resistanceOf(inputs, each), each, factor, ACCURACY);
    // How far deer go and how much food draws them is uncertain too: travel is shared out between the pairs anew.
    add(null, each, reshared(flow, each, usual, weights, inputs.travelAreas));
    again((run + 1) / drawn.length);
  });
  if (runs > 0 && band !== 0) {
    const { resistance } = inputs;
    for (const half of [0, 1]) {
      const moved = { ...inputs, areas: halfAreas(inputs.areas, seededRandom(seed + 1), half) };
      add('the ends of travel move', null, flowOn(moved, relief, resistance, weights, factor, ACCURACY));
    }
    progress(0.87);
    const within = drawnIn(resistance, inputs.areas, inputs.features);
    const inside = { ...inputs, areas: within.areas };
    add(MARGIN, null, flowOn(inside, relief, within.resistance, weights, factor, ACCURACY));
    // The trials' own cells may be as wide already; their shares are then read off the usual.
    if (factor < 2 * flowFactor)
      add(
        'the cells are twice as wide',
        null,
        flowOn(
          inputs,
          reliefGround(inputs.elevation, 2 * flowFactor),
          resistance,
          weights,
          2 * flowFactor,
          ACCURACY,
        ),
      );
    progress(0.9);
    add(
      'travel wanders at random instead of seeking the cheapest way',
      null,
      flowOn(inputs, relief, resistance, { ...weights, focus: 0 }, factor, ACCURACY),
      true,
    );
  }
  progress(1);
  return list;
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
