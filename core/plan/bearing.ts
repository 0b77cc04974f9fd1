import { compassLetters } from '../features/units.ts';
import { bearingOf } from '../grid/bearing.ts';
import type { Point } from '../grid/frame.ts';

/** Degrees clockwise from grid north from one spot to another, 0 to 360. */
export const bearing = ([ax, ay]: Point, [bx, by]: Point): number => bearingOf(bx - ax, by - ay);

/**
 * A bearing as a person with a compass set to true north reads it.
 *
 * @param convergence bearing of grid north from true north, degrees
 */
export function trueBearing(grid: number, convergence: number): string {
  const degrees = (((grid + convergence) % 360) + 360) % 360;
  return `${compassLetters(degrees)} (${Math.round(degrees) % 360}° true)`;
}
