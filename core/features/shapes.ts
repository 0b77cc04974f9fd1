import type { Geometry, Position } from 'geojson';
import type { Point } from '../grid/frame.ts';

const points = (positions: Position[]): Point[] => positions.map(([x, y]) => [x!, y!]);

/** The line strings of a geometry; polygons give their rings, points nothing. */
export function pathsOf(geometry: Geometry): Point[][] {
  switch (geometry.type) {
    case 'LineString':
      return [points(geometry.coordinates)];
    case 'MultiLineString':
      return geometry.coordinates.map(points);
    case 'Polygon':
      return geometry.coordinates.map(points);
    case 'MultiPolygon':
      return geometry.coordinates.flat().map(points);
    case 'GeometryCollection':
      return geometry.geometries.flatMap(pathsOf);
    default:
      return [];
  }
}

/** The closed rings of a geometry, outer and inner alike (even-odd filling keeps the holes out). */
export function ringsOf(geometry: Geometry): Point[][] {
  switch (geometry.type) {
    case 'Polygon':
      return geometry.coordinates.map(points);
    case 'MultiPolygon':
      return geometry.coordinates.flat().map(points);
    case 'GeometryCollection':
      return geometry.geometries.flatMap(ringsOf);
    default:
      return [];
  }
}

/** The middle of a geometry's extent: good enough to place a point or a short line. */
export function middleOf(geometry: Geometry): Point | null {
  let [west, south, east, north] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  const add = ([x, y]: Position): void => {
    west = Math.min(west, x!);
    east = Math.max(east, x!);
    south = Math.min(south, y!);
    north = Math.max(north, y!);
  };
  const walk = (g: Geometry): void => {
    if (g.type === 'Point') add(g.coordinates);
    else if (g.type === 'MultiPoint') g.coordinates.forEach(add);
    else if (g.type === 'GeometryCollection') g.geometries.forEach(walk);
    else for (const path of pathsOf(g)) path.forEach(add);
  };
  walk(geometry);
  return west <= east ? [(west + east) / 2, (south + north) / 2] : null;
}
