import { booleanPointInPolygon } from '@turf/turf';
import type { Feature } from '../../core/features/feature.ts';
import { cellCentre, type Grid } from '../../core/grid/frame.ts';
import { refusal } from './refusal.ts';

/** Places looked at inside the boundary, about. */
const PLACES = 10_000;

/**
 * Says how much of the owned ground has no elevation.
 * @throws Problem when none of it has any
 */
export function checkOwnedGround(boundary: Feature[], elevation: Grid, file: string): string[] {
  const { frame, cells } = elevation;
  const step = Math.max(1, Math.floor(Math.sqrt(cells.length / PLACES)));
  let [inside, unknown] = [0, 0];
  for (let row = step >> 1; row < frame.height; row += step)
    for (let column = step >> 1; column < frame.width; column += step) {
      const index = row * frame.width + column;
      const at = cellCentre(frame, index);
      const owned = boundary.some(
        ({ geometry }) =>
          (geometry.type === 'Polygon' || geometry.type === 'MultiPolygon') &&
          booleanPointInPolygon(at, geometry),
      );
      if (!owned) continue;
      inside++;
      if (Number.isNaN(cells[index]!)) unknown++;
    }
  if (inside > 0 && unknown === inside)
    throw refusal(`none of the ground inside the boundary has elevation: ${file} is empty there`, {
      file,
      fix: 'fetch elevation that covers the property; the tile beside it will not do',
    });
  if (unknown === 0) return [];
  const share = Math.max(1, Math.round((100 * unknown) / inside));
  return [`About ${share} % of the ground inside the boundary has no elevation and cannot be judged`];
}
