import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { NEIGHBOURS_8 } from '../grid/neighbours.ts';
import { type Progress, silent } from '../grid/progress.ts';

/** The ten commonest patterns; 0 is no data. */
export const GEOMORPHON = {
  flat: 1,
  peak: 2,
  ridge: 3,
  shoulder: 4,
  spur: 5,
  slope: 6,
  hollow: 7,
  footslope: 8,
  valley: 9,
  pit: 10,
} as const;

const { flat, peak, ridge, shoulder, spur, slope, hollow, footslope, valley, pit } = GEOMORPHON;

/** By how many of the eight lines of sight end lower (row) and higher (column); table from memory. */
const FORMS: readonly (readonly number[])[] = [
  [flat, flat, flat, footslope, footslope, valley, valley, valley, pit],
  [flat, flat, footslope, footslope, footslope, valley, valley, valley],
  [flat, shoulder, slope, slope, hollow, hollow, valley],
  [shoulder, shoulder, slope, slope, slope, hollow],
  [shoulder, shoulder, spur, slope, slope],
  [ridge, ridge, spur, spur],
  [ridge, ridge, ridge],
  [ridge, ridge],
  [peak],
];

/**
 * Landform patterns by line of sight (Jasiewicz & Stepinski, "Geomorphons: a pattern recognition approach to
 * classification and mapping of landforms", Geomorphology 182, 2013): in each of eight directions the ground
 * counts as higher when the highest angle up outweighs the deepest angle down by more than `flatness`, lower
 * the other way round, level in between.
 *
 * Lines of sight end at the map's edge and at no data. NaN elevation gives 0.
 *
 * @param search how far to look, cells
 * @param flatness degrees
 */
export function geomorphons(
  elevation: Grid,
  search: number,
  flatness: number,
  progress: Progress = silent,
): Grid<Uint8Array> {
  const { frame, cells } = elevation;
  assertOnFrame(frame, elevation);
  const { width, height, cellSize } = frame;
  const codes = new Uint8Array(cells.length);
  const limit = Math.tan((flatness * Math.PI) / 180);
  const { dx, dy, length } = NEIGHBOURS_8;
  for (let y = 0, i = 0; y < height; y++) {
    if ((y & 31) === 0) progress(y / height);
    for (let x = 0; x < width; x++, i++) {
      const z = cells[i]!;
      if (Number.isNaN(z)) continue;
      let higher = 0;
      let lower = 0;
      for (let k = 0; k < 8; k++) {
        const stepX = dx[k]!;
        const stepY = dy[k]!;
        const roomX = stepX > 0 ? width - 1 - x : stepX < 0 ? x : search;
        const roomY = stepY > 0 ? height - 1 - y : stepY < 0 ? y : search;
        const steps = Math.min(Math.floor(search / length[k]!), roomX, roomY);
        const stride = stepY * width + stepX;
        let up = Number.NEGATIVE_INFINITY;
        let down = Number.POSITIVE_INFINITY;
        for (let n = 1, j = i + stride; n <= steps; n++, j += stride) {
          const rise = (cells[j]! - z) / n;
          if (Number.isNaN(rise)) break;
          if (rise > up) up = rise;
          if (rise < down) down = rise;
        }
        if (up < down) continue;
        const run = length[k]! * cellSize;
        // The sum of the two angles against the limit, by the tangent of a sum: no arctangents.
        const rise = up / run;
        const fall = down / run;
        const sum = rise + fall;
        const rest = 1 - rise * fall;
        if (rest <= 0 ? sum > 0 : sum > limit * rest) higher++;
        else if (rest <= 0 || sum < -limit * rest) lower++;
      }
      codes[i] = FORMS[lower]![higher]!;
    }
  }
  return { frame, cells: codes };
}
