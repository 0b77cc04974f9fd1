import type { Point } from '../grid/frame.ts';
import { arc } from './wedge.ts';

/**
 * A crescent round a blind: a ring open over `gap` degrees at the back.
 *
 * @param opens bearing of the middle of the opening, degrees clockwise from grid north
 * @param radius m
 */
export const crescent = (at: Point, radius: number, opens: number, gap: number): Point[] =>
  arc(at, opens + gap / 2, opens + 360 - gap / 2, radius);

/** Corners sharper than this are cut rather than run out to a spike, against the offset. */
const LONGEST = 2;

/**
 * A line beside a path at a steady distance: to its right where the offset is positive, to its left where negative, as
 * the path runs. Corners are mitred. Bends tighter than the offset are not mended.
 *
 * @param offset m
 */
export function besidePath(path: readonly Point[], offset: number): Point[] {
  const bare = path.filter((p, k) => k === 0 || p[0] !== path[k - 1]![0] || p[1] !== path[k - 1]![1]);
  if (bare.length < 2) return [];
  const normals = bare.slice(1).map(([x, y], k): Point => {
    const [dx, dy] = [x - bare[k]![0], y - bare[k]![1]];
    const length = Math.hypot(dx, dy);
    return [dy / length, -dx / length];
  });
  return bare.map(([x, y], k): Point => {
    const a = normals[Math.max(0, k - 1)]!;
    const b = normals[Math.min(k, normals.length - 1)]!;
    const [mx, my] = [a[0] + b[0], a[1] + b[1]];
    // Both normals have length one: their sum's square is 2 + 2 cos of the turn.
    const square = mx * mx + my * my;
    const stretch = square < 1e-9 ? 0 : Math.min(2 / square, LONGEST / Math.sqrt(square));
    return [x + mx * stretch * offset, y + my * stretch * offset];
  });
}
