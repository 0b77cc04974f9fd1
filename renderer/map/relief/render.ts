import type { Block } from './block.ts';
import { type Camera, levelOf, rayOf, type Size, strideOf, termsOf } from './camera.ts';

/** A picture laid over the whole block, north up: packed pixels as canvases keep them. */
export interface Drape extends Size {
  pixels: Uint32Array;
}

/** How far the cut faces reach below the lowest ground: this share of the relief, and of the longer side at least. */
const FOOT = 0.12;
const LEAST_FOOT = 1 / 40;

/**
 * Draws the block into `out` (width x height, cleared first). Every column is walked from the near end of its ground
 * to the far end; what is drawn once is never drawn over, so nearer ground hides farther ground exactly. Unknown
 * ground is left out, with a cut face where the known begins again. The near faces of the block are filled with `walls`, one tone for each of the two that show.
 */
export function renderBlock(
  out: Uint32Array,
  size: Size,
  block: Block,
  camera: Camera,
  drape: Drape,
  walls: readonly [number, number],
): void {
  out.fill(0);
  const { width, height } = size;
  const { columns, rows, cell, heights, west, north } = block;
  const terms = termsOf(camera, size, levelOf(block));
  const stride = strideOf(block, terms);
  const foot =
    block.low - Math.max(FOOT * (block.high - block.low), LEAST_FOOT * cell * Math.max(columns, rows));
  const [perColumn, perRow] = [drape.width / columns, drape.height / rows];
  for (let px = 0; px < width; px++) {
    const ray = rayOf(block, camera, terms, px + 0.5);
    if (!ray) continue;
    const { x0, y0, dx, dy, near, far } = ray;
    let top = height;
    let entered = false;
    for (let away = near; away <= far; away += stride) {
      const c = (x0 + dx * away - west) / cell;
      const r = (north - y0 - dy * away) / cell;
      const column = c < 0.5 ? 0 : c > columns - 0.5 ? columns - 1 : c - 0.5;
      const row = r < 0.5 ? 0 : r > rows - 0.5 ? rows - 1 : r - 0.5;
      let c0 = column | 0;
      let r0 = row | 0;
      if (c0 > columns - 2) c0 = columns - 2;
      if (r0 > rows - 2) r0 = rows - 2;
      const i = r0 * columns + c0;
      const u = column - c0;
      const v = row - r0;
      const z =
        (heights[i]! * (1 - u) + heights[i + 1]! * u) * (1 - v) +
        (heights[i + columns]! * (1 - u) + heights[i + columns + 1]! * u) * v;
      const y = terms.middle[1] - away * terms.away - (z - terms.level) * terms.up;
      if (Number.isNaN(z)) {
        entered = false;
        continue;
      }
      if (!entered) {
        entered = true;
        const bottom = terms.middle[1] - away * terms.away - (foot - terms.level) * terms.up;
        const from = Math.max(0, Math.ceil(y));
        const to = Math.min(top, Math.ceil(bottom));
        // The face along a row of cells and the face along a column take different tones.
        const tone = Math.min(r, rows - r) < Math.min(c, columns - c) ? walls[0] : walls[1];
        for (let py = from; py < to; py++) out[py * width + px] = tone;
        top = Math.min(top, from);
      }
      if (!(y < top)) continue;
      let tx = (c * perColumn) | 0;
      let ty = (r * perRow) | 0;
      if (tx < 0) tx = 0;
      else if (tx >= drape.width) tx = drape.width - 1;
      if (ty < 0) ty = 0;
      else if (ty >= drape.height) ty = drape.height - 1;
      const colour = drape.pixels[ty * drape.width + tx]!;
      const from = y < 0 ? 0 : Math.ceil(y);
      for (let py = from; py < top; py++) out[py * width + px] = colour;
      top = from;
      if (top === 0) break;
    }
  }
}
