import type { Grid } from '../grid/frame.ts';
import { createQueue64 } from '../grid/monotone-queue.ts';
import { NEIGHBOURS_16 } from '../grid/neighbours.ts';
import type { MoveCosts } from '../travel/edges.ts';

/**
 * Walking speed on a slope, m/s: 6 exp(-3.5 |S + 0.05|) km/h with S the rise over run in the direction walked, so
 * 5.04 km/h on the level and 6 km/h down a slope of 5% (Tobler, "Three presentations on geographical analysis and
 * modeling", NCGIA 93-1, 1993).
 */
export const walkingSpeed = (slope: number): number => (6 * Math.exp(-3.5 * Math.abs(slope + 0.05))) / 3.6;

/** Ground to be walked over, all on one frame. */
export interface WalkGround {
  /** m; NaN no data. */
  elevation: Grid;
  /** Speed on each cell's ground against the speed of its slope, above 0; NaN where nobody goes. */
  pace: Grid;
  /** What a second spent on each cell counts for, above 0. */
  price: Grid;
  /** Seconds that every move pays for the lines it crosses; Infinity where they cannot be crossed. */
  crossings: MoveCosts | null;
  /** m/s on a slope in the direction of the move. */
  speed: (slope: number) => number;
}

export interface WayField {
  /** Least priced seconds from a start, 64-bit; Infinity where no way leads. */
  cost: Float64Array;
  /** Move by which the least way comes in, an index into NEIGHBOURS_16 plus one; 0 at starts and unreached. */
  via: Uint8Array;
}

/**
 * Least ways over 16 neighbours (Dijkstra 1959). A move takes its length over the speed of its slope and the mean pace
 * of its two ends, plus the lines it crosses, and counts as many times as the mean price of its ends. Up and down
 * differ, so the way there is not the way back. A knight's move also needs both cells it passes between to be open.
 *
 * @param starts cells and what has been spent on the way there
 * @param until a cell; dearer cells than it may be left unreached
 */
export function leastWays(
  ground: WalkGround,
  starts: Iterable<readonly [cell: number, cost: number]>,
  until = -1,
): WayField {
  const { elevation, crossings, speed } = ground;
  const { width, height, cellSize } = elevation.frame;
  const z = elevation.cells;
  const pace = ground.pace.cells;
  const price = ground.price.cells;
  const open = Uint8Array.from(z, (value, i) => (Number.isNaN(value) || !(pace[i]! > 0) ? 0 : 1));
  const cost = new Float64Array(z.length).fill(Number.POSITIVE_INFINITY);
  const via = new Uint8Array(z.length);
  const done = new Uint8Array(z.length);
  const queue = createQueue64(1 << 16);
  // The queue takes no key below the last one out, so all starts go in before anything comes out.
  for (const [cell, spent] of starts) {
    if (open[cell] !== 1 || !(spent < cost[cell]!)) continue;
    cost[cell] = spent;
    queue.push(spent, cell);
  }
  const { dx, dy, length } = NEIGHBOURS_16;
  const runs = Float64Array.from(length, (cells) => cells * cellSize);
  for (let cell = queue.pop(); cell >= 0; cell = queue.pop()) {
    if (done[cell] === 1) continue;
    done[cell] = 1;
    if (cell === until) break;
    const x = cell % width;
    const y = (cell - x) / width;
    const lines = crossings ? crossings.slot[cell]! * 16 : 0;
    const spent = cost[cell]!;
    const here = z[cell]!;
    const ease = pace[cell]!;
    const worth = price[cell]!;
    for (let k = 0; k < 16; k++) {
      const tx = x + dx[k]!;
      const ty = y + dy[k]!;
      if (tx < 0 || ty < 0 || tx >= width || ty >= height) continue;
      const to = ty * width + tx;
      if (open[to] !== 1 || done[to] === 1) continue;
      if (k >= 8 && !passes(open, width, cell, dx[k]!, dy[k]!)) continue;
      const run = runs[k]!;
      let seconds = (2 * run) / ((ease + pace[to]!) * speed((z[to]! - here) / run));
      if (lines !== 0) seconds += crossings!.extra[lines + k]!;
      const arrival = spent + (seconds * (worth + price[to]!)) / 2;
      if (!(arrival < cost[to]!)) continue;
      cost[to] = arrival;
      via[to] = k + 1;
      queue.push(arrival, to);
    }
  }
  return { cost, via };
}

/** Whether the two cells a knight's move passes between are open. */
function passes(open: Uint8Array, width: number, cell: number, dx: number, dy: number): boolean {
  const sx = Math.sign(dx);
  const sy = Math.sign(dy);
  const straight = Math.abs(dx) === 2 ? sx : sy * width;
  return open[cell + straight] === 1 && open[cell + sx + sy * width] === 1;
}

/** Seconds one move of a way takes, lines not counted. */
export function moveSeconds({ elevation, pace, speed }: WalkGround, from: number, to: number): number {
  const { width, cellSize } = elevation.frame;
  const [dx, dy] = [(to % width) - (from % width), Math.floor(to / width) - Math.floor(from / width)];
  const run = Math.hypot(dx, dy) * cellSize;
  const rise = elevation.cells[to]! - elevation.cells[from]!;
  return (2 * run) / ((pace.cells[from]! + pace.cells[to]!) * speed(rise / run));
}
