import { assertOnFrame, type Grid } from '../grid/frame.ts';

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
 * Slope, aspect and shade in one pass over the third-order finite difference of Horn, "Hill shading and the
 * reflectance map", Proc. IEEE 69 (1981).
 *
 * NaN elevation gives NaN (shade 0). Where a neighbour is missing, at the map's edge or beside no data, it is
 * continued in a straight line from the cell opposite; when that is missing too, from the plane through the sides.
 */
export function surfaceOf(elevation: Grid, light: Light): Surface {
  const { frame, cells } = elevation;
  assertOnFrame(frame, elevation);
  const { width, height, cellSize } = frame;
  const slope = new Float32Array(cells.length);
  const aspect = new Float32Array(cells.length);
  const shade = new Uint8Array(cells.length);
  const perCell = 1 / (8 * cellSize);
  const azimuth = light.azimuth / DEGREES;
  const altitude = light.altitude / DEGREES;
  const sunEast = Math.sin(azimuth) * Math.cos(altitude);
  const sunNorth = Math.cos(azimuth) * Math.cos(altitude);
  const sunUp = Math.sin(altitude);
  const window = new Float64Array(9);

  for (let y = 0, i = 0; y < height; y++) {
    const inner = y > 0 && y < height - 1;
    for (let x = 0; x < width; x++, i++) {
      let east = Number.NaN;
      let north = Number.NaN;
      if (inner && x > 0 && x < width - 1) {
        const a = i - width;
        const g = i + width;
        const nw = cells[a - 1]!;
        const ne = cells[a + 1]!;
        const sw = cells[g - 1]!;
        const se = cells[g + 1]!;
        east = (ne - nw + 2 * (cells[i + 1]! - cells[i - 1]!) + se - sw) * perCell;
        north = (nw - sw + 2 * (cells[a]! - cells[g]!) + ne - se) * perCell;
      }
      // A missing neighbour, or a cell that has no data itself (the middle is not in Horn's sums).
      if (Number.isNaN(east + north + cells[i]!)) {
        if (Number.isNaN(cells[i]!)) {
          slope[i] = Number.NaN;
          aspect[i] = Number.NaN;
          continue;
        }
        completeWindow(cells, width, height, x, y, window);
        east = (window[2]! - window[0]! + 2 * (window[5]! - window[3]!) + window[8]! - window[6]!) * perCell;
        north = (window[0]! - window[6]! + 2 * (window[1]! - window[7]!) + window[2]! - window[8]!) * perCell;
      }
      const squared = east * east + north * north;
      slope[i] = Math.atan(Math.sqrt(squared)) * DEGREES;
      if (squared === 0) aspect[i] = Number.NaN;
      else {
        const facing = Math.atan2(-east, -north) * DEGREES;
        aspect[i] = facing < 0 ? facing + 360 : facing;
      }
      const lit = (sunUp - east * sunEast - north * sunNorth) / Math.sqrt(1 + squared);
      shade[i] = lit > 0 ? 1.5 + 254 * lit : 1;
    }
  }
  return { slope: { frame, cells: slope }, aspect: { frame, cells: aspect }, shade: { frame, cells: shade } };
}

/**
 * The 3 x 3 window around a cell that has data, row by row from the north-west, with missing neighbours
 * continued from the cell opposite.
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
      window[k] = centre;
      window[8 - k] = centre;
    } else {
      const side = window[k === 0 ? 3 : 5]!;
      window[k] = window[1]! + side - centre;
      window[8 - k] = 2 * centre - window[k]!;
    }
  }
}
