import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { createQueue32 } from '../grid/monotone-queue.ts';
import { indexOffsets, NEIGHBOURS_8 } from '../grid/neighbours.ts';
import type { Progress } from '../grid/progress.ts';
import { silent } from '../grid/progress.ts';

/**
 * Raises every closed depression to its spill, so that each cell has a way down or level to the map's edge or
 * to no data: priority-flood with a plain queue inside depressions, Barnes, Lehman & Mulla, "Priority-flood",
 * Computers & Geosciences 62 (2014), algorithm 2. Water may leave over the edge of the map and into no data.
 * Exact: the result holds no number that is not in the input. NaN stays NaN.
 */
export function fillDepressions(elevation: Grid, progress: Progress = silent): Grid<Float32Array> {
  const { frame, cells } = elevation;
  assertOnFrame(frame, elevation);
  const { width, height } = frame;
  const count = cells.length;
  const filled = new Float32Array(cells);
  const done = new Uint8Array(count);
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const queue = createQueue32(Math.max(1024, 4 * (width + height)));
  // A cell enters the pit queue at most once, and leaves before the next queue entry is taken.
  let pit = new Int32Array(4096);

  const isOutlet = (x: number, y: number, i: number): boolean => {
    if (x === 0 || y === 0 || x === width - 1 || y === height - 1) return true;
    for (let k = 0; k < 8; k++) if (Number.isNaN(cells[i + offsets[k]!]!)) return true;
    return false;
  };
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (Number.isNaN(cells[i]!)) done[i] = 1;
      else if (isOutlet(x, y, i)) {
        done[i] = 1;
        queue.push(cells[i]!, i);
      }
    }
  }

  let handled = 0;
  for (;;) {
    const popped = queue.pop();
    if (popped < 0) break;
    let pitEnd = 0;
    let pitStart = 0;
    let i = popped;
    for (;;) {
      if ((++handled & 0x3ffff) === 0) progress(handled / count);
      const level = filled[i]!;
      const x = i % width;
      const onEdge = x === 0 || x === width - 1 || i < width || i >= count - width;
      for (let k = 0; k < 8; k++) {
        if (onEdge && leavesMap(i, x, k, width, height)) continue;
        const j = i + offsets[k]!;
        if (done[j]) continue;
        done[j] = 1;
        if (filled[j]! <= level) {
          filled[j] = level;
          if (pitEnd === pit.length) {
            const bigger = new Int32Array(pit.length * 2);
            bigger.set(pit);
            pit = bigger;
          }
          pit[pitEnd++] = j;
        } else queue.push(filled[j]!, j);
      }
      if (pitStart === pitEnd) break;
      i = pit[pitStart++]!;
    }
  }
  progress(1);
  return { frame, cells: filled };
}

function leavesMap(i: number, x: number, k: number, width: number, height: number): boolean {
  const column = x + NEIGHBOURS_8.dx[k]!;
  const row = Math.floor(i / width) + NEIGHBOURS_8.dy[k]!;
  return column < 0 || row < 0 || column >= width || row >= height;
}
