import type { Frame, Grid } from '../grid/frame.ts';
import { createQueue32 } from '../grid/monotone-queue.ts';
import { indexOffsets, NEIGHBOURS_8 } from '../grid/neighbours.ts';
import { drawnIn, layerSpeed } from './bulk.ts';

/** The sliding layer at the end of one sweep downhill; grids on the air frame, NaN no data. */
export interface SlidingLayer {
  /** m. */
  depth: Float32Array;
  /** m/s. */
  speed: Float32Array;
  /** Direction it slides, east and south parts of a unit vector; 0, 0 where still. */
  east: Float32Array;
  south: Float32Array;
  /** Heat lost uphill and here, W. */
  heat: Float64Array;
  /** Air that passes, m3/s. */
  volume: Float64Array;
  /** What leaves over the edge of the map and into no data: W and m3/s. */
  heatOut: number;
  volumeOut: number;
  /** All air drawn in from above, m3/s. */
  volumeIn: number;
}

/** The way air parts among lower neighbours: shares go with slope to this power (Freeman 1991). */
const SPREAD = 1.1;

/**
 * Gathers heat loss and air down a surface: cells are flooded from the outlets in (priority-flood, Barnes, Lehman
 * & Mulla 2014), then handled from the last flooded to the first, each passing all it has to its lower neighbours
 * in proportion to slope^1.1 (Freeman, Computers & Geosciences 17, 1991). A cell with no lower neighbour passes
 * to the cell it was flooded from, so depressions overflow at their sill and nothing is lost: the sums at the
 * outlets equal the sources.
 *
 * @param surface the top of the ground or of the air, m; NaN no data
 * @param loss heat lost by each cell, W/m2, at least 0
 * @param drag of each cell
 */
export function gatherDownhill(surface: Grid, loss: Float32Array, drag: Float32Array): SlidingLayer {
  const { frame, cells: level } = surface;
  const { width, height, cellSize } = frame;
  const count = level.length;
  const area = cellSize * cellSize;
  const { order, parent, flooded } = floodOrder(frame, level);
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const depth = new Float32Array(count).fill(Number.NaN);
  const speed = new Float32Array(count).fill(Number.NaN);
  const east = new Float32Array(count);
  const south = new Float32Array(count);
  const heat = new Float64Array(count);
  const volume = new Float64Array(count);
  let heatOut = 0;
  let volumeOut = 0;
  let volumeIn = 0;
  const share = new Float64Array(8);

  for (let n = order.length - 1; n >= 0; n--) {
    const i = order[n]!;
    const x = i % width;
    const y = (i - x) / width;
    const here = flooded[i]!;
    let total = 0;
    let steepest = 0;
    let highest = 0;
    for (let k = 0; k < 8; k++) {
      share[k] = 0;
      const cx = x + NEIGHBOURS_8.dx[k]!;
      const cy = y + NEIGHBOURS_8.dy[k]!;
      if (cx < 0 || cy < 0 || cx >= width || cy >= height) continue;
      const there = flooded[i + offsets[k]!]!;
      const slope = (here - there) / (NEIGHBOURS_8.length[k]! * cellSize);
      if (slope > 0) {
        if (slope > steepest) steepest = slope;
        share[k] = slope ** SPREAD;
        total += share[k]!;
      } else if (-slope > highest) highest = -slope;
    }
    const outlet = parent[i]! < 0;
    // Over the edge the ground is taken to go on as it came.
    const slope = steepest > 0 ? steepest : outlet ? highest : 0;
    heat[i]! += loss[i]! * area;
    const v = layerSpeed(heat[i]! / cellSize, slope, drag[i]!);
    const taken = drawnIn(v, slope) * area;
    volume[i]! += taken;
    volumeIn += taken;
    speed[i] = v;
    depth[i] = v > 0 ? volume[i]! / (cellSize * v) : 0;
    if (total > 0) {
      let ex = 0;
      let so = 0;
      for (let k = 0; k < 8; k++) {
        if (share[k] === 0) continue;
        const part = share[k]! / total;
        const j = i + offsets[k]!;
        heat[j]! += part * heat[i]!;
        volume[j]! += part * volume[i]!;
        ex += (part * NEIGHBOURS_8.dx[k]!) / NEIGHBOURS_8.length[k]!;
        so += (part * NEIGHBOURS_8.dy[k]!) / NEIGHBOURS_8.length[k]!;
      }
      const size = Math.hypot(ex, so);
      if (size > 0) {
        east[i] = ex / size;
        south[i] = so / size;
      }
    } else if (!outlet) {
      const j = parent[i]!;
      heat[j]! += heat[i]!;
      volume[j]! += volume[i]!;
      const dx = (j % width) - x;
      const dy = (j - (j % width)) / width - y;
      const size = Math.hypot(dx, dy);
      east[i] = dx / size;
      south[i] = dy / size;
    } else {
      heatOut += heat[i]!;
      volumeOut += volume[i]!;
    }
  }
  return { depth, speed, east, south, heat, volume, heatOut, volumeOut, volumeIn };
}

/** Cells in the order they are flooded from the outlets, the cell each was flooded from (-1 at an outlet), and the flood level. */
function floodOrder(
  frame: Frame,
  level: Float32Array,
): { order: Int32Array; parent: Int32Array; flooded: Float32Array } {
  const { width, height } = frame;
  const count = level.length;
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const parent = new Int32Array(count).fill(-2);
  const flooded = level.slice();
  const order = new Int32Array(count);
  const queue = createQueue32(4 * (width + height) + 1024);
  let known = 0;
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (Number.isNaN(level[i]!)) continue;
      known++;
      let outlet = x === 0 || y === 0 || x === width - 1 || y === height - 1;
      for (let k = 0; k < 8 && !outlet; k++) outlet = Number.isNaN(level[i + offsets[k]!]!);
      if (outlet) {
        parent[i] = -1;
        queue.push(level[i]!, i);
      }
    }
  }
  let n = 0;
  for (;;) {
    const i = queue.pop();
    if (i < 0) break;
    order[n++] = i;
    const x = i % width;
    const y = (i - x) / width;
    for (let k = 0; k < 8; k++) {
      const cx = x + NEIGHBOURS_8.dx[k]!;
      const cy = y + NEIGHBOURS_8.dy[k]!;
      if (cx < 0 || cy < 0 || cx >= width || cy >= height) continue;
      const j = i + offsets[k]!;
      if (parent[j] !== -2 || Number.isNaN(level[j]!)) continue;
      parent[j] = i;
      if (flooded[j]! < flooded[i]!) flooded[j] = flooded[i]!;
      queue.push(flooded[j]!, j);
    }
  }
  return { order: order.subarray(0, known), parent, flooded };
}
