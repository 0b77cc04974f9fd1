import { FOOT } from '../features/units.ts';
import { assertOnFrame, type Grid, type Point } from '../grid/frame.ts';
import { simplifyPath } from '../grid/simplify.ts';
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
 * Contour lines through the cell centres by marching squares, all levels in one pass over the grid: each square
 * of four centres adds its pieces level by level, and pieces are strung together by the grid edge they share.
 * Lines run with the higher ground on their left, are closed where they can be (last point equal to first), and
 * end at the map's edge and beside no data.
 *
 * @param interval m; every level that is a whole multiple of it, each fifth an index contour
 * @param tolerance straightens each line (Douglas-Peucker), m
 */
export function contourLines(elevation: Grid, interval: number, tolerance = 0): ContourLine[] {
  const { frame, cells } = elevation;
  assertOnFrame(frame, elevation);
  if (!(interval > 0)) throw new Error(`a contour interval must be above 0, got ${interval}`);
  const range = elevationRange(elevation);
  if (!range) return [];
  const first = Math.ceil(range[0] / interval);
  const last = Math.floor(range[1] / interval);
  if (last < first) return [];

  const pieces = marchSquares(elevation, interval, first, last);
  const { starts, from, to } = pieces;
  const next = new Int32Array(2 * cells.length).fill(-1);
  const hasPrevious = new Uint8Array(2 * cells.length);
  const lines: ContourLine[] = [];
  for (let n = 0; n <= last - first; n++) {
    const level = (first + n) * interval;
    const begin = starts[n]!;
    const end = starts[n + 1]!;
    for (let p = begin; p < end; p++) {
      next[from[p]!] = to[p]!;
      hasPrevious[to[p]!] = 1;
    }
    const paths: Point[][] = [];
    // Open lines first, from the pieces nothing leads to; what is left is closed.
    for (const open of [true, false]) {
      for (let p = begin; p < end; p++) {
        const start = from[p]!;
        if (next[start]! < 0 || (open && hasPrevious[start] === 1)) continue;
        const path: Point[] = [];
        let edge = start;
        for (;;) {
          const point = crossingOf(elevation, edge, level);
          const before = path[path.length - 1];
          if (!before || before[0] !== point[0] || before[1] !== point[1]) path.push(point);
          const following = next[edge]!;
          next[edge] = -1;
          if (following < 0) break;
          edge = following;
        }
        // A ring around a single cell that is exactly on the level shrinks to its centre.
        if (path.length > 1) paths.push(simplifyPath(path, tolerance));
      }
    }
    for (let p = begin; p < end; p++) hasPrevious[to[p]!] = 0;
    if (paths.length > 0) lines.push({ elevation: level, index: (first + n) % 5 === 0, paths });
  }
  return lines;
}

/**
 * Edges are numbered by the cell at their west or north end: 2i runs east from cell i, 2i + 1 south.
 * For each pattern of corners at or above the level (bits: 1 north-west, 2 north-east, 4 south-east, 8
 * south-west) the sides that pieces enter and leave by, higher ground on the left. Sides: 0 north, 1 east,
 * 2 south, 3 west.
 */
const PATTERNS: readonly (readonly number[])[] = [
  [],
  [3, 0],
  [0, 1],
  [3, 1],
  [1, 2],
  [3, 0, 1, 2],
  [0, 2],
  [3, 2],
  [2, 3],
  [2, 0],
  [0, 1, 2, 3],
  [2, 1],
  [1, 3],
  [1, 0],
  [0, 3],
  [],
];

interface Pieces {
  /** Where the pieces of each level start. */
  starts: Int32Array;
  from: Int32Array;
  to: Int32Array;
}

function marchSquares(elevation: Grid, interval: number, first: number, last: number): Pieces {
  const { frame, cells } = elevation;
  const { width, height } = frame;
  const levels = last - first + 1;
  const counts = new Int32Array(levels + 1);
  let size = 1 << 16;
  let level = new Int32Array(size);
  let from = new Int32Array(size);
  let to = new Int32Array(size);
  let used = 0;
  const sides = new Int32Array(4);

  for (let y = 0; y < height - 1; y++) {
    for (let x = 0, i = y * width; x < width - 1; x++, i++) {
      const nw = cells[i]!;
      const ne = cells[i + 1]!;
      const sw = cells[i + width]!;
      const se = cells[i + width + 1]!;
      const low = Math.min(nw, ne, sw, se);
      if (Number.isNaN(low)) continue;
      const high = Math.max(nw, ne, sw, se);
      // A corner counts as above when it is at the level, so the lowest level is the first above `low`.
      let n = Math.floor(low / interval);
      while (n * interval <= low) n++;
      if (n * interval > high) continue;
      sides[0] = 2 * i;
      sides[1] = 2 * (i + 1) + 1;
      sides[2] = 2 * (i + width);
      sides[3] = 2 * i + 1;
      for (; n <= last; n++) {
        const z = n * interval;
        if (z > high) break;
        const pattern = (nw >= z ? 1 : 0) | (ne >= z ? 2 : 0) | (se >= z ? 4 : 0) | (sw >= z ? 8 : 0);
        const piece = PATTERNS[pattern]!;
        if (used + 2 > size) {
          size *= 2;
          level = grown(level, size);
          from = grown(from, size);
          to = grown(to, size);
        }
        for (let k = 0; k < piece.length; k += 2) {
          level[used] = n - first;
          from[used] = sides[piece[k]!]!;
          to[used] = sides[piece[k + 1]!]!;
          used++;
          counts[n - first + 1]!++;
        }
      }
    }
  }
  for (let n = 1; n <= levels; n++) counts[n]! += counts[n - 1]!;
  const sortedFrom = new Int32Array(used);
  const sortedTo = new Int32Array(used);
  const at = counts.slice();
  for (let p = 0; p < used; p++) {
    const place = at[level[p]!]!++;
    sortedFrom[place] = from[p]!;
    sortedTo[place] = to[p]!;
  }
  return { starts: counts, from: sortedFrom, to: sortedTo };
}

function grown(old: Int32Array<ArrayBuffer>, size: number): Int32Array<ArrayBuffer> {
  const bigger = new Int32Array(size);
  bigger.set(old);
  return bigger;
}

/** Where the level crosses a grid edge, in a straight line between its two cell centres. */
function crossingOf(elevation: Grid, edge: number, level: number): Point {
  const { frame, cells } = elevation;
  const i = edge >> 1;
  const y = Math.floor(i / frame.width);
  const x = i - y * frame.width;
  const south = edge & 1;
  const a = cells[i]!;
  const b = cells[south ? i + frame.width : i + 1]!;
  const t = (level - a) / (b - a);
  return [
    frame.west + (x + 0.5 + (south ? 0 : t)) * frame.cellSize,
    frame.north - (y + 0.5 + (south ? t : 0)) * frame.cellSize,
  ];
}
