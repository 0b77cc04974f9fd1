import type { Point } from '../grid/frame.ts';
import type { Stood } from './screen-growth.ts';

/** One look from an eye to what it looks for, over ground that is known. */
export interface ScreenLook {
  from: Point;
  /** Elevation of the eye and of what is looked for, m. */
  eye: number;
  to: Point;
  target: number;
  weight: number;
  /** Share of the view left without the screen, 0..1. */
  open: number;
}

/** Where a look passes a screen. */
export interface Passed {
  /** Height of the line of the look over the ground there, m. */
  over: number;
  /** m of the planting on the way, by its width and the angle it is met at. */
  through: number;
}

/** A screen is never looked along for more than so many times its width. */
const MOST = 5;

/**
 * Every place where a look passes a screen.
 *
 * @param ground elevation at a place, m; NaN where unknown, and then the screen there counts for nothing
 * @param width of the planting, m
 */
export function passedBy(
  { from, eye, to, target }: Pick<ScreenLook, 'from' | 'eye' | 'to' | 'target'>,
  line: readonly Point[],
  ground: (at: Point) => number,
  width: number,
): Passed[] {
  const [rx, ry] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.hypot(rx, ry);
  const passed: Passed[] = [];
  for (let j = 1; j < line.length; j++) {
    const [qx, qy] = line[j - 1]!;
    const [sx, sy] = [line[j]![0] - qx, line[j]![1] - qy];
    const cross = rx * sy - ry * sx;
    if (cross === 0) continue;
    const t = ((qx - from[0]) * sy - (qy - from[1]) * sx) / cross;
    const u = ((qx - from[0]) * ry - (qy - from[1]) * rx) / cross;
    // Half-open, so that a corner on the look counts once.
    if (t < 0 || t > 1 || u < 0 || u >= 1) continue;
    const over = eye + (target - eye) * t - ground([from[0] + t * rx, from[1] + t * ry]);
    if (Number.isNaN(over)) continue;
    const sine = Math.abs(cross) / (length * Math.hypot(sx, sy));
    passed.push({ over, through: width / Math.max(sine, 1 / MOST) });
  }
  return passed;
}

/** Share of a look that is left by a screen as it stands (Beer's law), without what was lost already. */
export function leftBy(passed: readonly Passed[], { height, depth }: Stood): number {
  const metres = passed.reduce((sum, { over, through }) => sum + (over < height ? through : 0), 0);
  return Math.exp(-depth * metres);
}
