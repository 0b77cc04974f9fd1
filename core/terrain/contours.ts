import { FOOT } from '../features/units.ts';
import { assertOnFrame, type Frame, type Grid, type Point } from '../grid/frame.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { keepPoints } from '../grid/simplify.ts';
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
  const { size, level, next, hasPrevious } = crossings;
  const line = {
    xs: new Float64Array(256),
    ys: new Float64Array(256),
    weights: new Float64Array(256),
    keep: new Uint8Array(256),
  };
  const byLevel = new Map<number, Point[][]>();
  // Open lines first, from the crossings nothing leads to; what is left is closed.
  for (const open of [true, false]) {
    for (let start = 0; start < size; start++) {
      if ((start & 0xffff) === 0) progress(0.6 + (open ? 0.2 : 0.4) * (start / size));
      if (next[start]! < 0 || (open && hasPrevious[start] === 1)) continue;
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

/** Places where levels cross the lines between neighbouring cell centres, tied to each other along the contours. */
interface Crossings {
  size: number;
  /** Level as a multiple of the interval. */
  level: Int32Array;
  x: Float64Array;
  y: Float64Array;
  /** One over the square of how far a line may be moved here, 1/m². */
  weight: Float32Array;
  /** The next crossing along the contour, -1 at its end, and whether one comes before. */
  next: Int32Array;
  hasPrevious: Uint8Array;
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
  const { next, x, y, weight } = crossings;
  let n = 0;
  for (let c = start; c >= 0; ) {
    if (n === line.xs.length) {
      line.xs = longer(line.xs, 2 * n);
      line.ys = longer(line.ys, 2 * n);
      line.weights = longer(line.weights, 2 * n);
      line.keep = longer(line.keep, 2 * n);
    }
    // A line through a cell centre that lies on the level crosses all lines from it at the same place.
    if (n === 0 || line.xs[n - 1] !== x[c] || line.ys[n - 1] !== y[c]) {
      line.xs[n] = x[c]!;
      line.ys[n] = y[c]!;
      line.weights[n] = weight[c]!;
      n++;
    }
    const following = next[c]!;
    next[c] = -1;
    c = following;
  }
  const { xs, ys, keep } = line;
  if (tolerance > 0 && n > 2) keepPoints(xs, ys, line.weights, n, keep);
  else keep.fill(1, 0, n);
  const path: Point[] = [];
  for (let i = 0; i < n; i++) if (keep[i] === 1) path.push([xs[i]!, ys[i]!]);
  return path;
}

const longer = <A extends Int32Array | Float64Array | Float32Array | Uint8Array>(
  old: A,
  length: number,
): A => {
  const bigger = new (old.constructor as new (length: number) => A)(length);
  bigger.set(old);
  return bigger;
};

/**
 * For each pattern of corners at or above the level (bits: 1 north-west, 2 north-east, 4 south-east, 8
 * south-west) the sides that lines enter and leave by, higher ground on the left. Sides: 0 north, 1 east,
 * 2 south, 3 west; -1 where there is no second line, or none.
 */
// biome-ignore format: a table reads as a table
const TIES = Int8Array.from([
  -1, 0, -1, 0,   3, 0, -1, 0,   0, 1, -1, 0,   3, 1, -1, 0,
  1, 2, -1, 0,    3, 0, 1, 2,    0, 2, -1, 0,   3, 2, -1, 0,
  2, 3, -1, 0,    2, 0, -1, 0,   0, 1, 2, 3,    2, 1, -1, 0,
  1, 3, -1, 0,    1, 0, -1, 0,   0, 3, -1, 0,   -1, 0, -1, 0,
]);
/** Stands for no data among the bands. */
const NO_BAND = -0x80000000;

function findCrossings(elevation: Grid, interval: number, tolerance: number, progress: Progress): Crossings {
  const { frame, cells } = elevation;
  const { width, height, cellSize } = frame;
  const list = createCrossings(frame);
  // The highest level at or below each cell of two rows, and the first crossing on each side of a square:
  // -1 where it was not worked out yet.
  let upper = new Int32Array(width);
  let lower = new Int32Array(width);
  let norths = new Int32Array(width).fill(-1);
  let souths = new Int32Array(width).fill(-1);
  const sides = new Int32Array(4);
  const lows = new Int32Array(4);
  bandsOf(cells, 0, width, interval, lower);
  for (let y = 0; y < height - 1; y++) {
    if ((y & 127) === 0) progress(y / height);
    [upper, lower] = [lower, upper];
    bandsOf(cells, (y + 1) * width, width, interval, lower);
    let west = -1;
    let last = -1; // the last square that lines pass
    let ne = upper[0]!;
    let se = lower[0]!;
    for (let x = 0; x < width - 1; x++) {
      const nw = ne;
      const sw = se;
      ne = upper[x + 1]!;
      se = lower[x + 1]!;
      if (nw === ne && ne === sw && sw === se) continue;
      const low = Math.min(nw, ne, sw, se);
      if (low === NO_BAND) continue;
      const high = Math.max(nw, ne, sw, se);
      const i = y * width + x;
      const z = interval;
      sides[0] = norths[x]! >= 0 ? norths[x]! : list.add(x, y, 0, cells[i]!, cells[i + 1]!, nw, ne, z);
      // A side with both ends between the same levels is crossed by none; its place is never asked for.
      sides[1] = ne === se ? 0 : list.add(x + 1, y, 1, cells[i + 1]!, cells[i + width + 1]!, ne, se, z);
      sides[2] = sw === se ? 0 : list.add(x, y + 1, 0, cells[i + width]!, cells[i + width + 1]!, sw, se, z);
      sides[3] =
        last >= 0 && last === x - 1 ? west : list.add(x, y, 1, cells[i]!, cells[i + width]!, nw, sw, z);
      lows[0] = Math.min(nw, ne);
      lows[1] = Math.min(ne, se);
      lows[2] = Math.min(sw, se);
      lows[3] = Math.min(nw, sw);
      // Within a square that spans k levels lines lie at least cell / (1.41 (k + 1)) apart.
      const room = Math.min(tolerance, cellSize / (2.9 * (high - low + 1)));
      const weight = 1 / (room * room);
      for (let n = low + 1; n <= high; n++) {
        const pattern = (nw >= n ? 1 : 0) | (ne >= n ? 2 : 0) | (se >= n ? 4 : 0) | (sw >= n ? 8 : 0);
        for (let k = pattern << 2; TIES[k]! >= 0; k += 2) {
          const from = TIES[k]!;
          const to = TIES[k + 1]!;
          list.tie(sides[from]! + n - lows[from]! - 1, sides[to]! + n - lows[to]! - 1, weight);
          if (k & 2) break;
        }
      }
      west = sides[1]!;
      last = x;
      souths[x] = sides[2]!;
    }
    [norths, souths] = [souths, norths];
    souths.fill(-1);
  }
  return list.done();
}

/** The highest level at or below each cell of a row, as a multiple of the interval. */
function bandsOf(
  cells: Float32Array,
  start: number,
  width: number,
  interval: number,
  into: Int32Array,
): void {
  const perLevel = 1 / interval;
  for (let x = 0; x < width; x++) {
    const z = cells[start + x]!;
    if (Number.isNaN(z)) {
      into[x] = NO_BAND;
      continue;
    }
    // The product may round across a level, so the level itself decides.
    let n = Math.floor(z * perLevel);
    if ((n + 1) * interval <= z) n++;
    else if (n * interval > z) n--;
    into[x] = n;
  }
}

function createCrossings(frame: Frame) {
  const { west, north, cellSize } = frame;
  let length = Math.max(1 << 12, Math.ceil((frame.width * frame.height) / 6));
  let size = 0;
  let level = new Int32Array(length);
  let xs = new Float64Array(length);
  let ys = new Float64Array(length);
  let weight = new Float32Array(length);
  let next = new Int32Array(length);
  let hasPrevious = new Uint8Array(length);

  function grow(needed: number): void {
    while (length < needed) length *= 2;
    level = longer(level, length);
    xs = longer(xs, length);
    ys = longer(ys, length);
    weight = longer(weight, length);
    next = longer(next, length);
    hasPrevious = longer(hasPrevious, length);
  }

  return {
    /**
     * Works out all crossings from cell (x, y) to its neighbour east (0) or south (1), lowest level first.
     * @returns the first one's place, whether there is one or not
     */
    add(
      x: number,
      y: number,
      south: number,
      a: number,
      b: number,
      bandA: number,
      bandB: number,
      step: number,
    ): number {
      const low = Math.min(bandA, bandB);
      const count = Math.max(bandA, bandB) - low;
      if (size + count > length) grow(size + count);
      const first = size;
      for (let n = low + 1; n <= low + count; n++) {
        const t = (n * step - a) / (b - a);
        xs[size] = west + (x + 0.5 + (south === 1 ? 0 : t)) * cellSize;
        ys[size] = north - (y + 0.5 + (south === 1 ? t : 0)) * cellSize;
        level[size] = n;
        next[size] = -1;
        size++;
      }
      return first;
    },
    tie(from: number, to: number, least: number): void {
      next[from] = to;
      hasPrevious[to] = 1;
      if (least > weight[from]!) weight[from] = least;
      if (least > weight[to]!) weight[to] = least;
    },
    done: (): Crossings => ({ size, level, x: xs, y: ys, weight, next, hasPrevious }),
  };
}
