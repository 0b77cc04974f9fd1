import { assertOnFrame, cellCount, type Frame, type Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { airFactor, blockMean, coarserFrame, refine } from './air-grid.ts';
import { DRAG } from './bulk.ts';
import { type ColdLayer, emptyLayer, layerWind, runLayer } from './shallow.ts';

export interface Night {
  /** On the property's frame: depth of moving and still air together, m. */
  depth: Grid;
  /** m/s. */
  speed: Grid;
  /** Degrees clockwise from grid north it moves towards; NaN where it stands. */
  bearing: Grid;
  /** Cold air that stands over a hollow, given by its cells, at the end of the night, m3. */
  standing(hollow: Int32Array): number;
  /** Cold air made over each m2 of ground through the whole night, what is drawn in from above with it, m. */
  made: number;
  /** Share of its air the layer changes in ten minutes at the end. */
  unrest: number;
}

/** The layer is looked at this often, s. */
const LOOK = 600;
/** The night goes on as it is once less than this share of the air changes in ten minutes. */
const STEADY = 0.01;
/** Slower air has no direction worth drawing, m/s. */
const STILL = 0.02;

/**
 * A clear calm night: the ground loses heat, the air on it cools and runs (`runLayer`), for so many hours. Worked
 * on air cells of about 25 m: first on cells twice as large until the layer is steady or half the night is over,
 * then on the cells themselves. Once steady the rest of the night only adds up what is made.
 *
 * @param elevation ground as surveyed, m: road fills and sills dam the air; NaN no data
 * @param cover COVER codes, for the drag; 0 unknown
 * @param cooling net loss of heat of the ground, W/m2
 * @param hours of cooling
 */
export function nightDrainage(
  elevation: Grid,
  cover: Grid<Uint8Array>,
  cooling: number,
  hours: number,
  progress: Progress = silent,
): Night {
  const { frame } = elevation;
  assertOnFrame(frame, elevation, cover);
  const factor = airFactor(frame);
  const dragOf = Float32Array.from(cover.cells, (code) => DRAG[code] ?? DRAG[0]!);
  const stage = (by: number) => {
    const airFrame = coarserFrame(frame, by);
    return {
      ground: blockMean(elevation, airFrame),
      drag: blockMean({ frame, cells: dragOf }, airFrame).cells,
      loss: new Float32Array(cellCount(airFrame)).fill(cooling),
    };
  };
  const night = hours * 3600;
  const coarse = stage(2 * factor);
  let layer = emptyLayer(coarse.loss.length);
  untilSteady(layer, coarse, night / 2, (share) => progress(0.2 * share));
  const fine = stage(factor);
  layer = onFinerCells(layer, coarse.ground, fine.ground);
  const { unrest, drawing } = untilSteady(layer, fine, night, (share) => progress(0.2 + 0.7 * share));
  const remaining = night - layer.time;

  const airFrame = fine.ground.frame;
  let known = 0;
  for (const z of fine.ground.cells) if (!Number.isNaN(z)) known++;
  const wind = layerWind(layer, airFrame.width);
  const east = refine({ frame: airFrame, cells: wind.east }, frame).cells;
  const south = refine({ frame: airFrame, cells: wind.south }, frame).cells;
  const depth = depthAbove(elevation, fine.ground, layer);
  const speed = new Float32Array(depth.cells.length);
  const bearing = new Float32Array(speed.length);
  for (let i = 0; i < speed.length; i++) {
    if (Number.isNaN(elevation.cells[i]!)) {
      speed[i] = bearing[i] = Number.NaN;
      continue;
    }
    speed[i] = Math.hypot(east[i]!, south[i]!);
    bearing[i] =
      speed[i]! < STILL ? Number.NaN : (Math.atan2(east[i]!, -south[i]!) * (180 / Math.PI) + 360) % 360;
  }
  progress(1);
  return {
    depth,
    speed: { frame, cells: speed },
    bearing: { frame, cells: bearing },
    unrest,
    made: known > 0 ? (layer.drawnIn + drawing * remaining) / (known * airFrame.cellSize ** 2) : 0,
    standing(hollow) {
      let held = 0;
      for (const cell of hollow) held += depth.cells[cell]! * frame.cellSize ** 2;
      return held;
    },
  };
}

interface Stage {
  ground: Grid;
  drag: Float32Array;
  loss: Float32Array;
}

/** Runs a layer until it is steady or the given time is reached; `drawing` is what it draws in at the end, m3/s. */
function untilSteady(
  layer: ColdLayer,
  { ground, loss, drag }: Stage,
  until: number,
  progress: Progress,
): { unrest: number; drawing: number } {
  let unrest = 1;
  const before = layer.depth.slice();
  let drawing = 0;
  while (layer.time < until - 1e-6 && unrest > STEADY) {
    before.set(layer.depth);
    const span = Math.min(LOOK, until - layer.time);
    const drawn = layer.drawnIn;
    runLayer(layer, ground, loss, drag, span);
    drawing = (layer.drawnIn - drawn) / span;
    let change = 0;
    let held = 0;
    for (let i = 0; i < before.length; i++) {
      change += Math.abs(layer.depth[i]! - before[i]!);
      held += layer.depth[i]!;
    }
    unrest = held > 0 ? (change / held) * (LOOK / span) : 0;
    progress(layer.time / until);
  }
  return { unrest, drawing };
}

/** The same layer on finer cells: its top carried over, its deficit kept, its flow to be found anew. */
function onFinerCells(layer: ColdLayer, coarse: Grid, fine: Grid): ColdLayer {
  const finer = emptyLayer(fine.cells.length);
  const top = refine({ frame: coarse.frame, cells: topOf(coarse, layer) }, fine.frame).cells;
  const { width } = fine.frame;
  for (let i = 0; i < finer.depth.length; i++) {
    if (Number.isNaN(fine.cells[i]!)) continue;
    const row = Math.floor(Math.floor(i / width) / 2);
    const j = row * coarse.frame.width + Math.floor((i % width) / 2);
    finer.depth[i] = Math.max(0, top[i]! - fine.cells[i]!);
    finer.deficit[i] = layer.depth[j]! > 0 ? (layer.deficit[j]! / layer.depth[j]!) * finer.depth[i]! : 0;
  }
  finer.time = layer.time;
  finer.drawnIn = layer.drawnIn;
  return finer;
}

const topOf = (ground: Grid, layer: ColdLayer): Float32Array =>
  Float32Array.from(ground.cells, (z, i) => z + layer.depth[i]!);

/** Depth of the layer above the finer ground of the property. */
function depthAbove(elevation: Grid, ground: Grid, layer: ColdLayer): Grid {
  const frame: Frame = elevation.frame;
  const depth = refine({ frame: ground.frame, cells: topOf(ground, layer) }, frame);
  for (let i = 0; i < depth.cells.length; i++)
    depth.cells[i] = Math.max(0, depth.cells[i]! - elevation.cells[i]!);
  return depth;
}
