import { type Feature, numberOr, ofKind } from '../features/feature.ts';
import { pathsOf } from '../features/shapes.ts';
import type { Frame, Point } from '../grid/frame.ts';
import type { Weights } from './assumptions.ts';

/** A way deer have worn or somebody has cleared, mostly narrower than a cell. */
export interface Trail {
  path: Point[];
  /** Width of the ground whose travel takes to it, m. */
  lane: number;
}

/** A trail cleared for deer is 3 to 5 ft wide (common practice, no source); m. */
const USUAL_WIDTH = 1.2;

/** The existing trails, each with its lane: what is assumed, or its own width where that is more. */
export const trailsOf = (features: readonly Feature[], { trailLane }: Weights): Trail[] =>
  ofKind(features, 'trail')
    .filter(({ status }) => status === 'existing')
    .flatMap(({ geometry, attributes }) =>
      pathsOf(geometry).map((path) => ({
        path,
        lane: Math.max(trailLane, numberOr(attributes.width, USUAL_WIDTH)),
      })),
    );

/** A cell a path passes, and how far along the path the middle of its stretch in the cell lies, m. */
interface Passed {
  column: number;
  row: number;
  at: number;
}

/** The cells a path passes in turn, each sharing a side with the one before; null where it leaves the frame. */
function cellsPassed(
  { west, north, cellSize, width, height }: Frame,
  path: readonly Point[],
): (Passed | null)[] {
  const passed: (Passed | null)[] = [];
  let entered = 0;
  let last: { column: number; row: number } | null = null;
  const close = (left: number): void => {
    if (!last) return;
    const { column, row } = last;
    const inside = column >= 0 && row >= 0 && column < width && row < height;
    if (inside) passed.push({ column, row, at: (entered + left) / 2 });
    else if (passed.length > 0 && passed.at(-1) !== null) passed.push(null);
  };
  let start = 0;
  for (let k = 0; k + 1 < path.length; k++) {
    const ax = (path[k]![0] - west) / cellSize;
    const ay = (north - path[k]![1]) / cellSize;
    const bx = (path[k + 1]![0] - west) / cellSize;
    const by = (north - path[k + 1]![1]) / cellSize;
    const length = Math.hypot(bx - ax, by - ay);
    if (length === 0) continue;
    // Where the stretch meets the lines between cells, in shares of its length (Amanatides & Woo 1987).
    let column = Math.floor(ax);
    let row = Math.floor(ay);
    const stepX = Math.sign(bx - ax);
    const stepY = Math.sign(by - ay);
    let nextX = stepX === 0 ? Infinity : (column + (stepX > 0 ? 1 : 0) - ax) / (bx - ax);
    let nextY = stepY === 0 ? Infinity : (row + (stepY > 0 ? 1 : 0) - ay) / (by - ay);
    const enter = (share: number): void => {
      if (last && last.column === column && last.row === row) return;
      const along = start + share * length * cellSize;
      close(along);
      last = { column, row };
      entered = along;
    };
    enter(0);
    while (Math.min(nextX, nextY) <= 1) {
      const share = Math.min(nextX, nextY);
      if (nextX <= nextY) {
        column += stepX;
        nextX += 1 / Math.abs(bx - ax);
      } else {
        row += stepY;
        nextY += 1 / Math.abs(by - ay);
      }
      enter(share);
    }
    start += length * cellSize;
  }
  close(start);
  return passed;
}

/** A step along a trail from one cell to a neighbour, and the length of trail it stands for, m. */
export type VisitStep = (cell: number, dx: number, dy: number, length: number) => void;

/**
 * Every step a trail makes between cells that share a side: what the four moves of the circuit walk along. The lengths
 * add up to the trail's, from the middle of its first cell to that of its last.
 */
export function visitTrailSides(frame: Frame, path: readonly Point[], visit: VisitStep): void {
  visitSteps(frame, cellsPassed(frame, path), visit);
}

/**
 * The same over sides and corners: a cell whose corner the trail only clips between two that touch there is left out,
 * so that a trail across the grid is walked along its diagonal moves and not by their stairs.
 */
export function visitTrailMoves(frame: Frame, path: readonly Point[], visit: VisitStep): void {
  const all = cellsPassed(frame, path);
  const kept: (Passed | null)[] = [];
  for (let k = 0; k < all.length; k++) {
    const before = kept.at(-1);
    const here = all[k];
    const after = all[k + 1];
    const clipped =
      before &&
      here &&
      after &&
      Math.abs(after.column - before.column) === 1 &&
      Math.abs(after.row - before.row) === 1;
    if (!clipped) kept.push(here ?? null);
  }
  visitSteps(frame, kept, visit);
}

function visitSteps({ width }: Frame, passed: readonly (Passed | null)[], visit: VisitStep): void {
  for (let k = 1; k < passed.length; k++) {
    const from = passed[k - 1];
    const to = passed[k];
    if (!from || !to) continue;
    const length = Math.abs(to.at - from.at);
    if (length > 0) visit(from.row * width + from.column, to.column - from.column, to.row - from.row, length);
  }
}
