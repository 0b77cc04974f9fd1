import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { indexOffsets, NEIGHBOURS_8 } from '../grid/neighbours.ts';
import { NO_RECEIVER } from './flow.ts';

/**
 * Where D-infinity sends a cell's water: to one neighbour, or shared with the next one clockwise.
 */
export interface SplitFlow {
  /** Code 1..8 of the first receiver, clockwise from east; 9 none, 0 no data. */
  first: Grid<Uint8Array>;
  /** Share that goes on to the neighbour one step further clockwise, 0 up to 1; the rest goes to the first. */
  shared: Grid<Float32Array>;
}

/**
 * D-infinity (Tarboton, "A new method for the determination of flow directions and upslope areas in grid digital
 * elevation models", Water Resources Research 33, 1997): the steepest way down over the eight triangular facets
 * around a cell; where it lies within a facet, the flow is shared by angle between the facet's two neighbours.
 * Both always lie lower, so flow never runs in a circle. Cells without a lower neighbour follow `directions`.
 *
 * @param surface a filled surface; NaN no data
 * @param directions its single flow directions, for level ground and outlets
 */
export function splitFlow(surface: Grid, directions: Grid<Uint8Array>): SplitFlow {
  const { frame, cells } = surface;
  assertOnFrame(frame, surface, directions);
  const { width, height } = frame;
  const first = new Uint8Array(cells.length);
  const shared = new Float32Array(cells.length);
  const { dx, dy } = NEIGHBOURS_8;
  const around = new Float64Array(9);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (directions.cells[i] === 0) continue;
      first[i] = directions.cells[i]!;
      const z = cells[i]!;
      for (let k = 0; k < 8; k++) {
        const column = x + dx[k]!;
        const row = y + dy[k]!;
        const outside = column < 0 || row < 0 || column >= width || row >= height;
        around[k] = outside ? Number.NaN : cells[row * width + column]!;
      }
      around[8] = around[0]!;
      let steepest = 0;
      for (let k = 0; k < 8; k++) {
        // The facet between neighbours k and k + 1: one is straight (even), the other diagonal.
        const straight = k & 1 ? k + 1 : k;
        const diagonal = k & 1 ? k : k + 1;
        const along = z - around[straight]!;
        const across = around[straight]! - around[diagonal]!;
        let slope: number;
        let towardsDiagonal: number; // share of the facet's angle, 0 straight, 1 diagonal
        if (across >= 0 && along >= across) {
          slope = Math.hypot(along, across);
          towardsDiagonal = Math.atan2(across, along) / (Math.PI / 4);
        } else if (across < 0 || Number.isNaN(across)) {
          slope = along;
          towardsDiagonal = 0;
        } else {
          slope = (z - around[diagonal]!) * Math.SQRT1_2;
          towardsDiagonal = 1;
        }
        if (!(slope > steepest)) continue;
        steepest = slope;
        const next = k & 1 ? 1 - towardsDiagonal : towardsDiagonal;
        first[i] = k + 1;
        shared[i] = next;
        if (next >= 1) {
          first[i] = ((k + 1) & 7) + 1;
          shared[i] = 0;
        }
      }
    }
  }
  return { first: { frame, cells: first }, shared: { frame, cells: shared } };
}

/**
 * Area drained by each cell, itself included, under D-infinity, m². In 64-bit floats: what leaves a cell is the
 * whole of what came in, so the outlets add up to the map's area. 0 where there is no data.
 */
export function accumulateSplit(flow: SplitFlow): Grid<Float64Array> {
  const { frame, cells: first } = flow.first;
  const shared = flow.shared.cells;
  assertOnFrame(frame, flow.first, flow.shared);
  const offsets = indexOffsets(NEIGHBOURS_8, frame.width);
  return drainInOrder(frame, first, (i, give) => {
    const code = first[i]!;
    if (code === NO_RECEIVER) return;
    const share = shared[i]!;
    give(i + offsets[code - 1]!, 1 - share);
    if (share > 0) give(i + offsets[code & 7]!, share);
  });
}

/**
 * Area drained by each cell when flow spreads over all lower neighbours by slope to the power 1.1 (Freeman,
 * "Calculating catchment area with divergent flow based on a regular grid", Computers & Geosciences 17, 1991),
 * m². Cells without a lower neighbour follow `directions`. 64-bit, conserves area; 0 where there is no data.
 */
export function accumulateSpread(surface: Grid, directions: Grid<Uint8Array>): Grid<Float64Array> {
  const { frame, cells } = surface;
  assertOnFrame(frame, surface, directions);
  const { width, height } = frame;
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const { dx, dy } = NEIGHBOURS_8;
  const weights = new Float64Array(8);
  return drainInOrder(frame, directions.cells, (i, give) => {
    const x = i % width;
    const y = Math.floor(i / width);
    let sum = 0;
    for (let k = 0; k < 8; k++) {
      weights[k] = 0;
      const column = x + dx[k]!;
      const row = y + dy[k]!;
      if (column < 0 || row < 0 || column >= width || row >= height) continue;
      const drop = cells[i]! - cells[i + offsets[k]!]!;
      if (drop > 0) weights[k] = (k & 1 ? drop * Math.SQRT1_2 : drop) ** 1.1;
      sum += weights[k]!;
    }
    if (sum > 0) {
      for (let k = 0; k < 8; k++) if (weights[k]! > 0) give(i + offsets[k]!, weights[k]! / sum);
    } else if (directions.cells[i]! < NO_RECEIVER) give(i + offsets[directions.cells[i]! - 1]!, 1);
  });
}

type Give = (receiver: number, share: number) => void;

/** Hands each cell's area on once all of what drains to it has come in. `known` is 0 where there is no data. */
function drainInOrder(
  frame: Grid['frame'],
  known: Uint8Array,
  split: (cell: number, give: Give) => void,
): Grid<Float64Array> {
  const count = known.length;
  const area = new Float64Array(count);
  const waiting = new Uint8Array(count);
  const countIn: Give = (receiver) => {
    waiting[receiver]!++;
  };
  for (let i = 0; i < count; i++) {
    if (known[i] === 0) continue;
    area[i] = frame.cellSize ** 2;
    split(i, countIn);
  }
  const ready: number[] = [];
  let passing = 0;
  const handOn: Give = (receiver, share) => {
    area[receiver]! += passing * share;
    if (--waiting[receiver]! === 0) ready.push(receiver);
  };
  const passed = new Uint8Array(count);
  for (let start = 0; start < count; start++) {
    if (known[start] === 0 || waiting[start] !== 0 || passed[start] === 1) continue;
    for (let i: number | undefined = start; i !== undefined; i = ready.pop()) {
      passed[i] = 1;
      passing = area[i]!;
      split(i, handOn);
    }
  }
  return { frame, cells: area };
}
