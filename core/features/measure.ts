import type { Geometry, Position } from 'geojson';
import type { Point } from '../grid/frame.ts';
import { pathLength, ringArea } from '../grid/simplify.ts';
import { pathsOf } from './shapes.ts';

/** Planar length of a geometry's lines, m on the grid; a polygon gives its outline, points nothing. */
export const lengthOf = (geometry: Geometry): number =>
  pathsOf(geometry).reduce((sum, path) => sum + pathLength(path), 0);

/** Planar area of a geometry's polygons less their holes, m² on the grid (shoelace formula); 0 for lines. */
export function areaOf(geometry: Geometry): number {
  const ring = (corners: Position[]) => Math.abs(ringArea(corners as Point[]));
  const polygon = ([outer = [], ...holes]: Position[][]) =>
    ring(outer) - holes.reduce((sum, hole) => sum + ring(hole), 0);
  if (geometry.type === 'Polygon') return polygon(geometry.coordinates);
  if (geometry.type === 'MultiPolygon')
    return geometry.coordinates.reduce((sum, rings) => sum + polygon(rings), 0);
  if (geometry.type === 'GeometryCollection')
    return geometry.geometries.reduce((sum, part) => sum + areaOf(part), 0);
  return 0;
}

/** The spot at a distance from a path's start, m; its end where it is shorter. */
export function along(path: readonly Point[], distance: number): Point {
  let left = distance;
  for (let i = 1; i < path.length; i++) {
    const [a, b] = [path[i - 1]!, path[i]!];
    const step = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (step > 0 && left <= step) {
      const t = left / step;
      return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    }
    left -= step;
  }
  return path.at(-1)!;
}
