import type { Feature, Geometry } from 'geojson';
import type { Point } from '../../core/grid/frame.ts';

/** Shapes that answers draw on the map, with the words beside them. */

export const shapeMark = (id: string, geometry: Geometry, says = ''): Feature => ({
  type: 'Feature',
  id,
  geometry,
  properties: { says },
});

export const spotMark = (id: string, [x, y]: Point, says: string): Feature =>
  shapeMark(id, { type: 'Point', coordinates: [x, y] }, says);

export const lineMark = (id: string, path: readonly Point[], says = ''): Feature =>
  shapeMark(id, { type: 'LineString', coordinates: path.map(([x, y]) => [x, y]) }, says);
