import type { Geometry } from 'geojson';
import type { FeatureKind } from '../../core/features/feature.ts';
import { capital, formatArea, formatLength, type Units } from '../../core/features/units.ts';

const TITLE: Partial<Record<FeatureKind, string>> = {
  food: 'Food',
  gap: 'Gap or gate',
  powerline: 'Power line',
  access: 'Way in',
  cut: 'Cutting',
  quiet: 'Quiet ground',
  truth: 'Cover as seen',
};

export const kindTitle = (kind: FeatureKind): string => TITLE[kind] ?? capital(kind);

/** Length of a line or area of a ring set, planar in the frame's metres. */
export function measureOf(shape: Geometry, units: Units): string {
  switch (shape.type) {
    case 'LineString':
      return formatLength(lengthOf(shape.coordinates), units);
    case 'MultiLineString':
      return formatLength(
        shape.coordinates.reduce((sum, line) => sum + lengthOf(line), 0),
        units,
      );
    case 'Polygon':
      return formatArea(areaOf(shape.coordinates), units);
    case 'MultiPolygon':
      return formatArea(
        shape.coordinates.reduce((sum, rings) => sum + areaOf(rings), 0),
        units,
      );
    default:
      return '';
  }
}

export const lengthOf = (line: readonly number[][]): number =>
  line.slice(1).reduce((sum, b, i) => sum + Math.hypot(b[0]! - line[i]![0]!, b[1]! - line[i]![1]!), 0);

/**
 * A line cut at the place of it nearest to a point: both parts have that place as an end. The second is null where
 * the place is an end of the line already.
 */
export function splitLine(
  line: readonly number[][],
  [x, y]: readonly [number, number],
): [number[][], number[][] | null] {
  let best = { distance: Number.POSITIVE_INFINITY, leg: 0, t: 0 };
  for (let leg = 0; leg < line.length - 1; leg++) {
    const [[ax, ay], [bx, by]] = [line[leg]!, line[leg + 1]!] as [[number, number], [number, number]];
    const [dx, dy] = [bx - ax, by - ay];
    const along = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1);
    const t = Math.min(1, Math.max(0, along));
    const distance = Math.hypot(x - ax - t * dx, y - ay - t * dy);
    if (distance < best.distance) best = { distance, leg, t };
  }
  const { leg, t } = best;
  if ((leg === 0 && t === 0) || (leg === line.length - 2 && t === 1)) return [[...line], null];
  const [a, b] = [line[leg]!, line[leg + 1]!];
  const cut = [a[0]! + t * (b[0]! - a[0]!), a[1]! + t * (b[1]! - a[1]!)];
  const before = line.slice(0, leg + 1);
  const after = line.slice(leg + 1);
  return [t === 0 ? before : [...before, cut], t === 1 ? after : [cut, ...after]];
}

/** Outer ring less its holes. */
export const areaOf = (rings: readonly number[][][]): number =>
  rings.reduce((sum, ring, i) => sum + (i === 0 ? 1 : -1) * Math.abs(shoelace(ring)), 0);

function shoelace(ring: readonly number[][]): number {
  // Taken from the first vertex, since products of full eastings and northings lose the small areas.
  const [x0, y0] = ring[0] as [number, number];
  let twice = 0;
  for (let i = 1; i < ring.length - 1; i++) {
    const [a, b] = [ring[i]!, ring[i + 1]!];
    twice += (a[0]! - x0) * (b[1]! - y0) - (b[0]! - x0) * (a[1]! - y0);
  }
  return twice / 2;
}
