import { cellCount, type Frame, type Grid } from '../grid/frame.ts';
import { coarsen } from '../terrain/coarse.ts';
import type { Weights } from './assumptions.ts';

/** Ground heights on the frame of a cost or a flow, with the slope between cells as tangents. */
export interface ReliefGround {
  frame: Frame;
  /** m; NaN no data. */
  heights: Float32Array;
  /** Rise to the east and to the south, m per m; 0 where unknown. */
  east: Float32Array;
  south: Float32Array;
}

/** What walking over relief costs by heading, in metres of easy ground. */
export interface Relief {
  ground: ReliefGround;
  /** A metre climbed. */
  up: number;
  /** A metre descended. */
  down: number;
  /** A metre along a slope of 45 degrees; along others by the square of the tangent. */
  sidehill: number;
}

/** @param factor how many cells of the elevation a side make one of the frame wanted */
export function reliefGround(elevation: Grid, factor = 1): ReliefGround {
  const { frame, cells } = coarsen(elevation, factor);
  const { width, height, cellSize } = frame;
  const heights = Float32Array.from(cells);
  const east = new Float32Array(cellCount(frame));
  const south = new Float32Array(cellCount(frame));
  // Rise over the cells on both sides, or over one where the other is not known.
  const rise = (i: number, before: number, after: number): number => {
    const from = before >= 0 && !Number.isNaN(heights[before]!) ? before : i;
    const to = after >= 0 && !Number.isNaN(heights[after]!) ? after : i;
    const steps = (from === i ? 0 : 1) + (to === i ? 0 : 1);
    return steps === 0 ? 0 : (heights[to]! - heights[from]!) / (steps * cellSize);
  };
  for (let row = 0, i = 0; row < height; row++)
    for (let column = 0; column < width; column++, i++) {
      if (Number.isNaN(heights[i]!)) continue;
      east[i] = rise(i, column > 0 ? i - 1 : -1, column + 1 < width ? i + 1 : -1);
      south[i] = rise(i, row > 0 ? i - width : -1, row + 1 < height ? i + width : -1);
    }
  return { frame, heights, east, south };
}

/**
 * Climbing takes the energy of Parker, Robbins & Hanley (1984) for every metre of rise. Sidehill, the trouble of keeping
 * footing along a slope, grows with the square of the tangent across the heading; its size is our assumption.
 */
export const reliefOf = (ground: ReliefGround, { climb, descent, sidehill }: Weights): Relief => ({
  ground,
  up: climb,
  down: descent,
  sidehill,
});

/**
 * What a cell's relief adds to a metre of way east-west and to one north-south: the mean of both ways, since a
 * conductor has no direction. A way up the fall line adds `fall`, one along the contour `along`; a heading between
 * them takes both in the shares of its squared cosines. Four moves carry no slope that lies across both: where it
 * faces half way between, both get the same mean of fall line and contour, and the flow cannot tell them apart.
 */
export function meanReliefAt(
  { ground, up, down, sidehill }: Relief,
  cell: number,
  out: { eastWest: number; northSouth: number },
): void {
  const x = ground.east[cell]!;
  const y = ground.south[cell]!;
  const squared = x * x + y * y;
  if (squared === 0) {
    out.eastWest = 0;
    out.northSouth = 0;
    return;
  }
  const fall = ((up + down) / 2) * Math.sqrt(squared);
  const along = sidehill * squared;
  const share = (x * x) / squared;
  out.eastWest = share * fall + (1 - share) * along;
  out.northSouth = (1 - share) * fall + share * along;
}

/**
 * What the one way between two places costs, from the mean of both: every way up to a place climbs as much more than it
 * descends, whichever turns it takes, so there and back differ by (up - down) times the rise and the cheapest way is
 * the same one.
 *
 * @param rise from the start to the end, m
 */
export const oneWay = (mean: number, rise: number, { up, down }: Pick<Relief, 'up' | 'down'>): number =>
  mean + ((up - down) / 2) * rise;

/** The same relief with the mean of both ways, for what must cost the same there and back. */
export const bothWays = (relief: Relief): Relief => {
  const mean = (relief.up + relief.down) / 2;
  return { ...relief, up: mean, down: mean };
};
