import { assertOnFrame, cellCentre, type Frame, type Grid } from '../grid/frame.ts';
import { createQueue64 } from '../grid/monotone-queue.ts';
import { indexOffsets, NEIGHBOURS_8 } from '../grid/neighbours.ts';
import { findPatches } from '../grid/patches.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { fillDepressions } from './filling.ts';
import { WATER_WORK, type WaterChanges } from './types.ts';

/** All of these are our choice. Lengths and depths in m, areas in m². */
export interface BreachLimits {
  /** Hollows shallower than this are filled without a search. */
  leastDepth: number;
  /** A dam no longer along the cut and no deeper than this is taken for a fill with a culvert nobody mapped. */
  length: number;
  depth: number;
  /** The same where a creek or a culvert is mapped through it. */
  mappedLength: number;
  mappedDepth: number;
  /** An uncut hollow at least this deep, this large and this round (short over long axis) is kept as a sink. */
  sinkDepth: number;
  sinkArea: number;
  sinkRoundness: number;
}

export const BREACH_LIMITS: BreachLimits = {
  leastDepth: 0.3,
  length: 40,
  depth: 4,
  mappedLength: 150,
  mappedDepth: 25,
  sinkDepth: 2,
  sinkArea: 100,
  sinkRoundness: 0.6,
};

export interface WaterSurface extends WaterChanges {
  /** The surface water runs on, m. */
  water: Grid<Float32Array>;
  /** WATER_WORK codes; 0 where nothing was done or no data. */
  work: Grid<Uint8Array>;
}

/** On cells coarser than this neither a road fill nor a sinkhole shows, and a hollow is most likely an error, m. */
const COARSEST_CELL = 10;
/** Fewer cells than this have no shape to tell a sinkhole by. */
const LEAST_SINK_CELLS = 30;
/** How often hollows that only show once a dam below is cut are looked for. */
const ROUNDS = 4;

/**
 * The surface that water runs on where roads and field crossings dam the draws of the elevation: each hollow is
 * opened along the path of least cutting from its deepest cell to lower ground (least-cost breaching, Lindsay &
 * Dhun, "Modelling surface drainage patterns in altered landscapes using LiDAR", Int. J. Geographical Information
 * Science 29, 2015) when the dam on that path is within the limits; a hollow that stays shut and looks like a
 * sinkhole is kept; the rest is filled. A cut falls evenly from the hollow to the ground it reaches.
 *
 * On cells of more than 10 m this is the filled surface. NaN stays NaN. Every cell of the result drains to the map's edge, to no data or to a kept sink.
 *
 * @param filled `fillDepressions(elevation)`
 * @param mapped cells a creek or culvert is mapped through: any value but 0; null when there are none
 */
export function waterSurface(
  elevation: Grid,
  filled: Grid,
  mapped: Uint8Array | null,
  limits: BreachLimits = BREACH_LIMITS,
  progress: Progress = silent,
): WaterSurface {
  const { frame } = elevation;
  assertOnFrame(frame, elevation, filled);
  const ground = new Float32Array(elevation.cells);
  const cut = new Uint8Array(ground.length);
  const cuts: WaterChanges['cuts'] = [];
  // Hollows that could not be opened; one that comes back with another spill is tried again.
  const shut = new Set<string>();
  const keyOf = (hollow: Hollow): string => `${hollow.deepest} ${hollow.spill}`;
  let level: Grid = filled;
  let hollows: Hollow[] = [];
  const rounds = frame.cellSize > COARSEST_CELL ? 0 : ROUNDS;
  for (let round = 0; round < rounds; round++) {
    hollows = findHollows(frame, ground, level.cells, limits.leastDepth);
    let opened = 0;
    for (const [n, hollow] of hollows.entries()) {
      if ((n & 63) === 0) progress((round + n / hollows.length) / (rounds + 1));
      if (shut.has(keyOf(hollow))) continue;
      const path = leastCut(frame, ground, level.cells, hollow, mapped, limits);
      if (!path) {
        shut.add(keyOf(hollow));
        continue;
      }
      opened++;
      cuts.push(carve(frame, ground, cut, path));
    }
    if (opened === 0) break;
    level = fillDepressions({ frame, cells: ground });
  }

  const sinkCells = new Uint8Array(ground.length);
  const sinks: WaterChanges['sinks'] = [];
  const leastArea = Math.max(limits.sinkArea, LEAST_SINK_CELLS * frame.cellSize ** 2);
  for (const hollow of hollows) {
    if (hollow.depth < limits.sinkDepth || hollow.area < leastArea) continue;
    if (hollow.roundness < limits.sinkRoundness || !shut.has(keyOf(hollow))) continue;
    sinkCells[hollow.deepest] = 1;
    sinks.push({ at: cellCentre(frame, hollow.deepest), depth: hollow.depth, area: hollow.area });
  }
  sinks.sort((a, b) => b.depth - a.depth);
  const water =
    sinks.length > 0
      ? fillDepressions({ frame, cells: ground }, part(progress, 0.9, 1), sinkCells)
      : { frame, cells: new Float32Array(level.cells) };
  const work = new Uint8Array(ground.length);
  for (let i = 0; i < work.length; i++) {
    if (sinkCells[i] === 1) work[i] = WATER_WORK.keptSink;
    else if (cut[i] === 1) work[i] = WATER_WORK.cut;
    else if (water.cells[i]! > elevation.cells[i]!) work[i] = WATER_WORK.filled;
  }
  progress(1);
  return { water, work: { frame, cells: work }, sinks, cuts };
}

