import { type Feature, ofKind } from './feature.ts';

/** Signed planar area of a ring in frame coordinates, m² (shoelace formula). */
function ringArea(ring: readonly (readonly number[])[]): number {
  let sum = 0;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    sum += ring[j]![0]! * ring[i]![1]! - ring[i]![0]! * ring[j]![1]!;
  }
  return sum / 2;
}

/** Area inside the boundary with its holes taken out, m² on the grid; null without a boundary. */
export function ownedArea(features: readonly Feature[]): number | null {
  const polygons = ofKind(features, 'boundary').flatMap(({ geometry }) =>
    geometry.type === 'Polygon'
      ? [geometry.coordinates]
      : geometry.type === 'MultiPolygon'
        ? geometry.coordinates
        : [],
  );
  if (polygons.length === 0) return null;
  return polygons.reduce(
    (total, [outer, ...holes]) =>
      total +
      Math.abs(ringArea(outer ?? [])) -
      holes.reduce((sum, hole) => sum + Math.abs(ringArea(hole)), 0),
    0,
  );
}
