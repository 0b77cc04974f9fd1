import type { Frame, Grid } from '../grid/frame.ts';
import type { Progress } from '../grid/progress.ts';

/**
 * Places where levels cross the lines between neighbouring cell centres, tied to each other along the contours. What
 * leads on lies by itself and close together: following it is a chain of jumps through memory.
 */
export interface Crossings {
  size: number;
  /** Three numbers a crossing: x, y, and one over the square of how far a line may be moved here, 1/m². */
  places: Float64Array<ArrayBuffer>;
  /** The next crossing along the contour plus one; 0 where none follows. */
  next: Int32Array<ArrayBuffer>;
  /** 1 where the contour comes from another crossing. */
  follows: Uint8Array<ArrayBuffer>;
  /** Level as a multiple of the interval. */
  level: Int32Array<ArrayBuffer>;
}

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

export function findCrossings(
  { frame, cells }: Grid,
  interval: number,
  tolerance: number,
  progress: Progress,
): Crossings {
  const { width, height, cellSize } = frame;
  // Enough for close lines on a small map; a large one has fewer a cell, and the list grows.
  const list = emptyList(Math.min(Math.max(1 << 12, Math.ceil(cells.length / 3)), 1 << 22));
  // The highest level at or below each cell of two rows, and the first crossing east of each cell of them.
  let above = new Int32Array(width);
  let below = new Int32Array(width);
  let norths = new Int32Array(width);
  let souths = new Int32Array(width);
  const sides = new Int32Array(4);
  for (let y = -1; y < height - 1; y++) {
    if ((y & 127) === 0) progress(y / height);
    [above, below] = [below, above];
    [norths, souths] = [souths, norths];
    const row = (y + 1) * width;
    bandsOf(cells, row, width, interval, below);
    if (y < 0) {
      for (let x = 0; x < width - 1; x++)
        souths[x] = cross(list, frame, x, 0, 0, cells[x]!, cells[x + 1]!, below[x]!, below[x + 1]!, interval);
      continue;
    }
    let ne = above[0]!;
    let se = below[0]!;
    let east =
      ne === se ? 0 : cross(list, frame, 0, y, 1, cells[row - width]!, cells[row]!, ne, se, interval);
    for (let x = 0; x < width - 1; x++) {
      const nw = ne;
      const sw = se;
      ne = above[x + 1]!;
      se = below[x + 1]!;
      if (nw === ne && ne === sw && sw === se) continue;
      const west = east;
      const i = row + x;
      // A side with both ends between the same levels is crossed by none; its place is never asked for.
      if (ne !== se)
        east = cross(list, frame, x + 1, y, 1, cells[i + 1 - width]!, cells[i + 1]!, ne, se, interval);
      if (sw !== se) souths[x] = cross(list, frame, x, y + 1, 0, cells[i]!, cells[i + 1]!, sw, se, interval);
      const low = Math.min(nw, ne, sw, se);
      if (low === NO_BAND) continue;
      const high = Math.max(nw, ne, sw, se);
      sides[0] = norths[x]! - Math.min(nw, ne) - 1;
      sides[1] = east - Math.min(ne, se) - 1;
      sides[2] = souths[x]! - Math.min(sw, se) - 1;
      sides[3] = west - Math.min(nw, sw) - 1;
      // Within a square that spans k levels lines lie at least cell / (1.41 (k + 1)) apart.
      const room = Math.min(tolerance, cellSize / (2.9 * (high - low + 1)));
      const weight = 1 / (room * room);
      for (let n = low + 1; n <= high; n++) {
        const pattern = (nw >= n ? 1 : 0) | (ne >= n ? 2 : 0) | (se >= n ? 4 : 0) | (sw >= n ? 8 : 0);
        for (let k = pattern << 2; TIES[k]! >= 0; k += 2) {
          tie(list, sides[TIES[k]!]! + n, sides[TIES[k + 1]!]! + n, weight);
          if (k & 2) break;
        }
      }
    }
  }
  return list;
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

/**
 * Works out all crossings from cell (x, y) to its neighbour east (0) or south (1), lowest level first.
 * @returns the first one's place; none beside no data
 */
function cross(
  list: Crossings,
  { west, north, cellSize }: Frame,
  x: number,
  y: number,
  south: number,
  a: number,
  b: number,
  bandA: number,
  bandB: number,
  interval: number,
): number {
  const low = Math.min(bandA, bandB);
  const first = list.size;
  if (low === NO_BAND) return first;
  const count = Math.max(bandA, bandB) - low;
  if (first + count > list.level.length) grow(list, first + count);
  const { places, level } = list;
  const fall = b - a;
  for (let c = first, n = low + 1; c < first + count; c++, n++) {
    const t = (n * interval - a) / fall;
    places[3 * c] = west + (x + 0.5 + (south === 1 ? 0 : t)) * cellSize;
    places[3 * c + 1] = north - (y + 0.5 + (south === 1 ? t : 0)) * cellSize;
    level[c] = n;
  }
  list.size = first + count;
  return first;
}

function tie({ places, next, follows }: Crossings, from: number, to: number, weight: number): void {
  next[from] = to + 1;
  follows[to] = 1;
  if (weight > places[3 * from + 2]!) places[3 * from + 2] = weight;
  if (weight > places[3 * to + 2]!) places[3 * to + 2] = weight;
}

const emptyList = (room: number): Crossings => ({
  size: 0,
  places: new Float64Array(3 * room),
  next: new Int32Array(room),
  follows: new Uint8Array(room),
  level: new Int32Array(room),
});

function grow(list: Crossings, needed: number): void {
  const bigger = emptyList(Math.max(needed, 2 * list.level.length));
  for (const name of ['places', 'next', 'follows', 'level'] as const) bigger[name].set(list[name]);
  Object.assign(list, bigger, { size: list.size });
}
