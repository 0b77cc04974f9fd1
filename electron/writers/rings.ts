import type { Geometry, Position } from 'geojson';

/** Twice the signed area of a ring about its first corner: positive when it runs counter-clockwise. */
export function windingOf(ring: readonly Position[]): number {
  const [x0, y0] = ring[0] ?? [0, 0];
  let sum = 0;
  for (let index = 1; index < ring.length; index++) {
    const [ax, ay] = ring[index - 1]!;
    const [bx, by] = ring[index]!;
    sum += (ax! - x0!) * (by! - y0!) - (bx! - x0!) * (ay! - y0!);
  }
  return sum;
}

/**
 * A polygon, or several, from the rings of an outline: counter-clockwise rings are outer ones, clockwise rings holes
 * of the first outer ring that holds them.
 */
export function polygonOf(rings: readonly Position[][]): Geometry {
  const polygons = rings.filter((ring) => windingOf(ring) > 0).map((ring) => [[...ring]]);
  for (const hole of rings.filter((ring) => windingOf(ring) < 0)) {
    const around = polygons.length === 1 ? polygons[0] : polygons.find(([outer]) => holds(outer!, hole));
    around?.push([...hole]);
  }
  return polygons.length === 1
    ? { type: 'Polygon', coordinates: polygons[0]! }
    : { type: 'MultiPolygon', coordinates: polygons };
}

/** Whether the middle of the hole's first side lies inside the ring (even-odd rule). */
function holds(ring: readonly Position[], hole: readonly Position[]): boolean {
  const x = (hole[0]![0]! + hole[1]![0]!) / 2;
  const y = (hole[0]![1]! + hole[1]![1]!) / 2;
  let inside = false;
  for (let index = 1; index < ring.length; index++) {
    const [ax, ay] = ring[index - 1]! as [number, number];
    const [bx, by] = ring[index]! as [number, number];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}

/** The same shape with outer rings counter-clockwise and holes clockwise, as RFC 7946 section 3.1.6 asks. */
export function woundRight(geometry: Geometry): Geometry {
  const polygon = (rings: Position[][]): Position[][] =>
    rings.map((ring, index) => (windingOf(ring) > 0 === (index === 0) ? ring : [...ring].reverse()));
  if (geometry.type === 'Polygon') return { ...geometry, coordinates: polygon(geometry.coordinates) };
  if (geometry.type === 'MultiPolygon')
    return { ...geometry, coordinates: geometry.coordinates.map(polygon) };
  return geometry;
}
