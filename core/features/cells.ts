import type { Geometry, Position } from 'geojson';
import type { Frame } from '../grid/frame.ts';

/** Calls `visit` with the index of every cell whose centre lies inside the polygons of a geometry (even-odd rule). */
export function cellsInside(frame: Frame, geometry: Geometry, visit: (index: number) => void): void {
  if (geometry.type === 'Polygon') fillRings(frame, geometry.coordinates, visit);
  else if (geometry.type === 'MultiPolygon')
    for (const rings of geometry.coordinates) fillRings(frame, rings, visit);
  else if (geometry.type === 'GeometryCollection')
    for (const inner of geometry.geometries) cellsInside(frame, inner, visit);
}

function fillRings(frame: Frame, rings: Position[][], visit: (index: number) => void): void {
  const { west, north, cellSize, width, height } = frame;
  let top = height;
  let bottom = -1;
  for (const ring of rings) {
    for (const [, y] of ring) {
      top = Math.min(top, Math.ceil((north - y!) / cellSize - 0.5));
      bottom = Math.max(bottom, Math.floor((north - y!) / cellSize - 0.5));
    }
  }
  for (let row = Math.max(0, top); row <= Math.min(height - 1, bottom); row++) {
    const y = north - (row + 0.5) * cellSize;
    const cuts: number[] = [];
    for (const ring of rings) {
      for (let k = 1; k < ring.length; k++) {
        const [ax, ay] = ring[k - 1] as [number, number];
        const [bx, by] = ring[k] as [number, number];
        // Half-open, so that a corner on the scan line counts once.
        if (ay > y !== by > y) cuts.push(ax + ((y - ay) / (by - ay)) * (bx - ax));
      }
    }
    cuts.sort((a, b) => a - b);
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      const from = Math.max(0, Math.ceil((cuts[k]! - west) / cellSize - 0.5));
      const to = Math.min(width - 1, Math.ceil((cuts[k + 1]! - west) / cellSize - 0.5) - 1);
      for (let column = from; column <= to; column++) visit(row * width + column);
    }
  }
}

/** Calls `visit` with every cell whose centre lies within `distance` metres of the lines or points of a geometry. */
export function cellsAlong(
  frame: Frame,
  geometry: Geometry,
  distance: number,
  visit: (index: number) => void,
): void {
  const near = (path: Position[]) => {
    for (let k = path.length > 1 ? 1 : 0; k < path.length; k++)
      cellsNear(frame, path[Math.max(0, k - 1)]!, path[k]!, distance, visit);
  };
  switch (geometry.type) {
    case 'Point':
      near([geometry.coordinates]);
      break;
    case 'MultiPoint':
      for (const point of geometry.coordinates) near([point]);
      break;
    case 'LineString':
      near(geometry.coordinates);
      break;
    case 'MultiLineString':
    case 'Polygon':
      for (const path of geometry.coordinates) near(path);
      break;
    case 'MultiPolygon':
      for (const rings of geometry.coordinates) for (const path of rings) near(path);
      break;
    case 'GeometryCollection':
      for (const inner of geometry.geometries) cellsAlong(frame, inner, distance, visit);
  }
}

function cellsNear(
  frame: Frame,
  from: Position,
  to: Position,
  distance: number,
  visit: (index: number) => void,
): void {
  const { west, north, cellSize, width, height } = frame;
  // In cells from the centre of the first one.
  const ax = (from[0]! - west) / cellSize - 0.5;
  const ay = (north - from[1]!) / cellSize - 0.5;
  const bx = (to[0]! - west) / cellSize - 0.5;
  const by = (north - to[1]!) / cellSize - 0.5;
  const reach = distance / cellSize;
  const span = (bx - ax) ** 2 + (by - ay) ** 2;
  const firstRow = Math.max(0, Math.ceil(Math.min(ay, by) - reach));
  const lastRow = Math.min(height - 1, Math.floor(Math.max(ay, by) + reach));
  const firstColumn = Math.max(0, Math.ceil(Math.min(ax, bx) - reach));
  const lastColumn = Math.min(width - 1, Math.floor(Math.max(ax, bx) + reach));
  for (let row = firstRow; row <= lastRow; row++) {
    for (let column = firstColumn; column <= lastColumn; column++) {
      const along =
        span > 0 ? Math.min(1, Math.max(0, ((column - ax) * (bx - ax) + (row - ay) * (by - ay)) / span)) : 0;
      const off = (column - ax - along * (bx - ax)) ** 2 + (row - ay - along * (by - ay)) ** 2;
      if (off <= reach * reach) visit(row * width + column);
    }
  }
}
