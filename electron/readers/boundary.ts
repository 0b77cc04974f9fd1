import { kinks, polygon } from '@turf/turf';
import type { Polygon, Position } from 'geojson';
import type { Box } from './placement.ts';
import { eachPosition, type RawFeature } from './raw.ts';
import { refusal } from './refusal.ts';

/** A walked line whose ends are this near, as a share of its length, is taken as closed. */
const NEARLY_CLOSED = 0.05;
const MOST_CORNERS = 20_000;

/**
 * The areas of a boundary file, degrees. Closed lines (a walked GPX track) count as areas, and that is said.
 * @throws Problem when there is no area, a line is left open, or an outline crosses itself
 */
export function boundaryAreas(raw: RawFeature[], file: string): { areas: RawFeature[]; notes: string[] } {
  const notes: string[] = [];
  const areas: RawFeature[] = [];
  for (const feature of raw) {
    const { geometry } = feature;
    const found: Polygon[] = [];
    if (geometry.type === 'Polygon') found.push(geometry);
    else if (geometry.type === 'MultiPolygon')
      for (const coordinates of geometry.coordinates) found.push({ type: 'Polygon', coordinates });
    else if (geometry.type === 'LineString') found.push(closed(geometry.coordinates, file, notes));
    else if (geometry.type === 'MultiLineString')
      for (const line of geometry.coordinates) found.push(closed(line, file, notes));
    for (const area of found) {
      checkOutline(area, file);
      areas.push({ ...feature, geometry: area });
    }
  }
  if (areas.length === 0)
    throw refusal(`${file} holds no area: a boundary must be a polygon or a closed line`, {
      file,
      fix: 'draw the boundary as an area and export it again',
    });
  return { areas, notes };
}

function closed(line: Position[], file: string, notes: string[]): Polygon {
  const first = line[0]!;
  const last = line.at(-1)!;
  let length = 0;
  for (let i = 1; i < line.length; i++) length += distance(line[i - 1]!, line[i]!);
  if (line.length < 4 || distance(first, last) > NEARLY_CLOSED * length)
    throw refusal(`${file}: the boundary is a line that does not come back to where it started`, {
      file,
      fix: 'close the line, or draw the boundary as an area',
    });
  notes.push(`${file}: the boundary is a closed line; the ground inside it is taken as the property`);
  const exact = first[0] === last[0] && first[1] === last[1];
  return { type: 'Polygon', coordinates: [exact ? line : [...line, first]] };
}

/** Metres between two places near each other, on a sphere; enough to tell open from closed. */
function distance([lon0, lat0]: Position, [lon1, lat1]: Position): number {
  const metres = 111_195;
  return metres * Math.hypot((lon1! - lon0!) * Math.cos((lat0! * Math.PI) / 180), lat1! - lat0!);
}

function checkOutline(area: Polygon, file: string): void {
  if (area.coordinates.length === 0 || area.coordinates.some((ring) => new Set(ring.map(String)).size < 3))
    throw refusal(`${file}: the boundary has an outline of fewer than three corners`, {
      file,
      fix: 'draw the boundary again as an area',
    });
  const corners = area.coordinates.reduce((sum, ring) => sum + ring.length, 0);
  if (corners > MOST_CORNERS)
    throw refusal(`${file}: the boundary has ${corners} corners, more than can be checked`, {
      file,
      fix: `simplify it to fewer than ${MOST_CORNERS} corners`,
    });
  const rings = area.coordinates.map(withoutRepeats);
  const crossings = kinks(polygon(rings)).features;
  if (crossings.length === 0) return;
  const [longitude, latitude] = crossings[0]!.geometry.coordinates as [number, number];
  throw refusal(
    `${file}: the boundary crosses itself near ${latitude.toFixed(6)}, ${longitude.toFixed(6)}${crossings.length > 1 ? ` and at ${crossings.length - 1} more places` : ''}`,
    { file, fix: 'untangle the corners there (latitude, longitude) and export the boundary again' },
  );
}

const withoutRepeats = (ring: Position[]): Position[] =>
  ring.filter((position, i) => i === 0 || position[0] !== ring[i - 1]![0] || position[1] !== ring[i - 1]![1]);

/** Box around features, degrees. */
export function lonLatBox(features: RawFeature[]): Box {
  const box: Box = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { geometry } of features)
    eachPosition(geometry, ([x, y]) => {
      box[0] = Math.min(box[0], x!);
      box[1] = Math.min(box[1], y!);
      box[2] = Math.max(box[2], x!);
      box[3] = Math.max(box[3], y!);
    });
  return box;
}
