import type { Point } from './frame.ts';

/**
 * Douglas & Peucker (1973): drops the points of a path that lie within `tolerance` metres of the line between
 * the kept ones. The ends stay; a closed ring (last point equal to first) also keeps the point farthest from
 * its start, so it never collapses to a line back and forth unless it is one.
 */
export function simplifyPath(path: readonly Point[], tolerance: number): Point[] {
  const n = path.length;
  if (n < 3 || !(tolerance > 0)) return path.slice();
  const xs = Float64Array.from(path, (point) => point[0]);
  const ys = Float64Array.from(path, (point) => point[1]);
  const keep = new Uint8Array(n);
  keepPoints(xs, ys, new Float64Array(n).fill(1 / tolerance ** 2), n, keep);
  return path.filter((_, i) => keep[i] === 1);
}

/**
 * The same on coordinate lists, with a tolerance of its own for every point.
 *
 * @param weights one over the square of each point's tolerance
 * @param count points of the path, at the start of the lists
 * @param keep gets 1 for each point kept, 0 for the others
 */
export function keepPoints(
  xs: Float64Array,
  ys: Float64Array,
  weights: Float64Array,
  count: number,
  keep: Uint8Array,
): void {
  keep.fill(0, 0, count);
  const last = count - 1;
  keep[0] = 1;
  keep[last] = 1;
  // Ends of the spans still to look at, the span at hand last: each starts where the one before it ends.
  const stack: number[] = [last];
  let a = 0;
  if (xs[0] === xs[last] && ys[0] === ys[last]) {
    let far = 0;
    let farthest = -1;
    for (let i = 1; i < last; i++) {
      const d = (xs[i]! - xs[0]!) ** 2 + (ys[i]! - ys[0]!) ** 2;
      if (d > farthest) {
        farthest = d;
        far = i;
      }
    }
    keep[far] = 1;
    stack.push(far);
  }
  while (stack.length > 0) {
    const b = stack[stack.length - 1]!;
    const ax = xs[a]!;
    const ay = ys[a]!;
    const dx = xs[b]! - ax;
    const dy = ys[b]! - ay;
    const span = dx * dx + dy * dy;
    const perSpan = 1 / span;
    let worst = 1;
    let at = -1;
    for (let i = a + 1; i < b; i++) {
      const px = xs[i]! - ax;
      const py = ys[i]! - ay;
      const along = px * dx + py * dy;
      // Beside the line the distance is square to it, beyond its ends it is to the end.
      let d: number;
      if (along <= 0) d = px * px + py * py;
      else if (along >= span) d = (px - dx) * (px - dx) + (py - dy) * (py - dy);
      else {
        const off = px * dy - py * dx;
        d = off * off * perSpan;
      }
      d *= weights[i]!;
      if (d > worst) {
        worst = d;
        at = i;
      }
    }
    if (at >= 0) {
      keep[at] = 1;
      stack.push(at);
    } else {
      stack.pop();
      a = b;
    }
  }
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
