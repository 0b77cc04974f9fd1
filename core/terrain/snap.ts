import { cellCentre, type Grid, type Point } from '../grid/frame.ts';

/**
 * The drainage cell nearest to a spot: where at least `cells` cells drain to, no farther than `reach` metres.
 * Of cells equally near, the one that drains most.
 *
 * @returns row-major index, or -1 when none is that near
 */
export function nearestDrainage(
  accumulation: Grid<Uint32Array>,
  [x, y]: Point,
  cells: number,
  reach: number,
): number {
  const { frame } = accumulation;
  const { cellSize, width, height } = frame;
  const column = Math.floor((x - frame.west) / cellSize);
  const row = Math.floor((frame.north - y) / cellSize);
  const span = Math.ceil(reach / cellSize);
  let best = -1;
  let bestDistance = reach;
  for (let j = Math.max(0, row - span); j <= Math.min(height - 1, row + span); j++) {
    for (let i = Math.max(0, column - span); i <= Math.min(width - 1, column + span); i++) {
      const index = j * width + i;
      const drained = accumulation.cells[index]!;
      if (drained < cells) continue;
      const [cx, cy] = cellCentre(frame, index);
      const distance = Math.hypot(cx - x, cy - y);
      if (distance > bestDistance) continue;
      if (distance === bestDistance && best >= 0 && drained <= accumulation.cells[best]!) continue;
      best = index;
      bestDistance = distance;
    }
  }
  return best;
}
