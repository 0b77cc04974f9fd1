import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { lowestElevation, type SightOptions, sightDrop } from './sight.ts';

/** A line a + b s over a stretch of directions s, from `from` to the next piece's. */
interface Horizon {
  from: Float64Array;
  a: Float64Array;
  b: Float64Array;
  size: number;
}

/**
 * What can be seen from the middle of a cell: 1 seen, 0 hidden, beyond the radius or no data.
 *
 * Exact for sight lines between cell centres over ground that is straight between neighbouring centres: where a
 * line crosses a column (a row, for lines steeper than 45 degrees on the map), the ground is interpolated between
 * the two cells it passes, and the target shows when no crossing stands higher in the view (the R3 rule of
 * Franklin & Ray, "Higher isn't necessarily better: visibility algorithms and experiments", 1994). Instead of
 * walking every line, columns are taken outward one by one and the horizon so far is kept whole, as the upper
 * envelope of straight pieces over direction; a column of n cells is tested and merged in time linear in n and in
 * the pieces of the horizon.
 *
 * The earth falls away by d² (1 - refraction) / 2R, reckoned at each cell. Ground without data hides nothing.
 *
 * @param observer row-major index of the cell looked from
 */
export function viewshed(elevation: Grid, observer: number, options: SightOptions): Grid<Uint8Array> {
  const { frame, cells } = elevation;
  assertOnFrame(frame, elevation);
  const { width, height } = frame;
  const seen = new Uint8Array(cells.length);
  const eye = cells[observer]! + options.observerHeight;
  if (Number.isNaN(eye)) return { frame, cells: seen };
  seen[observer] = 1;
  const x0 = observer % width;
  const y0 = Math.floor(observer / width);
  const lowest = lowestElevation(elevation);
  const look = (away: number, across: number, ahead: number, left: number, right: number): void =>
    sweepSide(elevation, lowest, observer, eye, options, seen, away, across, ahead, left, right);
  // East, west, south, north: the step away, the step across, and how far the map reaches ahead and to both sides.
  look(1, width, width - 1 - x0, y0, height - 1 - y0);
  look(-1, width, x0, y0, height - 1 - y0);
  look(width, 1, height - 1 - y0, x0, width - 1 - x0);
  look(-width, 1, y0, x0, width - 1 - x0);
  return { frame, cells: seen };
}

/** One quarter of the view: columns at 1, 2, ... steps away, cells from -n to n across. */
function sweepSide(
  elevation: Grid,
  lowest: number,
  observer: number,
  eye: number,
  options: SightOptions,
  seen: Uint8Array,
  away: number,
  across: number,
  ahead: number,
  left: number,
  right: number,
): void {
  const { cells } = elevation;
  const { cellSize } = elevation.frame;
  const reach = Math.min(ahead, Math.floor(options.radius / cellSize));
  if (reach < 1) return;
  const squaredRadius = (options.radius / cellSize) ** 2;
  const dropPerSquare = sightDrop(cellSize, options.refraction);
  const heights = new Float64Array(2 * reach + 1);
  let horizon = newHorizon(4 * reach + 16);
  let spare = newHorizon(4 * reach + 16);

  for (let n = 1; n <= reach; n++) {
    const low = -Math.min(n, left);
    const high = Math.min(n, right);
    // Height over the eye per step away: what all cells on one sight line are compared by.
    let cell = observer + n * away + low * across;
    for (let j = low; j <= high; j++, cell += across) {
      const z = cells[cell]!;
      heights[j - low] = ((Number.isNaN(z) ? lowest : z) - eye - dropPerSquare * (n * n + j * j)) / n;
    }
    const lift = options.targetHeight / n;
    cell = observer + n * away + low * across;
    if (n === 1) {
      // Nothing stands between.
      for (let j = low; j <= high; j++, cell += across)
        if (n * n + j * j <= squaredRadius && !Number.isNaN(cells[cell]!)) seen[cell] = 1;
    } else {
      let piece = 0;
      for (let j = low; j <= high; j++, cell += across) {
        const s = j / n;
        while (piece + 1 < horizon.size && horizon.from[piece + 1]! <= s) piece++;
        const top = horizon.a[piece]! + horizon.b[piece]! * s;
        if (
          heights[j - low]! + lift >= top - 1e-9 &&
          n * n + j * j <= squaredRadius &&
          !Number.isNaN(cells[cell]!)
        )
          seen[cell] = 1;
      }
    }
    if (high === low) {
      // A map one cell across: the ground has no width to interpolate over.
      const top = n === 1 ? Number.NEGATIVE_INFINITY : horizon.a[0]!;
      horizon.size = 1;
      horizon.from[0] = 0;
      horizon.a[0] = Math.max(top, heights[0]!);
      horizon.b[0] = 0;
      continue;
    }
    if (spare.from.length < horizon.size * 2 + 2 * (high - low) + 8)
      spare = newHorizon(horizon.size * 3 + 4 * reach);
    if (n === 1) startHorizon(spare, heights, low, high);
    else raiseHorizon(horizon, heights, n, low, high, spare);
    [horizon, spare] = [spare, horizon];
  }
}

