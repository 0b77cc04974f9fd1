import type { Point } from '../grid/frame.ts';

/** The point of a path so far along it and the path's direction there; null beyond its ends. */
export function placeAlong(path: readonly Point[], along: number): { spot: Point; heading: Point } | null {
  let left = along;
  for (let k = 0; k + 1 < path.length && left >= 0; k++) {
    const [ax, ay] = path[k]!;
    const [dx, dy] = [path[k + 1]![0] - ax, path[k + 1]![1] - ay];
    const length = Math.hypot(dx, dy);
    if (length > 0 && left <= length)
      return {
        spot: [ax + (dx * left) / length, ay + (dy * left) / length],
        heading: [dx / length, dy / length],
      };
    left -= length;
  }
  return null;
}

/** The part of a path between two distances along it, m; cut off at its ends. */
export function stretchOf(path: readonly Point[], from: number, to: number): Point[] {
  const stretch: Point[] = [];
  let start = 0;
  for (let k = 0; k + 1 < path.length; k++) {
    const [[ax, ay], [bx, by]] = [path[k]!, path[k + 1]!];
    const length = Math.hypot(bx - ax, by - ay);
    const [first, last] = [Math.max(0, from - start), Math.min(length, to - start)];
    if (length > 0 && first < last) {
      const at = (along: number): Point => [
        ax + ((bx - ax) * along) / length,
        ay + ((by - ay) * along) / length,
      ];
      if (stretch.length === 0) stretch.push(at(first));
      stretch.push(at(last));
    }
    start += length;
  }
  return stretch;
}
