import { cellAt, type Grid, type Point } from '../grid/frame.ts';
import { NEIGHBOURS_8 } from '../grid/neighbours.ts';
import { simplifyPath } from '../grid/simplify.ts';
import type { Carry, Pool } from './types.ts';

/** Slower air does not carry scent anywhere in the time a hunter sits, m/s: our assumption. */
const STILL = 0.05;
/** A path is followed no farther than this, m. */
const FARTHEST = 20_000;

/** The night's air at the property's frame, as the steps make it. */
export interface NightAir {
  /** Pools and sliding layer together, m. */
  coldAir: Grid;
  poolDepth: Grid;
  /** m/s. */
  airSpeed: Grid;
  /** Degrees clockwise from grid north it moves towards. */
  airBearing: Grid;
  pools: readonly Pool[];
}

/**
 * Follows the night's air from a spot, half a cell a step, until it leaves the map, comes to rest in a pool that
 * is at least half of the cold air there, or stands still. A shallower pool is slid over.
 *
 * @throws Error when the spot lies outside the frame
 */
export function carryFrom(from: Point, air: NightAir): Carry {
  const { coldAir, poolDepth, airSpeed, airBearing, pools } = air;
  const { frame } = coldAir;
  const start = cellAt(frame, from[0], from[1]);
  if (start < 0) throw new Error(`no air is known at ${from[0]}, ${from[1]}: it lies outside the frame`);
  const step = frame.cellSize / 2;
  const path: Point[] = [from];
  // Air that turns in on itself is at rest: a straight line passes a cell in three steps at most.
  const passes = new Map<number, number>();
  let [x, y] = from;
  let i = start;
  let length = 0;
  let ends: Carry['ends'] = 'stagnant';
  let pool: string | null = null;
  while (length < FARTHEST) {
    const still = poolDepth.cells[i]!;
    if (still > 0 && still >= coldAir.cells[i]! / 2) {
      ends = 'pool';
      pool = poolAt(pools, i, poolDepth);
      break;
    }
    if (!(airSpeed.cells[i]! >= STILL)) break;
    const count = (passes.get(i) ?? 0) + 1;
    if (count > 6) break;
    passes.set(i, count);
    const bearing = (airBearing.cells[i]! * Math.PI) / 180;
    x += step * Math.sin(bearing);
    y += step * Math.cos(bearing);
    length += step;
    i = cellAt(frame, x, y);
    path.push([x, y]);
    if (i < 0 || Number.isNaN(airSpeed.cells[i]!)) {
      ends = 'map edge';
      break;
    }
  }
  return {
    from,
    path: simplifyPath(path, step),
    length,
    layerDepth: Math.max(0, coldAir.cells[start]! - poolDepth.cells[start]!),
    speed: airSpeed.cells[start]!,
    ends,
    pool,
    spills: pools.find(({ id, full }) => id === pool && full)?.sill ?? null,
  };
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
