import type { Grid } from '../../core/grid/frame.ts';
import { type SightOptions, sightDrop } from '../../core/terrain/sight.ts';

/**
 * The plain exact viewshed: each sight line walked on its own, crossing by crossing, as quickly as a straight loop
 * goes. Only every `every`-th target is looked at. Peer of `viewshed`, which must give the same answer.
 */
export function walkEveryRay(
  elevation: Grid,
  observer: number,
  options: SightOptions,
  every = 1,
): Uint8Array {
  const { cells } = elevation;
  const { width, height, cellSize } = elevation.frame;
  const seen = new Uint8Array(cells.length);
  const x0 = observer % width;
  const y0 = Math.floor(observer / width);
  const eye = cells[observer]! + options.observerHeight;
  const drop = sightDrop(cellSize, options.refraction);
  // Heights as seen from the eye, once for all lines.
  const over = new Float64Array(cells.length);
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++) over[i] = cells[i]! - eye - drop * ((x - x0) ** 2 + (y - y0) ** 2);
  for (let i = 0; i < cells.length; i += every) {
    const dx = (i % width) - x0;
    const dy = Math.floor(i / width) - y0;
    const alongX = Math.abs(dx) >= Math.abs(dy);
    const steps = alongX ? Math.abs(dx) : Math.abs(dy);
    const main = alongX ? Math.sign(dx) : Math.sign(dy) * width;
    const side = alongX ? width : 1;
    const drift = steps > 0 ? (alongX ? dy : dx) / steps : 0;
    const slope = (over[i]! + options.targetHeight) / steps + 1e-9;
    let hidden = false;
    for (let n = 1; n < steps; n++) {
      const across = n * drift;
      const low = Math.floor(across);
      const t = across - low;
      const j = observer + n * main + low * side;
      const ground = t > 0 ? over[j]! * (1 - t) + over[j + side]! * t : over[j]!;
      if (ground > slope * n) {
        hidden = true;
        break;
      }
    }
    if (!hidden) seen[i] = 1;
  }
  return seen;
}
