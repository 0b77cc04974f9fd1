import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';

const DEGREES = 180 / Math.PI;

/** Where the light of the shade comes from, degrees: bearing from grid north and height above the horizon. */
export interface Light {
  azimuth: number;
  altitude: number;
}

export interface Surface {
  /** Degrees from level. */
  slope: Grid<Float32Array>;
  /** The way the ground faces, degrees clockwise from grid north; NaN where it is level. */
  aspect: Grid<Float32Array>;
  /** Lambert shade 1..255; 0 no data. */
  shade: Grid<Uint8Array>;
}

/**
 * Minimax odd polynomial for the arctangent on [0, 1] with six terms, scaled to degrees: within 1e-4 degrees
 * (fitted by Lawson's iteration). The library's arctangent took two thirds of the whole pass.
 */
const A0 = 0.99997721908 * DEGREES;
const A1 = -0.33262282784 * DEGREES;
const A2 = 0.19354037576 * DEGREES;
const A3 = -0.11642648119 * DEGREES;
const A4 = 0.05264735061 * DEGREES;
const A5 = -0.0117191354 * DEGREES;

/**
 * Slope, aspect and shade in one sweep over the third-order finite difference of Horn, "Hill shading and the
 * reflectance map", Proc. IEEE 69 (1981). Angles are good to 1e-4 degrees.
 *
 * NaN elevation gives NaN (shade 0). Where a neighbour is missing, at the map's edge or beside no data, it is
 * continued in a straight line from the cell opposite; when that is missing too, from the pair of cells beside it.
 */
export function surfaceOf(elevation: Grid, light: Light, progress: Progress = silent): Surface {
  const { frame, cells } = elevation;
  assertOnFrame(frame, elevation);
  const { width, height } = frame;
  const slope = new Float32Array(cells.length);
  const aspect = new Float32Array(cells.length);
  const shade = new Uint8Array(cells.length);
  const azimuth = light.azimuth / DEGREES;
  const altitude = light.altitude / DEGREES;
  const sunEast = Math.sin(azimuth) * Math.cos(altitude);
  const sunNorth = Math.cos(azimuth) * Math.cos(altitude);
  const sunUp = Math.sin(altitude);
  // One row of gradients at a time stays in the nearest cache; short loops keep their numbers in registers.
  const easts = new Float64Array(width);
  const norths = new Float64Array(width);

  for (let y = 0; y < height; y++) {
    if ((y & 127) === 0) progress(y / height);
    gradientRow(elevation, y, easts, norths);
    const start = y * width;
    for (let x = 0; x < width; x++) {
      const east = easts[x]!;
      const north = norths[x]!;
      const squared = east * east + north * north;
      const rise = Math.sqrt(squared);
      const lit = (sunUp - east * sunEast - north * sunNorth) / Math.sqrt(1 + squared);
      shade[start + x] = lit > 0 ? 1.5 + 254 * lit : lit <= 0 ? 1 : 0;
      if (rise <= 1) {
        const q = squared;
        slope[start + x] = rise * (A0 + q * (A1 + q * (A2 + q * (A3 + q * (A4 + q * A5)))));
      } else {
        const r = 1 / rise;
        const q = r * r;
        slope[start + x] = 90 - r * (A0 + q * (A1 + q * (A2 + q * (A3 + q * (A4 + q * A5)))));
      }
      // Half the angle from the east-west line has a tangent between -1 and 1, which needs no cases.
      // Level ground gives 0 / 0, which is the NaN it should have.
      const half = north / (rise + Math.abs(east));
      const q = half * half;
      const turn = 2 * half * (A0 + q * (A1 + q * (A2 + q * (A3 + q * (A4 + q * A5)))));
      aspect[start + x] = east > 0 ? 270 - turn : 90 + turn;
    }
  }
  return { slope: { frame, cells: slope }, aspect: { frame, cells: aspect }, shade: { frame, cells: shade } };
}

