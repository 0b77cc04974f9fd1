import type { Geometry } from 'geojson';
import { middleOf, pathsOf } from '../../features/shapes.ts';

/** West, south, east, north in frame coordinates, m. */
export type Region = [west: number, south: number, east: number, north: number];

/** Ground around a shape worth seeing with it, m: at least this much across. */
const LEAST = 220;

/** A box about a shape with half its size again around it; coarse cells need more to show anything. */
export function regionAbout(geometry: Geometry, cellSize: number, least = LEAST): Region {
  const spots = pathsOf(geometry).flat();
  const all = spots.length > 0 ? spots : [middleOf(geometry) ?? [0, 0]];
  const [west, east] = [Math.min(...all.map(([x]) => x!)), Math.max(...all.map(([x]) => x!))];
  const [south, north] = [Math.min(...all.map(([, y]) => y!)), Math.max(...all.map(([, y]) => y!))];
  const side = Math.max(least, 40 * cellSize, 1.6 * (east - west), 1.6 * (north - south)) / 2;
  const [x, y] = [(west + east) / 2, (south + north) / 2];
  return [x - side, y - side, x + side, y + side];
}
