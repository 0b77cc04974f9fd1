import { compassWord, formatArea, formatLength, type Units } from '../../core/features/units.ts';

/** What a line or ring drawn on the map measures, in words. Shapes are flat, in the frame's metres. */

export type Place = readonly number[];

/** Bearing from one place to another clockwise from grid north, degrees 0 to 360; NaN for no distance. */
export function gridBearing(from: Place, to: Place): number {
  const [east, north] = [to[0]! - from[0]!, to[1]! - from[1]!];
  if (east === 0 && north === 0) return Number.NaN;
  return ((Math.atan2(east, north) * 180) / Math.PI + 360) % 360;
}

/** The same from true north, given how far grid north lies clockwise of it. */
export const trueBearing = (from: Place, to: Place, convergence: number): number =>
  (gridBearing(from, to) + convergence + 360) % 360;

/** `132° true, southeast`; a compass needle's reading is not given, since nothing here knows the declination. */
export function bearingWords(bearing: number): string {
  if (Number.isNaN(bearing)) return 'no bearing';
  return `${Math.round(bearing) % 360}° true, ${compassWord(bearing)}`;
}

export interface Leg {
  length: number;
  bearing: number;
}

/** Each straight leg of a line, bearings from true north. */
export const legsOf = (line: readonly Place[], convergence: number): Leg[] =>
  line.slice(1).map((to, n) => {
    const from = line[n]!;
    return {
      length: Math.hypot(to[0]! - from[0]!, to[1]! - from[1]!),
      bearing: trueBearing(from, to, convergence),
    };
  });

/** What a sketch says as it grows: its length or area, and the leg that is being drawn. */
export function sketchWords(
  sketch: { length: number; area: number; leg: readonly [Place, Place] | null },
  units: Units,
  convergence: number,
): string {
  const { length, area, leg } = sketch;
  const words: string[] = [];
  if (area > 0) words.push(formatArea(area, units));
  if (length > 0) words.push(formatLength(length, units));
  if (leg) {
    const [one] = legsOf(leg, convergence);
    if (one && one.length > 0)
      words.push(`this leg ${formatLength(one.length, units)}, ${bearingWords(one.bearing)}`);
  }
  return words.join('; ');
}
