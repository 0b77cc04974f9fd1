import type { Geometry } from 'geojson';

/** [west, south, east, north] of a geometry; infinite the wrong way round when it has no position. */
export function boundsOf(geometry: Geometry): [number, number, number, number] {
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  const visit = (nested: unknown[]): void => {
    if (typeof nested[0] !== 'number') for (const part of nested) visit(part as unknown[]);
    else {
      const [x, y] = nested as [number, number];
      if (x < box[0]) box[0] = x;
      if (y < box[1]) box[1] = y;
      if (x > box[2]) box[2] = x;
      if (y > box[3]) box[3] = y;
    }
  };
  const all = (part: Geometry): void =>
    part.type === 'GeometryCollection' ? part.geometries.forEach(all) : visit(part.coordinates);
  all(geometry);
  return box;
}

/** Bounds of several geometries, or null when none has a position. */
export function extentOf(geometries: readonly Geometry[]): [number, number, number, number] | null {
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const geometry of geometries) {
    const [west, south, east, north] = boundsOf(geometry);
    box[0] = Math.min(box[0], west);
    box[1] = Math.min(box[1], south);
    box[2] = Math.max(box[2], east);
    box[3] = Math.max(box[3], north);
  }
  return Number.isFinite(box[0]) ? box : null;
}
