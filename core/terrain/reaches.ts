import { assertOnFrame, cellCentre, type Grid, type Point } from '../grid/frame.ts';
import { indexOffsets, NEIGHBOURS_8 } from '../grid/neighbours.ts';
import { pathLength } from '../grid/simplify.ts';
import { NO_RECEIVER } from './flow.ts';
import type { DrainageLine } from './types.ts';

/** A stretch of channel between two joins, as cells running downstream. */
export interface Reach {
  cells: Int32Array;
  /** Strahler order. */
  order: number;
  /** Place of the reach it joins in the list, -1 where it leaves the map. */
  next: number;
  /** Cells drained where it hands over. */
  drained: number;
}

/**
 * The drainage net as reaches: cells that drain at least `threshold` cells, cut where channels join, with orders
 * after Strahler, "Quantitative analysis of watershed geomorphology", Trans. AGU 38 (1957): a head is of order
 * 1; where two or more of the highest order join, the order rises by one.
 *
 * A reach ends in the first cell of the reach it joins, so that the lines meet. Water that runs along the map's
 * edge only does so because nothing is known beyond it, so lines end where they come to the edge. Larger reaches
 * come first.
 */
export function findReaches(
  directions: Grid<Uint8Array>,
  accumulation: Grid<Uint32Array>,
  threshold: number,
): Reach[] {
  const { frame, cells } = directions;
  assertOnFrame(frame, directions, accumulation);
  const { width, height } = frame;
  const drained = accumulation.cells;
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const onEdge = (i: number): boolean => {
    const x = i % width;
    return x === 0 || x === width - 1 || i < width || i >= width * (height - 1);
  };
  /** The cell a channel goes on to, or -1 where it ends. */
  const onwards = (i: number): number => {
    const direction = cells[i]!;
    if (direction === 0 || direction === NO_RECEIVER) return -1;
    const j = i + offsets[direction - 1]!;
    return onEdge(i) && onEdge(j) ? -1 : j;
  };
  const inflows = new Uint8Array(cells.length);
  for (let i = 0; i < cells.length; i++) {
    if (drained[i]! < threshold) continue;
    const j = onwards(i);
    if (j >= 0) inflows[j]!++;
  }

  const reaches: Reach[] = [];
  const startsAt = new Map<number, Reach>();
  const ends = new Map<Reach, number>();
  for (let start = 0; start < cells.length; start++) {
    if (cells[start] === 0 || drained[start]! < threshold || inflows[start] === 1) continue;
    const path = [start];
    let i = start;
    let end = -1;
    for (let j = onwards(i); j >= 0; j = onwards(i)) {
      path.push(j);
      if (inflows[j]! > 1) {
        end = j;
        break;
      }
      i = j;
    }
    // A join where the water leaves at once is a point, not a line; its tributaries then end at the map's edge.
    if (path.length < 2) continue;
    const reach: Reach = { cells: Int32Array.from(path), order: 0, next: -1, drained: drained[i]! };
    reaches.push(reach);
    startsAt.set(start, reach);
    ends.set(reach, end);
  }

  reaches.sort((a, b) => b.drained - a.drained || a.cells[0]! - b.cells[0]!);
  const place = new Map(reaches.map((reach, k) => [reach, k]));
  // What joins a reach drains less than it, so going up the list meets every tributary first.
  const highest = new Uint8Array(reaches.length);
  const times = new Uint8Array(reaches.length);
  for (let k = reaches.length - 1; k >= 0; k--) {
    const reach = reaches[k]!;
    reach.order = highest[k] === 0 ? 1 : times[k]! > 1 ? highest[k]! + 1 : highest[k]!;
    const end = ends.get(reach)!;
    const joined = startsAt.get(end);
    if (!joined) continue;
    reach.next = place.get(joined)!;
    if (reach.order > highest[reach.next]!) {
      highest[reach.next] = reach.order;
      times[reach.next] = 1;
    } else if (reach.order === highest[reach.next]) times[reach.next]!++;
  }
  return reaches;
}

/** The reaches as lines with measures; `elevation` is the surface their drop is read from. */
export function drainageLines(reaches: readonly Reach[], elevation: Grid): DrainageLine[] {
  const { frame, cells } = elevation;
  const name = (k: number): string => `drainage-${k + 1}`;
  return reaches.map((reach, k) => {
    const path: Point[] = Array.from(reach.cells, (i) => cellCentre(frame, i));
    return {
      id: name(k),
      order: reach.order,
      path,
      length: pathLength(path),
      catchment: reach.drained * frame.cellSize ** 2,
      drop: Math.max(0, cells[reach.cells[0]!]! - cells[reach.cells[reach.cells.length - 1]!]!),
      next: reach.next < 0 ? null : name(reach.next),
    };
  });
}

/** Reaches strung together from a mouth up to a head. Every reach belongs to one stem; `cells` run downstream. */
export interface Stem {
  cells: Int32Array;
  /** Places of its reaches, upstream first. */
  reaches: number[];
}

/**
 * @param follow at each join the stem goes up the tributary that drains most (as Hack 1957 numbers streams), or
 *   the one with the longest way to a head
 */
export function stemsOf(reaches: readonly Reach[], follow: 'area' | 'length'): Stem[] {
  const main = new Int32Array(reaches.length).fill(-1); // the tributary that carries the stem on
  const longest = new Int32Array(reaches.length); // cells to the farthest head
  // Going up the list every reach comes after its tributaries, and the last one written drains most.
  for (let k = reaches.length - 1; k >= 0; k--) {
    const { next, cells } = reaches[k]!;
    const carriedOn = main[k]!;
    longest[k] = cells.length + (carriedOn < 0 ? 0 : longest[carriedOn]!);
    if (next < 0) continue;
    const rival = main[next]!;
    if (follow === 'area' || rival < 0 || longest[k]! >= longest[rival]!) main[next] = k;
  }
  const stems: Stem[] = [];
  for (let k = 0; k < reaches.length; k++) {
    const next = reaches[k]!.next;
    if (next >= 0 && main[next] === k) continue; // part of a stem that starts lower down
    const chain: number[] = [];
    for (let r = k; r >= 0; r = main[r]!) chain.push(r);
    chain.reverse();
    const cells: number[] = [];
    for (const r of chain) {
      const own = reaches[r]!.cells;
      for (let n = cells.length > 0 ? 1 : 0; n < own.length; n++) cells.push(own[n]!);
    }
    stems.push({ cells: Int32Array.from(cells), reaches: chain });
  }
  return stems;
}
