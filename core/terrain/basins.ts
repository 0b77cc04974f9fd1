import type { Grid } from '../grid/frame.ts';
import { indexOffsets, NEIGHBOURS_8 } from '../grid/neighbours.ts';
import type { Progress } from '../grid/progress.ts';
import { EARLIER, FOLLOWED, GROUPS, MEMBERS } from './lower-link.ts';

/** Label of cells whose water leaves the map, and of no data. */
export const OUT = -1;
/** All that drains off the map, among basins, which count from 1. */
export const OUTSIDE = 0;

export interface Labels {
  /** Labels given, from 1. */
  count: number;
  /** For each label the lower cell it hands over to, -1 where it is a minimum's own. */
  follows: Int32Array;
  /** Cells where basins may meet, with their lower neighbours as bits. */
  saddles: Int32Array;
  lowers: Uint8Array;
  saddleCount: number;
}

/**
 * Labels every cell in one pass: with the label of an earlier lower neighbour, or with a new one where lower ground
 * only comes later.
 */
export function labelCells({ frame, cells }: Grid, labels: Int32Array, progress: Progress): Labels {
  const { width, height } = frame;
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const bits = new Int32Array(cells.buffer, cells.byteOffset, cells.length);
  let above = new Int32Array(width);
  let own = new Int32Array(width);
  let below = new Int32Array(width);
  let follows = new Int32Array(width + (cells.length >> 3));
  let saddles = new Int32Array(2 * (width + height) + (cells.length >> 4));
  let lowers = new Uint8Array(saddles.length);
  let count = 0;
  let saddleCount = 0;
  for (let y = 0; y < height; y++) {
    if ((y & 63) === 0) progress(y / height);
    if (count + width >= follows.length) follows = longer(follows);
    if (saddleCount + width > saddles.length) {
      saddles = longer(saddles);
      lowers = longer(lowers);
    }
    const rim = y === 0 || y === height - 1;
    for (let x = 0; x < width; x += rim ? 1 : Math.max(1, width - 1)) {
      const lower = lowerOnRim(cells, width, height, x, y);
      if (lower === 0) continue;
      saddles[saddleCount] = y * width + x;
      lowers[saddleCount++] = lower;
    }
    if (rim) continue;
    if (y === 1) {
      keysOf(bits, 0, above);
      keysOf(bits, width, own);
      keysOf(bits, 2 * width, below);
    } else {
      [above, own, below] = [own, below, above];
      keysOf(bits, (y + 1) * width, below);
    }
    let n = above[0]!;
    let ne = above[1]!;
    let z = own[0]!;
    let e = own[1]!;
    let s = below[0]!;
    let se = below[1]!;
    for (let x = 1, i = y * width + 1; x < width - 1; x++, i++) {
      const nw = n;
      const w = z;
      const sw = s;
      n = ne;
      z = e;
      s = se;
      ne = above[x + 1]!;
      e = own[x + 1]!;
      se = below[x + 1]!;
      // The sign of a difference is the answer, without a branch; earlier cells are lower when level, too.
      const lower =
        ((e - z) >>> 31) |
        (((se - z) >> 31) & 2) |
        (((s - z) >> 31) & 4) |
        (((sw - z) >> 31) & 8) |
        (~((z - w) >> 31) & 16) |
        (~((z - nw) >> 31) & 32) |
        (~((z - n) >> 31) & 64) |
        (~((z - ne) >> 31) & 128);
      let groups = GROUPS[lower]!;
      if (labels[i] === OUT) groups *= 2;
      else if (lower & EARLIER) labels[i] = labels[i + offsets[FOLLOWED[lower]!]!]!;
      else {
        labels[i] = ++count;
        follows[count] = lower === 0 ? -1 : i + offsets[FOLLOWED[lower]!]!;
      }
      if (groups > 1) {
        saddles[saddleCount] = i;
        lowers[saddleCount++] = lower;
      }
    }
  }
  return { count, follows, saddles, lowers, saddleCount };
}

/**
 * Whole numbers that stand in the order of a row's elevations, near enough that no difference of two overflows: the
 * bits of a float less those of 1e-10 m, below which all counts as 0. No data stands highest.
 */
function keysOf(bits: Int32Array, start: number, keys: Int32Array): void {
  for (let x = 0; x < keys.length; x++) {
    const own = bits[start + x]!;
    const size = own & 0x7fffffff;
    const sign = size > 0x7f800000 ? 0 : own >> 31;
    const key = Math.min(Math.max(size - 0x2f000000, 0), 0x3fffffff);
    keys[x] = (key ^ sign) - sign;
  }
}

/** The lower neighbours of a cell on the map's edge. */
function lowerOnRim(cells: Float32Array, width: number, height: number, x: number, y: number): number {
  const { dx, dy } = NEIGHBOURS_8;
  const z = cells[y * width + x]!;
  let lower = 0;
  for (let k = 0; k < 8; k++) {
    const column = x + dx[k]!;
    const row = y + dy[k]!;
    if (column < 0 || row < 0 || column >= width || row >= height) continue;
    const other = cells[row * width + column]!;
    if (other < z || (other === z && k >= 4)) lower |= 1 << k;
  }
  return lower;
}

/** Basins by label. */
export interface Basins {
  count: number;
  /** Minus the basin each label belongs to, OUTSIDE for what drains off the map. */
  minus: Int32Array;
}

/** Numbers the minima and finds for each label the one it ends in. Works in place of what the labels follow. */
export function findBasins(labels: Int32Array, { count: given, follows }: Labels): Basins {
  const minus = follows;
  let count = 0;
  for (let label = 1; label <= given; label++) {
    if (follows[label]! < 0) minus[label] = -++count;
    else minus[label] = Math.max(OUTSIDE, labels[follows[label]!]!);
  }
  minus[0] = OUTSIDE;
  // Above 0 stands the label to go on with, else the answer.
  for (let label = given; label > 0; label--) {
    let end = minus[label]!;
    while (end > 0) end = minus[end]!;
    for (let at = label; minus[at]! > 0; ) {
      const next = minus[at]!;
      minus[at] = end;
      at = next;
    }
  }
  return { count, minus };
}

/** Passes between basins: the two it joins and the level it opens at. */
export interface Passes {
  count: number;
  a: Int32Array;
  b: Int32Array;
  level: Float32Array;
}

export function findPasses(
  cells: Float32Array,
  width: number,
  labels: Int32Array,
  given: Labels,
  { minus }: Basins,
): Passes {
  const basinAt = (cell: number): number => (labels[cell] === OUT ? OUTSIDE : -minus[labels[cell]!]!);
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const { saddles, lowers, saddleCount } = given;
  let room = 0;
  for (let n = 0; n < saddleCount; n++) room += GROUPS[lowers[n]!]!;
  const a = new Int32Array(room);
  const b = new Int32Array(room);
  const level = new Float32Array(room);
  let count = 0;
  for (let n = 0; n < saddleCount; n++) {
    const cell = saddles[n]!;
    const own = basinAt(cell);
    for (let g = GROUPS[lowers[n]!]!, members = MEMBERS[lowers[n]!]!; g > 0; g--, members >>= 4) {
      const other = basinAt(cell + offsets[members & 15]!);
      if (other === own) continue;
      a[count] = own;
      b[count] = other;
      level[count++] = cells[cell]!;
    }
  }
  return { count, a, b, level };
}

function longer<A extends Int32Array | Uint8Array>(old: A): A {
  const bigger = new (old.constructor as new (length: number) => A)(2 * old.length);
  bigger.set(old);
  return bigger;
}
