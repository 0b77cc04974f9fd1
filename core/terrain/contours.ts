import { FOOT } from '../features/units.ts';
import { assertOnFrame, type Grid, type Point } from '../grid/frame.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { keepPoints } from '../grid/simplify.ts';
import { type Crossings, findCrossings } from './crossings.ts';
import type { ContourLine } from './types.ts';

/** Steps a map reader expects, in the map's own unit. */
const METRE_STEPS = [0.5, 1, 2, 5, 10, 20, 50, 100];
const FOOT_STEPS = [2, 5, 10, 20, 50, 100, 200].map((feet) => feet * FOOT);
/** Contours over the whole relief at most, when the tool chooses: more are a grey blur on a page. */
const MOST_LEVELS = 40;

/** Lowest and highest elevation, or null where there is no data at all. */
export function elevationRange(elevation: Grid): [number, number] | null {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const z of elevation.cells) {
    if (z < low) low = z;
    if (z > high) high = z;
  }
  return low <= high ? [low, high] : null;
}

/** The smallest usual step that keeps the relief within 40 levels, m (common practice, no source). */
export function chooseInterval(elevation: Grid, units: 'us' | 'metric'): number {
  const steps = units === 'us' ? FOOT_STEPS : METRE_STEPS;
  const range = elevationRange(elevation);
  const relief = range ? range[1] - range[0] : 0;
  return steps.find((step) => relief / step <= MOST_LEVELS) ?? steps[steps.length - 1]!;
}

/**
 * Contour lines through the cell centres by marching squares, all levels in one sweep over the grid. Each side of
 * a square of four centres is crossed by the levels between its ends; a crossing is worked out once, and each
 * square ties the crossings on its sides together. What is kept grows with the lines and not with the grid.
 *
 * Lines run with the higher ground on their left, are closed where they can be (last point equal to first), and
 * end at the map's edge and beside no data.
 *
 * @param interval m; every level that is a whole multiple of it, each fifth an index contour
 * @param tolerance straightens each line (Douglas-Peucker), m; less where the ground is so steep that neighbouring
 *   lines might touch, so that lines never cross
 */
export function contourLines(
  elevation: Grid,
  interval: number,
  tolerance = 0,
  progress: Progress = silent,
): ContourLine[] {
  assertOnFrame(elevation.frame, elevation);
  if (!(interval > 0)) throw new Error(`a contour interval must be above 0, got ${interval}`);
  const crossings = findCrossings(elevation, interval, tolerance, part(progress, 0, 0.6));
  const { size, level, next, follows } = crossings;
  const line = roomFor(256);
  const byLevel = new Map<number, Point[][]>();
  // Open lines first, from the crossings nothing leads to; what is left is closed.
  for (const open of [true, false]) {
    for (let start = 0; start < size; start++) {
      if ((start & 0xffff) === 0) progress(0.6 + (open ? 0.2 : 0.4) * (start / size));
      if (next[start] === 0 || (open && follows[start] === 1)) continue;
      const path = trace(crossings, start, tolerance, line);
      if (path.length < 2) continue;
      const paths = byLevel.get(level[start]!);
      if (paths) paths.push(path);
      else byLevel.set(level[start]!, [path]);
    }
  }
  return [...byLevel]
    .sort(([a], [b]) => a - b)
    .map(([n, paths]) => ({ elevation: n * interval, index: n % 5 === 0, paths }));
}

/** The line being followed; made once and made longer as needed. */
interface Line {
  xs: Float64Array<ArrayBuffer>;
  ys: Float64Array<ArrayBuffer>;
  weights: Float64Array<ArrayBuffer>;
  keep: Uint8Array<ArrayBuffer>;
}

/** Follows a contour from a crossing and unties it, so that it is not followed again. */
function trace(crossings: Crossings, start: number, tolerance: number, line: Line): Point[] {
  const { places, next } = crossings;
  let { xs, ys, weights } = line;
  let n = 0;
  let lastX = Number.NaN;
  let lastY = Number.NaN;
  for (let c = start; c >= 0; ) {
    const x = places[3 * c]!;
    const y = places[3 * c + 1]!;
    if (n === xs.length) ({ xs, ys, weights } = lengthen(line));
    // A line through a cell centre that lies on the level crosses all lines from it at the same place.
    if (x !== lastX || y !== lastY) {
      xs[n] = lastX = x;
      ys[n] = lastY = y;
      weights[n++] = places[3 * c + 2]!;
    }
    const following = next[c]! - 1;
    next[c] = 0;
    c = following;
  }
  const { keep } = line;
  if (tolerance > 0 && n > 2) keepPoints(xs, ys, weights, n, keep);
  else keep.fill(1, 0, n);
  const path: Point[] = [];
  for (let i = 0; i < n; i++) if (keep[i] === 1) path.push([xs[i]!, ys[i]!]);
  return path;
}

function lengthen(line: Line): Line {
  const longer = roomFor(2 * line.xs.length);
  for (const name of ['xs', 'ys', 'weights'] as const) longer[name].set(line[name]);
  return Object.assign(line, longer);
}

const roomFor = (points: number): Line => ({
  xs: new Float64Array(points),
  ys: new Float64Array(points),
  weights: new Float64Array(points),
  keep: new Uint8Array(points),
});
