import type { Frame } from '../grid/frame.ts';
import { NEIGHBOURS_16 } from '../grid/neighbours.ts';
import type { Relief } from './relief.ts';
import type { Climb } from './sweep.ts';

/**
 * Lays relief into the sweep.
 *
 * @param relief null for the level, where only trails are minded
 * @returns the most a move pays for relief
 */
export function layRelief(climb: Climb, relief: Relief | null, frame: Frame): number {
  const { width, height, cellSize } = frame;
  const wide = width + 4;
  const { heights, slopes, perMove } = climb;
  heights.fill(0);
  slopes.fill(0);
  const { up, down, sidehill } = relief ?? { up: 0, down: 0, sidehill: 0 };
  let highestStep = 0;
  let steepest = 0;
  if (relief) {
    const { heights: z, east, south } = relief.ground;
    for (let row = 0, i = 0; row < height; row++)
      for (let p = (row + 2) * wide + 2, end = p + width; p < end; p++, i++) {
        heights[p] = z[i]!;
        slopes[p] = east[i]! * east[i]! + south[i]! * south[i]!;
        if (slopes[p]! > steepest) steepest = slopes[p]!;
        const fromWest = end - p < width ? Math.abs(z[i]! - z[i - 1]!) : 0;
        const fromNorth = row > 0 ? Math.abs(z[i]! - z[i - width]!) : 0;
        if (fromWest > highestStep) highestStep = fromWest;
        if (fromNorth > highestStep) highestStep = fromNorth;
      }
  }
  const lengths = NEIGHBOURS_16.length.map((cells) => cells * cellSize);
  lengths.forEach((length, k) => {
    perMove[k] = (sidehill * length) / 2;
    perMove[16 + k] = sidehill / length;
  });
  climb.mean = (up + down) / 2;
  climb.more = (up - down) / 2;
  // A knight's move climbs no more than three steps.
  return 3 * highestStep * Math.max(up, down) + sidehill * steepest * cellSize * Math.sqrt(5);
}