/** A closed hollow of the ground. */
interface Hollow {
  deepest: number;
  /** Elevation it fills to. */
  spill: number;
  depth: number;
  area: number;
  /** Short over long axis of its second moments, 0..1. */
  roundness: number;
}

function findHollows(frame: Frame, ground: Float32Array, filled: Float32Array, leastDepth: number): Hollow[] {
  const { width } = frame;
  const raised = new Uint8Array(ground.length);
  for (let i = 0; i < ground.length; i++) if (filled[i]! > ground[i]!) raised[i] = 1;
  const { labels, patches } = findPatches(frame, raised, 8);
  const sums = patches.map(({ first }) => ({ deepest: first, xx: 0, xy: 0, yy: 0 }));
  for (let i = 0; i < ground.length; i++) {
    const label = labels.cells[i]!;
    if (label === 0) continue;
    const sum = sums[label - 1]!;
    if (ground[i]! < ground[sum.deepest]!) sum.deepest = i;
    const { centre } = patches[label - 1]!;
    const dx = frame.west + ((i % width) + 0.5) * frame.cellSize - centre[0];
    const dy = frame.north - (Math.floor(i / width) + 0.5) * frame.cellSize - centre[1];
    sum.xx += dx * dx;
    sum.xy += dx * dy;
    sum.yy += dy * dy;
  }
  const hollows: Hollow[] = [];
  for (const patch of patches) {
    const { deepest, xx, xy, yy } = sums[patch.label - 1]!;
    const depth = filled[deepest]! - ground[deepest]!;
    if (depth < leastDepth) continue;
    const half = (xx + yy) / 2;
    const apart = Math.sqrt(Math.max(0, ((xx - yy) / 2) ** 2 + xy * xy));
    const roundness = half + apart > 0 ? Math.sqrt(Math.max(0, half - apart) / (half + apart)) : 1;
    hollows.push({ deepest, spill: filled[deepest]!, depth, area: patch.area, roundness });
  }
  // Downstream hollows first: a cut made there may open the next one up.
  return hollows.sort((a, b) => a.spill - b.spill || a.deepest - b.deepest);
}

/**
 * The path of least cutting, cells from the hollow's deepest to the first lower ground, or null when none is
 * within the limits. Cost is the depth cut times the way, plus a little for the way itself.
 */
function leastCut(
  frame: Frame,
  ground: Float32Array,
  filled: Float32Array,
  hollow: Hollow,
  mapped: Uint8Array | null,
  limits: BreachLimits,
): number[] | null {
  const { width, height, cellSize } = frame;
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const bottom = ground[hollow.deepest]!;
  const queue = createQueue64(256);
  const cost = new Map<number, number>([[hollow.deepest, 0]]);
  const before = new Map<number, number>();
  /** Way through the dam so far (not under the hollow's own water), and whether all of it is mapped. */
  const dam = new Map<number, { length: number; mapped: boolean }>([
    [hollow.deepest, { length: 0, mapped: true }],
  ]);
  const settled = new Set<number>();
  queue.push(0, hollow.deepest);
  for (let i = queue.pop(); i >= 0; i = queue.pop()) {
    if (settled.has(i)) continue;
    settled.add(i);
    if (ground[i]! < bottom) {
      const path = [i];
      for (let at = before.get(i); at !== undefined; at = before.get(at)) path.push(at);
      return path.reverse();
    }
    const y = Math.floor(i / width);
    const x = i - y * width;
    const soFar = dam.get(i)!;
    for (let k = 0; k < 8; k++) {
      const column = x + NEIGHBOURS_8.dx[k]!;
      const row = y + NEIGHBOURS_8.dy[k]!;
      if (column < 0 || row < 0 || column >= width || row >= height) continue;
      const j = i + offsets[k]!;
      const z = ground[j]!;
      if (Number.isNaN(z) || settled.has(j)) continue;
      const way = NEIGHBOURS_8.length[k]! * cellSize;
      const underWater = filled[j] === hollow.spill && z < hollow.spill;
      const length = soFar.length + (underWater ? 0 : way);
      const onMap = soFar.mapped && (underWater || (mapped !== null && mapped[j] !== 0));
      if (length > (onMap ? limits.mappedLength : limits.length)) continue;
      if (z - bottom > (onMap ? limits.mappedDepth : limits.depth)) continue;
      const total = queue.key() + way * (Math.max(0, z - bottom) + 0.01);
      if (total >= (cost.get(j) ?? Number.POSITIVE_INFINITY)) continue;
      cost.set(j, total);
      before.set(j, i);
      dam.set(j, { length, mapped: onMap });
      queue.push(total, j);
    }
  }
  return null;
}

/** Lowers the path to an even fall from its start to its end; ground already lower stays. */
function carve(
  frame: Frame,
  ground: Float32Array,
  cut: Uint8Array,
  path: number[],
): WaterChanges['cuts'][number] {
  const top = ground[path[0]!]!;
  const end = ground[path[path.length - 1]!]!;
  let depth = 0;
  let length = 0;
  let from = -1;
  let to = -1;
  for (const [n, i] of path.entries()) {
    const z = top + ((end - top) * n) / (path.length - 1);
    if (!(ground[i]! > z)) continue;
    if (from < 0) from = i;
    to = i;
    depth = Math.max(depth, ground[i]! - z);
    length += frame.cellSize;
    ground[i] = z;
    cut[i] = 1;
  }
  return {
    from: cellCentre(frame, from < 0 ? path[0]! : from),
    to: cellCentre(frame, to < 0 ? path[0]! : to),
    depth,
    length,
  };
}