/** Horn's rise to the east and to the north for one row, as tangents; NaN where the cell has no data. */
function gradientRow(elevation: Grid, y: number, easts: Float64Array, norths: Float64Array): void {
  const { cells } = elevation;
  const { width, height, cellSize } = elevation.frame;
  const start = y * width;
  const scale = 1 / (8 * cellSize);
  let check = Number.NaN;
  if (y > 0 && y < height - 1 && width > 2) {
    let i = start + 1;
    // Weighted sum and difference of the column west of the cell, of its own, and of the next.
    let sumWest = cells[i - 1 - width]! + 2 * cells[i - 1]! + cells[i - 1 + width]!;
    let fallWest = cells[i - 1 - width]! - cells[i - 1 + width]!;
    let sum = cells[i - width]! + 2 * cells[i]! + cells[i + width]!;
    let fall = cells[i - width]! - cells[i + width]!;
    check = sumWest + sum;
    for (let x = 1; x < width - 1; x++, i++) {
      const northEast = cells[i + 1 - width]!;
      const southEast = cells[i + 1 + width]!;
      const sumEast = northEast + 2 * cells[i + 1]! + southEast;
      const fallEast = northEast - southEast;
      easts[x] = (sumEast - sumWest) * scale;
      norths[x] = (fallWest + 2 * fall + fallEast) * scale;
      check += sumEast;
      sumWest = sum;
      sum = sumEast;
      fallWest = fall;
      fall = fallEast;
    }
  }

  // Every cell where a neighbour may be missing: the ends of the row, or all of it once a NaN came by.
  const window = new Float64Array(9);
  const step = Number.isNaN(check) ? 1 : Math.max(1, width - 1);
  for (let x = 0; x < width; x += step) {
    if (Number.isNaN(cells[start + x]!)) {
      easts[x] = Number.NaN;
      norths[x] = Number.NaN;
      continue;
    }
    completeWindow(cells, width, height, x, y, window);
    const [nw, n, ne, w, , e, sw, s, se] = window;
    easts[x] = (ne! - nw! + 2 * (e! - w!) + se! - sw!) * scale;
    norths[x] = (nw! - sw! + 2 * (n! - s!) + ne! - se!) * scale;
  }
}

/**
 * The 3 x 3 window around a cell that has data, row by row from the north-west, with missing neighbours
 * continued as `surfaceOf` says.
 */
export function completeWindow(
  cells: Float32Array,
  width: number,
  height: number,
  x: number,
  y: number,
  window: Float64Array,
): void {
  const centre = cells[y * width + x]!;
  for (let k = 0; k < 9; k++) {
    const column = x + (k % 3) - 1;
    const row = y + Math.floor(k / 3) - 1;
    const outside = column < 0 || row < 0 || column >= width || row >= height;
    window[k] = outside ? Number.NaN : cells[row * width + column]!;
  }
  // Sides before corners: a corner with no opposite either lies on the plane through the sides beside it.
  for (const k of [1, 3, 0, 2]) {
    const here = window[k]!;
    const there = window[8 - k]!;
    if (!Number.isNaN(here + there)) continue;
    if (!Number.isNaN(there)) window[k] = 2 * centre - there;
    else if (!Number.isNaN(here)) window[8 - k] = 2 * centre - here;
    else if (k & 1) {
      const rise = riseBeside(window, k);
      window[k] = centre + rise;
      window[8 - k] = centre - rise;
    } else {
      const side = window[k === 0 ? 3 : 5]!;
      window[k] = window[1]! + side - centre;
      window[8 - k] = 2 * centre - window[k]!;
    }
  }
}

/** Pairs of neighbours that run the same way as from the cell to its north (1) or west (3) side, far end first. */
const BESIDE: Readonly<Record<number, readonly number[]>> = {
  1: [2, 5, 0, 3, 5, 8, 3, 6],
  3: [6, 7, 0, 1, 7, 8, 1, 2],
};

/** Rise towards a side when neither it nor the side opposite is known: that of a neighbouring pair, else none. */
function riseBeside(window: Float64Array, side: number): number {
  const pairs = BESIDE[side]!;
  for (let n = 0; n < pairs.length; n += 2) {
    const rise = window[pairs[n]!]! - window[pairs[n + 1]!]!;
    if (!Number.isNaN(rise)) return rise;
  }
  return 0;
}
