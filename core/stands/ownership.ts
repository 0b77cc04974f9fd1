import { type Feature, ofKind } from '../features/feature.ts';
import type { Point } from '../grid/frame.ts';
import type { Owner } from '../travel/types.ts';

/** Whose ground a point lies on by the boundary features; `on the line` within `tolerance` metres of it. */
export function ownerAt(features: readonly Feature[], at: Point, tolerance: number): Owner {
  const polygons = ofKind(features, 'boundary').flatMap(({ geometry }) =>
    geometry.type === 'Polygon'
      ? [geometry.coordinates]
      : geometry.type === 'MultiPolygon'
        ? geometry.coordinates
        : [],
  );
  if (polygons.length === 0) return 'unknown';
  let inside = false;
  for (const rings of polygons) {
    let within = false;
    for (const ring of rings) {
      for (let k = 1; k < ring.length; k++) {
        const [ax, ay] = ring[k - 1] as Point;
        const [bx, by] = ring[k] as Point;
        const span = (bx - ax) ** 2 + (by - ay) ** 2;
        const t =
          span > 0
            ? Math.min(1, Math.max(0, ((at[0] - ax) * (bx - ax) + (at[1] - ay) * (by - ay)) / span))
            : 0;
        if (Math.hypot(at[0] - ax - t * (bx - ax), at[1] - ay - t * (by - ay)) <= tolerance)
          return 'on the line';
        if (ay > at[1] !== by > at[1] && at[0] < ax + ((at[1] - ay) / (by - ay)) * (bx - ax))
          within = !within;
      }
    }
    inside ||= within;
  }
  return inside ? 'inside' : 'neighbour';
}
