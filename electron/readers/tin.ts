import Delaunator from 'delaunator';
import { distanceTo } from '../../core/grid/distance.ts';
import type { Grid } from '../../core/grid/frame.ts';

/**
 * Fills cells between known ones from the plane of the Delaunay triangle they lie in, the usual way from the
 * ground points of a laser survey to a raster (Delaunay triangulation by the delaunator library). Only known
 * cells beside an unknown one are corners: no others shape the gaps.
 *
 * @param reach cells farther than this from a known one stay no data, m
 * @returns the grid and how many cells were filled
 */
export function bridgeGaps(grid: Grid, reach: number): { bridged: Grid; cells: number } {
  const { frame, cells } = grid;
  const { width } = frame;
  const known = new Uint8Array(cells.length);
  for (let i = 0; i < cells.length; i++) known[i] = Number.isNaN(cells[i]!) ? 0 : 1;
  const corners = rim(known, width, frame.height);
  if (corners.length < 3) return { bridged: grid, cells: 0 };
  const distance = distanceTo(frame, known).cells;
  const coordinates = new Float64Array(corners.length * 2);
  for (let k = 0; k < corners.length; k++) {
    coordinates[2 * k] = corners[k]! % width;
    coordinates[2 * k + 1] = Math.floor(corners[k]! / width);
  }
  const { triangles } = new Delaunator(coordinates);
  const out = cells.slice();
  let count = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!];
    const [ax, ay, bx, by, cx, cy] = [
      coordinates[2 * a]!,
      coordinates[2 * a + 1]!,
      coordinates[2 * b]!,
      coordinates[2 * b + 1]!,
      coordinates[2 * c]!,
      coordinates[2 * c + 1]!,
    ];
    const area = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay);
    if (area === 0) continue;
    const [za, zb, zc] = [cells[corners[a]!]!, cells[corners[b]!]!, cells[corners[c]!]!];
    const [left, right] = [Math.min(ax, bx, cx), Math.max(ax, bx, cx)];
    for (let y = Math.min(ay, by, cy); y <= Math.max(ay, by, cy); y++)
      for (let x = left; x <= right; x++) {
        const i = y * width + x;
        if (known[i] || distance[i]! > reach || !Number.isNaN(out[i]!)) continue;
        const u = ((bx - x) * (cy - y) - (cx - x) * (by - y)) / area;
        const v = ((cx - x) * (ay - y) - (ax - x) * (cy - y)) / area;
        const w = 1 - u - v;
        if (u < -1e-12 || v < -1e-12 || w < -1e-12) continue;
        out[i] = u * za + v * zb + w * zc;
        count++;
      }
  }
  return count > 0 ? { bridged: { frame, cells: out }, cells: count } : { bridged: grid, cells: 0 };
}

/** Known cells with an unknown one among their eight neighbours. */
function rim(known: Uint8Array, width: number, height: number): Int32Array {
  const found: number[] = [];
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++) {
      if (!known[i]) continue;
      let beside = false;
      for (let dy = -1; dy <= 1 && !beside; dy++)
        for (let dx = -1; dx <= 1; dx++) {
          const [nx, ny] = [x + dx, y + dy];
          if (nx < 0 || ny < 0 || nx >= width || ny >= height) continue;
          if (!known[ny * width + nx]) {
            beside = true;
            break;
          }
        }
      if (beside) found.push(i);
    }
  return Int32Array.from(found);
}
