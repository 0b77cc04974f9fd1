import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';

/** Values of the shadow grid; 0 is no data. */
export const LIT = { shadow: 1, sun: 2 } as const;

/**
 * Which ground the sun reaches over the terrain around it. From each cell the way to the sun is followed, with the
 * ground interpolated between the two cells wherever it crosses a row (or a column, for a sun nearer east or west),
 * until ground stands in it or it has risen above all ground. Trees are not reckoned with.
 *
 * Unknown ground throws no shadow, and neither does ground beyond the map.
 *
 * @param azimuth of the sun, degrees clockwise from *grid* north: the true one less the frame's convergence
 * @param altitude of the sun, degrees; at or below 0 all is in shadow
 */
export function terrainShadow(
  elevation: Grid,
  azimuth: number,
  altitude: number,
  progress: Progress = silent,
): Grid<Uint8Array> {
  const { frame, cells } = elevation;
  assertOnFrame(frame, elevation);
  const { width, height, cellSize } = frame;
  const lit = new Uint8Array(cells.length);
  const east = Math.sin((azimuth * Math.PI) / 180);
  const south = -Math.cos((azimuth * Math.PI) / 180);
  const longer = Math.max(Math.abs(east), Math.abs(south));
  // One step goes a whole cell along the longer axis and a part of one along the other.
  const alongX = Math.abs(east) >= Math.abs(south);
  const main = alongX ? Math.sign(east) : Math.sign(south) * width;
  const side = alongX ? width : 1;
  const drift = (alongX ? south : east) / longer;
  const rise = (cellSize / longer) * Math.tan((altitude * Math.PI) / 180);
  let highest = Number.NEGATIVE_INFINITY;
  for (const z of cells) if (z > highest) highest = z;

  for (let y = 0, i = 0; y < height; y++) {
    if ((y & 63) === 0) progress(y / height);
    for (let x = 0; x < width; x++, i++) {
      const z = cells[i]!;
      if (Number.isNaN(z)) continue;
      lit[i] = LIT.shadow;
      if (altitude <= 0) continue;
      const ahead = alongX ? (east > 0 ? width - 1 - x : x) : south > 0 ? height - 1 - y : y;
      const across = alongX ? y : x;
      const last = (alongX ? height : width) - 1;
      let shaded = false;
      for (let n = 1; n <= ahead; n++) {
        const line = z + n * rise;
        if (line > highest) break;
        const at = across + n * drift;
        if (at < 0 || at > last) break;
        const low = Math.floor(at);
        const t = at - low;
        const j = i + n * main + (low - across) * side;
        const ground = t > 0 ? cells[j]! * (1 - t) + cells[j + side]! * t : cells[j]!;
        if (ground > line + 1e-9) {
          shaded = true;
          break;
        }
      }
      if (!shaded) lit[i] = LIT.sun;
    }
  }
  return { frame, cells: lit };
}
