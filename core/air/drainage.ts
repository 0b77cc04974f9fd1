import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { airFactor, blockMean, coarserFrame, refine } from './air-grid.ts';
import { DRAG } from './bulk.ts';
import { gatherDownhill, type SlidingLayer } from './gather.ts';

export interface Drainage {
  /** On the air frame. */
  layer: SlidingLayer;
  /** Ground the layer slides on, on the air frame, m. */
  ground: Grid;
  /** On the property's frame: depth above the filled ground, m. */
  depth: Grid;
  /** m/s. */
  speed: Grid;
}

/** Turns of gathering and raising the surface; from the eighth on the depth changes by less than a tenth of itself. */
const TURNS = 10;

/**
 * Steady drainage of cold air on a clear calm night. Heat loss is gathered downhill (`gatherDownhill`) over the
 * filled ground, which gives depth and speed by the bulk balance (`bulk.ts`). Where flow gathers in a draw the
 * layer deepens and spreads sideways: the surface is raised by the depth and gathered again, half of the new depth
 * each turn, until ground and air together make the surface the air slides on.
 *
 * @param filled ground with depressions filled, m; NaN no data
 * @param cover COVER codes, for the drag; 0 unknown
 * @param cooling net loss of heat of the ground, W/m2; a number, or one for each cell of the air frame
 */
export function nightDrainage(
  filled: Grid,
  cover: Grid<Uint8Array>,
  cooling: number,
  progress: Progress = silent,
): Drainage {
  const { frame } = filled;
  assertOnFrame(frame, filled, cover);
  const airFrame = coarserFrame(frame, airFactor(frame));
  const ground = blockMean(filled, airFrame);
  const drag = blockMean(
    { frame, cells: Float32Array.from(cover.cells, (code) => DRAG[code] ?? DRAG[0]!) },
    airFrame,
  ).cells;
  const loss = new Float32Array(ground.cells.length).fill(cooling);
  const layer = settleLayer(ground, loss, drag, progress);

  const top = Float32Array.from(ground.cells, (z, i) => z + layer.depth[i]!);
  const depth = refine({ frame: airFrame, cells: top }, frame);
  for (let i = 0; i < depth.cells.length; i++)
    depth.cells[i] = Math.max(0, depth.cells[i]! - filled.cells[i]!);
  const speed = refine({ frame: airFrame, cells: layer.speed }, frame);
  for (let i = 0; i < speed.cells.length; i++)
    if (Number.isNaN(filled.cells[i]!)) speed.cells[i] = Number.NaN;
  progress(1);
  return { layer, ground, depth, speed };
}

/** Gathers over ground and air together until both agree; the depth of the last turn is the mean of the turns before. */
export function settleLayer(
  ground: Grid,
  loss: Float32Array,
  drag: Float32Array,
  progress: Progress = silent,
): SlidingLayer {
  const surface: Grid = { frame: ground.frame, cells: ground.cells.slice() };
  const depth = new Float32Array(ground.cells.length);
  let layer = gatherDownhill(surface, loss, drag);
  for (let turn = 1; turn <= TURNS; turn++) {
    for (let i = 0; i < depth.length; i++) {
      depth[i] = turn === 1 ? layer.depth[i]! : 0.5 * (depth[i]! + layer.depth[i]!);
      surface.cells[i] = ground.cells[i]! + depth[i]!;
    }
    layer = gatherDownhill(surface, loss, drag);
    progress((0.9 * turn) / TURNS);
  }
  layer.depth.set(depth);
  return layer;
}
