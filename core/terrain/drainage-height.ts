import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { indexOffsets, NEIGHBOURS_8 } from '../grid/neighbours.ts';
import { NO_RECEIVER } from './flow.ts';

/**
 * Height of each cell above the channel its water reaches first (Rennó et al., "HAND, a new terrain descriptor",
 * Remote Sensing of Environment 112, 2008), m. NaN where the water leaves the map before it meets one.
 *
 * @param channel any value but 0 marks a channel cell
 */
export function heightAboveDrainage(
  elevation: Grid,
  directions: Grid<Uint8Array>,
  channel: Uint8Array,
): Grid<Float32Array> {
  const { frame, cells } = elevation;
  assertOnFrame(frame, elevation, directions);
  const offsets = indexOffsets(NEIGHBOURS_8, frame.width);
  const height = new Float32Array(cells.length);
  // The channel each cell comes to: 0 not known yet, -1 none, else its index + 1.
  const reached = new Int32Array(cells.length);
  const walk: number[] = [];
  for (let start = 0; start < cells.length; start++) {
    let i = start;
    while (reached[i] === 0) {
      const direction = directions.cells[i]!;
      if (channel[i] !== 0) reached[i] = i + 1;
      else if (direction === 0 || direction === NO_RECEIVER) reached[i] = -1;
      else {
        walk.push(i);
        i += offsets[direction - 1]!;
      }
    }
    const end = reached[i]!;
    for (const passed of walk) reached[passed] = end;
    walk.length = 0;
    height[start] = end > 0 ? cells[start]! - cells[end - 1]! : Number.NaN;
  }
  return { frame, cells: height };
}
