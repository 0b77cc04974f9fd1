import { cellAt, cellCentre, type Grid, type Point } from '../grid/frame.ts';
import { NEIGHBOURS_8 } from '../grid/neighbours.ts';
import { pathLength, simplifyPath } from '../grid/simplify.ts';
import type { Carry, Pool } from './types.ts';

/** Slower air does not carry scent anywhere in the time a hunter sits, m/s: our assumption. */
const STILL = 0.05;

/** The night's air at the property's frame, as the steps make it. */
export interface NightAir {
  /** Codes 1..8 clockwise from east of each cell's receiver. */
  flowDirection: Grid<Uint8Array>;
  /** Pools and sliding layer together, m. */
  coldAir: Grid;
  poolDepth: Grid;
  /** Speed of the sliding layer, m/s. */
  airSpeed: Grid;
  pools: readonly Pool[];
}

/**
 * Follows the drainage from a spot until it leaves the map, comes to rest in a pool at least as deep as the layer
 * that brings it, or stands still. A shallower pool is slid over.
 *
 * @throws Error when the spot lies outside the frame
 */
export function carryFrom(from: Point, air: NightAir): Carry {
  const { flowDirection, coldAir, poolDepth, airSpeed, pools } = air;
  const { frame } = flowDirection;
  const { width, height } = frame;
  let i = cellAt(frame, from[0], from[1]);
  if (i < 0) throw new Error(`no air is known at ${from[0]}, ${from[1]}: it lies outside the frame`);
  const layerDepth = Math.max(0, coldAir.cells[i]! - poolDepth.cells[i]!);
  const speed = airSpeed.cells[i]!;
  const path: Point[] = [from];
  let ends: Carry['ends'] = 'stagnant';
  let pool: string | null = null;
  // A path of directions cannot be longer than the map unless it runs in a circle, which it never does.
  for (let steps = 0; steps < width * height; steps++) {
    const still = poolDepth.cells[i]!;
    if (still > 0 && still >= coldAir.cells[i]! - still) {
      ends = 'pool';
      pool = poolAt(pools, i, poolDepth);
      break;
    }
    if (!(airSpeed.cells[i]! >= STILL)) break;
    const x = i % width;
    const y = (i - x) / width;
    const direction = flowDirection.cells[i]!;
    const edge = x === 0 || y === 0 || x === width - 1 || y === height - 1;
    if (direction < 1 || direction > 8) {
      if (edge || direction === 0 || besideNothing(i)) ends = 'map edge';
      break;
    }
    const cx = x + NEIGHBOURS_8.dx[direction - 1]!;
    const cy = y + NEIGHBOURS_8.dy[direction - 1]!;
    if (cx < 0 || cy < 0 || cx >= width || cy >= height) {
      ends = 'map edge';
      break;
    }
    i = cy * width + cx;
    path.push(cellCentre(frame, i));
  }
  const line = simplifyPath(path, frame.cellSize / 2);
  return { from, path: line, length: pathLength(line), layerDepth, speed, ends, pool };

  function besideNothing(at: number): boolean {
    for (let k = 0; k < 8; k++) {
      const j = at + NEIGHBOURS_8.dx[k]! + NEIGHBOURS_8.dy[k]! * width;
      if (flowDirection.cells[j] === 0) return true;
    }
    return false;
  }
}

/** The pool whose deepest cell is joined to this one by cells that hold still air. */
function poolAt(pools: readonly Pool[], from: number, depth: Grid): string | null {
  const { frame, cells } = depth;
  const deepest = new Map(pools.map((pool) => [cellAt(frame, pool.at[0], pool.at[1]), pool.id]));
  const seen = new Set([from]);
  for (const i of seen) {
    const found = deepest.get(i);
    if (found !== undefined) return found;
    const x = i % frame.width;
    const y = (i - x) / frame.width;
    for (let k = 0; k < 8; k++) {
      const cx = x + NEIGHBOURS_8.dx[k]!;
      const cy = y + NEIGHBOURS_8.dy[k]!;
      if (cx < 0 || cy < 0 || cx >= frame.width || cy >= frame.height) continue;
      if (cells[cy * frame.width + cx]! > 0) seen.add(cy * frame.width + cx);
    }
  }
  return null;
}