const newHorizon = (length: number): Horizon => ({
  from: new Float64Array(length),
  a: new Float64Array(length),
  b: new Float64Array(length),
  size: 0,
});

function startHorizon(into: Horizon, heights: Float64Array, low: number, high: number): void {
  into.size = 0;
  for (let j = low; j < high; j++) {
    const rise = heights[j - low + 1]! - heights[j - low]!;
    addPiece(into, j, heights[j - low]! - rise * j, rise);
  }
}

function addPiece(into: Horizon, from: number, a: number, b: number): void {
  const last = into.size - 1;
  if (last >= 0 && into.a[last] === a && into.b[last] === b) return;
  into.from[into.size] = from;
  into.a[into.size] = a;
  into.b[into.size] = b;
  into.size++;
}

/** The higher of the horizon and a new column, over the directions the column spans. */
function raiseHorizon(
  horizon: Horizon,
  heights: Float64Array,
  n: number,
  low: number,
  high: number,
  into: Horizon,
): void {
  into.size = 0;
  const { from, a, b, size } = horizon;
  const end = high / n;
  let s = low / n;
  let piece = 0;
  while (piece + 1 < size && from[piece + 1]! <= s) piece++;
  let j = low;
  // Between cells j and j + 1 of the column the ground is a line over s.
  let rise = (heights[j - low + 1]! - heights[j - low]!) * n;
  let base = heights[j - low]! - rise * (j / n);
  while (s < end) {
    const nextKnot = j + 1 >= high ? end : (j + 1) / n;
    const nextPiece = piece + 1 < size ? from[piece + 1]! : end;
    const to = Math.min(nextKnot, nextPiece, end);
    const before = base + rise * s - (a[piece]! + b[piece]! * s);
    const after = base + rise * to - (a[piece]! + b[piece]! * to);
    if (before <= 0 && after <= 0) addPiece(into, s, a[piece]!, b[piece]!);
    else if (before >= 0 && after >= 0) addPiece(into, s, base, rise);
    else {
      const crossing = s + ((to - s) * before) / (before - after);
      if (before > 0) {
        addPiece(into, s, base, rise);
        addPiece(into, crossing, a[piece]!, b[piece]!);
      } else {
        addPiece(into, s, a[piece]!, b[piece]!);
        addPiece(into, crossing, base, rise);
      }
    }
    s = to;
    if (nextPiece <= s && piece + 1 < size) piece++;
    if (nextKnot <= s && j + 1 < high) {
      j++;
      rise = (heights[j - low + 1]! - heights[j - low]!) * n;
      base = heights[j - low]! - rise * (j / n);
    }
  }
}
