import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { indexOffsets, NEIGHBOURS_8 } from '../grid/neighbours.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { flatGradient } from './flats.ts';

/** Flow direction of a cell that hands its water to no other: a sink, or where water leaves the map. */
export const NO_RECEIVER = 9;

/**
 * Single-direction flow: each cell drains to the neighbour with the steepest fall (O'Callaghan & Mark 1984;
 * Jenson & Domingue 1988), ties to the first clockwise from east. Level cells take their way from
 * `flatGradient`. On a filled surface every cell then drains to the map's edge or to no data.
 *
 * @param surface a filled surface; NaN no data
 * @returns codes 1..8 clockwise from east, 9 where water leaves (edge cells and cells beside no data that have no
 *   lower neighbour; on a surface that is not filled also the bottoms of pits), 0 no data
 */
export function flowDirections(surface: Grid, progress: Progress = silent): Grid<Uint8Array> {
  const { frame, cells } = surface;
  assertOnFrame(frame, surface);
  const { width, height } = frame;
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const directions = new Uint8Array(cells.length);
  const { dx, dy } = NEIGHBOURS_8;
  const diagonal = Math.SQRT1_2;
  let level = 0;

  for (let y = 0, i = 0; y < height; y++) {
    if ((y & 127) === 0) progress(y / height);
    const innerRow = y > 0 && y < height - 1;
    for (let x = 0; x < width; x++, i++) {
      const z = cells[i]!;
      if (Number.isNaN(z)) continue;
      let best = 0;
      let direction = 0;
      let open = false;
      if (innerRow && x > 0 && x < width - 1) {
        for (let k = 0; k < 8; k++) {
          const drop = z - cells[i + offsets[k]!]!;
          if (Number.isNaN(drop)) open = true;
          const fall = k & 1 ? drop * diagonal : drop;
          if (fall > best) {
            best = fall;
            direction = k + 1;
          }
        }
      } else {
        open = true;
        for (let k = 0; k < 8; k++) {
          const column = x + dx[k]!;
          const row = y + dy[k]!;
          if (column < 0 || row < 0 || column >= width || row >= height) continue;
          const drop = z - cells[i + offsets[k]!]!;
          const fall = k & 1 ? drop * diagonal : drop;
          if (fall > best) {
            best = fall;
            direction = k + 1;
          }
        }
      }
      // Water leaves at the open side of a cell that has no lower neighbour; other level cells wait.
      if (direction === 0 && open) direction = NO_RECEIVER;
      if (direction === 0) level++;
      directions[i] = direction;
    }
  }
  if (level > 0) settleFlats(cells, directions, width);
  return { frame, cells: directions };
}

/** Sends each level cell to the neighbour on the same level that lies lowest on the flat's own gradient. */
function settleFlats(cells: Float32Array, directions: Uint8Array, width: number): void {
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const { flat, place, gradient } = flatGradient(cells, directions, width);
  for (let n = 0; n < flat.length; n++) {
    const i = flat[n]!;
    const own = gradient[n]!;
    let best = 0;
    let direction = NO_RECEIVER;
    // A level cell never lies on the map's edge, where it would have been an outlet.
    for (let k = 0; k < 8; k++) {
      const j = i + offsets[k]!;
      if (cells[j] !== cells[i]) continue;
      // A neighbour on the level that drains already is the outlet, at 0.
      const other = place[j] === 0 ? 0 : gradient[place[j]! - 1]!;
      const fall = (own - other) * (k & 1 ? Math.SQRT1_2 : 1);
      if (fall > best) {
        best = fall;
        direction = k + 1;
      }
    }
    directions[i] = direction;
  }
}

/**
 * Cells drained by each cell, itself included, exact in 32-bit integers. Follows each course down from the cells
 * nothing drains to, and stops where another course is still to come (no sorting, one pass).
 *
 * @param directions codes as `flowDirections` gives them
 * @returns 0 where there is no data
 */
export function accumulate(directions: Grid<Uint8Array>, progress: Progress = silent): Grid<Uint32Array> {
  const { frame, cells } = directions;
  assertOnFrame(frame, directions);
  const offsets = indexOffsets(NEIGHBOURS_8, frame.width);
  const count = cells.length;
  const waiting = new Uint8Array(count);
  const drained = new Uint32Array(count);
  for (let i = 0; i < count; i++) {
    const direction = cells[i]!;
    if (direction === 0) continue;
    drained[i] = 1;
    if (direction < NO_RECEIVER) waiting[i + offsets[direction - 1]!]!++;
  }
  // 255 marks a cell already passed, so that a later scan does not start from it again.
  for (let start = 0; start < count; start++) {
    if ((start & 0xfffff) === 0) progress(start / count);
    if (waiting[start] !== 0 || cells[start] === 0) continue;
    let i = start;
    for (;;) {
      waiting[i] = 255;
      const direction = cells[i]!;
      if (direction === NO_RECEIVER) break;
      const j = i + offsets[direction - 1]!;
      drained[j]! += drained[i]!;
      if (--waiting[j]! > 0) break;
      i = j;
    }
  }
  return { frame, cells: drained };
}
