import { cellCentre, type Grid, type Point } from '../grid/frame.ts';
import { pathLength, simplifyPath } from '../grid/simplify.ts';
import { type Reach, stemsOf } from './reaches.ts';
import { sampleAt } from './sample.ts';
import type { Draw } from './types.ts';

/** How far to each side of the axis the shoulders are looked for, m, and at least 3 cells (our choice). */
const SHOULDER_SEARCH = 60;
/** A hollow shallower than this on the mean is no draw, m (our choice). */
const LEAST_DEPTH = 1.5;
const SHORTEST = 60;
/** Draws feed creeks: stretches above this Strahler order count as creek bottom, not draw. */
const HIGHEST_DRAW_ORDER = 2;

/**
 * Draws: the upper courses of the drainage net that lie in a hollow of their own. The shoulder on a side is where
 * the cross-section first stops climbing (or the end of the search), and the depth at a place is to the lower
 * of the two shoulders.
 */
export function findDraws(reaches: readonly Reach[], elevation: Grid): Draw[] {
  const { frame, cells } = elevation;
  const draws: Draw[] = [];
  const shortest = Math.max(SHORTEST, 3 * frame.cellSize);
  for (const stem of stemsOf(reaches, 'area')) {
    const upper = stem.reaches.filter((r) => reaches[r]!.order <= HIGHEST_DRAW_ORDER);
    if (upper.length === 0) continue;
    // Orders only rise downstream, so the upper reaches are the first of the stem.
    const course: number[] = [];
    for (const r of upper)
      for (const i of reaches[r]!.cells) if (course[course.length - 1] !== i) course.push(i);
    const path = simplifyPath(
      course.map((i) => cellCentre(frame, i)),
      frame.cellSize,
    );
    const length = pathLength(path);
    if (length < shortest) continue;
    const depth = meanDepth(path, length, elevation);
    if (!(depth >= LEAST_DEPTH)) continue;
    const relief = cells[course[0]!]! - cells[course[course.length - 1]!]!;
    draws.push({ id: '', path, length, depth, relief: Math.max(0, relief) });
  }
  draws.sort((a, b) => b.length * b.depth - a.length * a.depth);
  return draws.map((draw, n) => ({ ...draw, id: `draw-${n + 1}` }));
}

function meanDepth(path: readonly Point[], length: number, elevation: Grid): number {
  const { cellSize } = elevation.frame;
  const spacing = Math.max(15, cellSize, length / 60);
  const search = Math.max(SHOULDER_SEARCH, 3 * cellSize);
  let sum = 0;
  let count = 0;
  let walked = spacing / 2; // distance left to the next cross-section
  for (let n = 1; n < path.length; n++) {
    const [ax, ay] = path[n - 1]!;
    const [bx, by] = path[n]!;
    const span = Math.hypot(bx - ax, by - ay);
    while (walked <= span) {
      const x = ax + ((bx - ax) * walked) / span;
      const y = ay + ((by - ay) * walked) / span;
      const z = sampleAt(elevation, x, y);
      const left = shoulderAbove(elevation, x, y, (ay - by) / span, (bx - ax) / span, search);
      const right = shoulderAbove(elevation, x, y, (by - ay) / span, (ax - bx) / span, search);
      const depth = Math.min(left, right) - z;
      if (!Number.isNaN(depth)) {
        sum += depth;
        count++;
      }
      walked += spacing;
    }
    walked -= span;
  }
  return count > 0 ? sum / count : Number.NaN;
}

/** Height of the shoulder along a ray: the highest point before the ground falls off again by a fifth of its rise. */
function shoulderAbove(
  elevation: Grid,
  x: number,
  y: number,
  ux: number,
  uy: number,
  search: number,
): number {
  const step = elevation.frame.cellSize;
  const start = sampleAt(elevation, x, y);
  let highest = start;
  for (let d = step; d <= search; d += step) {
    const z = sampleAt(elevation, x + ux * d, y + uy * d);
    if (Number.isNaN(z)) break;
    if (z > highest) highest = z;
    // The line may run beside the deepest place, so a dip counts only after the ground has climbed.
    else if (highest > start && highest - z > 0.3 + 0.2 * (highest - start)) break;
  }
  return highest;
}
