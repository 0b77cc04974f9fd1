import { type Feature, ofKind } from './feature.ts';
import { areaOf } from './measure.ts';

/** Area inside the boundary with its holes taken out, m² on the grid; null without a boundary. */
export function ownedArea(features: readonly Feature[]): number | null {
  const polygons = ofKind(features, 'boundary').filter(({ geometry }) => /Polygon$/.test(geometry.type));
  if (polygons.length === 0) return null;
  return polygons.reduce((total, { geometry }) => total + areaOf(geometry), 0);
}
