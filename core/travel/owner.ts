import { type Feature, ofKind } from '../features/feature.ts';
import { ringsOf } from '../features/shapes.ts';
import type { Point } from '../grid/frame.ts';
import { footOn } from './barriers.ts';
import type { Owner } from './types.ts';

/** The rings of the property's boundary; empty when none is known. */
export const boundaryRings = (features: readonly Feature[]): Point[][] =>
  ofKind(features, 'boundary').flatMap(({ geometry }) => ringsOf(geometry));

/**
 * Whose ground a spot or a short line lies on. `on the line` when it reaches across the boundary or lies within
 * `tolerance` metres of it.
 */
export function ownerOf(rings: readonly Point[][], points: readonly Point[], tolerance: number): Owner {
  if (rings.length === 0) return 'unknown';
  const sides = new Set(points.map((point) => isInside(rings, point)));
  if (sides.size > 1) return 'on the line';
  for (const ring of rings)
    for (const point of points)
      if ((footOn(ring, point)?.distance ?? Infinity) <= tolerance) return 'on the line';
  return sides.has(true) ? 'inside' : 'neighbour';
}

/** Even-odd rule. */
export function isInside(rings: readonly Point[][], [x, y]: Point): boolean {
  let inside = false;
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [ax, ay] = ring[i]!;
      const [bx, by] = ring[j]!;
      if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) inside = !inside;
    }
  }
  return inside;
}
