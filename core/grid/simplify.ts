import type { Point } from './frame.ts';

/**
 * Douglas & Peucker (1973): drops the points of a path that lie within `tolerance` metres of the line between
 * the kept ones. The ends stay; a closed ring (last point equal to first) also keeps the point farthest from
 * its start, so it never collapses to a line back and forth unless it is one.
 */
export function simplifyPath(path: readonly Point[], tolerance: number): Point[] {
  const n = path.length;
  if (n < 3 || !(tolerance > 0)) return path.slice();
  const keep = new Uint8Array(n);
  keep[0] = 1;
  keep[n - 1] = 1;
  const stack: number[] = [];
  const [firstX, firstY] = path[0]!;
  if (firstX === path[n - 1]![0] && firstY === path[n - 1]![1]) {
    let far = 0;
    let farthest = -1;
    for (let i = 1; i < n - 1; i++) {
      const d = (path[i]![0] - firstX) ** 2 + (path[i]![1] - firstY) ** 2;
      if (d > farthest) {
        farthest = d;
        far = i;
      }
    }
    keep[far] = 1;
    stack.push(0, far, far, n - 1);
  } else stack.push(0, n - 1);

  const limit = tolerance * tolerance;
  while (stack.length > 0) {
    const b = stack.pop()!;
    const a = stack.pop()!;
    let worst = limit;
    let at = -1;
    for (let i = a + 1; i < b; i++) {
      const d = squaredDistance(path[i]!, path[a]!, path[b]!);
      if (d > worst) {
        worst = d;
        at = i;
      }
    }
    if (at >= 0) {
      keep[at] = 1;
      stack.push(a, at, at, b);
    }
  }
  return path.filter((_, i) => keep[i] === 1);
}

/** Squared distance from p to the segment a-b. */
function squaredDistance(p: Point, a: Point, b: Point): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const span = dx * dx + dy * dy;
  const t = span > 0 ? Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / span)) : 0;
  return (p[0] - a[0] - t * dx) ** 2 + (p[1] - a[1] - t * dy) ** 2;
}

/** Length of a path, m. */
export function pathLength(path: readonly Point[]): number {
  let length = 0;
  for (let i = 1; i < path.length; i++)
    length += Math.hypot(path[i]![0] - path[i - 1]![0], path[i]![1] - path[i - 1]![1]);
  return length;
}

/** Area inside a closed ring, m²: positive when it runs counter-clockwise. */
export function ringArea(ring: readonly Point[]): number {
  let twice = 0;
  // Taken from the first corner, so that large map coordinates do not cost digits.
  const [x0, y0] = ring[0] ?? [0, 0];
  for (let i = 1; i < ring.length; i++) {
    const [ax, ay] = ring[i - 1]!;
    const [bx, by] = ring[i]!;
    twice += (ax - x0) * (by - y0) - (bx - x0) * (ay - y0);
  }
  return twice / 2;
}
