import type { Frame } from '../grid/frame.ts';
import type { PairFlow, Window } from './flow.ts';

/** Net flow of one pair, one way, on a piece of ground: from every cell to its neighbours, and what ends there. */
export interface Onflow {
  /** Out of cell k by move m at 4k + m: east, south, west, north; 0 where it comes in instead. */
  out: Float64Array;
  /** What ends in a cell. */
  ends: Float64Array;
  /** What passes a cell, ends and starts with it. */
  through: Float64Array;
}

/**
 * A pair's net flow on a piece of the frame.
 *
 * @param piece a window of the flow's frame that lines up with it, by `placeIn`
 * @param back against the flow: from the pair's second area to its first
 */
export function onflowOf(pair: PairFlow, piece: Window, back: boolean): Onflow {
  const { window, east, south } = pair;
  const count = piece.width * piece.height;
  const out = new Float64Array(4 * count);
  const ends = new Float64Array(count);
  const through = new Float64Array(count);
  const sign = back ? -1 : 1;
  for (let y = 0, k = 0; y < piece.height; y++)
    for (let x = 0; x < piece.width; x++, k++) {
      const u = piece.column + x - window.column;
      const v = piece.row + y - window.row;
      if (u < 0 || v < 0 || u >= window.width || v >= window.height) continue;
      const i = v * window.width + u;
      const net = [
        sign * east[i]!,
        sign * south[i]!,
        u > 0 ? -sign * east[i - 1]! : 0,
        v > 0 ? -sign * south[i - window.width]! : 0,
      ];
      let leaving = 0;
      let coming = 0;
      for (let m = 0; m < 4; m++) {
        const flow = net[m]!;
        if (flow > 0) {
          out[4 * k + m] = flow;
          leaving += flow;
        } else coming -= flow;
      }
      ends[k] = Math.max(0, coming - leaving);
      through[k] = Math.max(coming, leaving);
    }
  return { out, ends, through };
}

/** Where a piece made by `windowAt` lies on its frame, in cells. */
export const placeIn = (frame: Frame, piece: Frame): Window => ({
  column: Math.round((piece.west - frame.west) / frame.cellSize),
  row: Math.round((frame.north - piece.north) / frame.cellSize),
  width: piece.width,
  height: piece.height,
});

/**
 * Cells that walkers from some cells may come to, each before those they go on to: net flow runs in no circles. At a
 * cell of the rim they are followed no farther.
 *
 * @param rim 1 at the cells walkers are not followed beyond
 */
export function orderFrom(
  { out }: Onflow,
  width: number,
  starts: readonly number[],
  rim: Uint8Array,
): Int32Array {
  const steps = [1, width, -1, -width];
  const seen = new Uint8Array(rim.length);
  const after: number[] = [];
  const stack: number[] = [];
  const move: number[] = [];
  for (const start of starts) {
    if (seen[start]) continue;
    seen[start] = 1;
    stack.push(start);
    move.push(rim[start] ? 4 : 0);
    while (stack.length > 0) {
      const top = stack.length - 1;
      const k = stack[top]!;
      const m = move[top]!;
      if (m > 3) {
        after.push(k);
        stack.pop();
        move.pop();
        continue;
      }
      move[top] = m + 1;
      const next = k + steps[m]!;
      if (!(out[4 * k + m]! > 0) || seen[next] !== 0) continue;
      seen[next] = 1;
      stack.push(next);
      move.push(rim[next] ? 4 : 0);
    }
  }
  return Int32Array.from(after.reverse());
}

/**
 * Walkers that go on from cell to cell by the net flow out of each, so that many of them pass every line as the flow
 * does.
 *
 * @param held walkers by cell at the start; changed in place to all that ever came to each cell
 * @param stop told of the walkers whose way is not followed on: at the rim, or at its end
 */
export function goOn(
  { out, ends }: Onflow,
  width: number,
  order: Int32Array,
  rim: Uint8Array,
  held: Float64Array,
  stop: (cell: number, walkers: number, ended: boolean) => void,
): void {
  const steps = [1, width, -1, -width];
  for (const k of order) {
    const walkers = held[k]!;
    if (!(walkers > 0)) continue;
    if (rim[k]) {
      stop(k, walkers, false);
      continue;
    }
    const base = 4 * k;
    const all = out[base]! + out[base + 1]! + out[base + 2]! + out[base + 3]! + ends[k]!;
    if (!(all > 0) || ends[k]! > 0) stop(k, all > 0 ? (walkers * ends[k]!) / all : walkers, true);
    if (all > 0)
      for (let m = 0; m < 4; m++) {
        const flow = out[base + m]!;
        if (flow > 0) held[k + steps[m]!]! += (walkers * flow) / all;
      }
  }
}

/** How likely a walker at each cell stops at one of the wanted stops, by the same steps backwards. */
export function chanceOf(
  { out, ends }: Onflow,
  width: number,
  order: Int32Array,
  rim: Uint8Array,
  wanted: (cell: number) => boolean,
): Float64Array {
  const steps = [1, width, -1, -width];
  const chance = new Float64Array(rim.length);
  for (let n = order.length - 1; n >= 0; n--) {
    const k = order[n]!;
    const here = wanted(k) ? 1 : 0;
    const base = 4 * k;
    const all = out[base]! + out[base + 1]! + out[base + 2]! + out[base + 3]! + ends[k]!;
    if (rim[k] || !(all > 0)) {
      chance[k] = here;
      continue;
    }
    let sum = ends[k]! * here;
    for (let m = 0; m < 4; m++) {
      const flow = out[base + m]!;
      if (flow > 0) sum += flow * chance[k + steps[m]!]!;
    }
    chance[k] = sum / all;
  }
  return chance;
}
