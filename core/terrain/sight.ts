import { assertOnFrame, type Grid, type Point } from '../grid/frame.ts';
import { sampleAt } from './sample.ts';

/** Mean radius of the earth, m (IUGG). */
const EARTH_RADIUS = 6_371_009;

export interface SightOptions {
  /** Height of the eye over the ground, m. */
  observerHeight: number;
  /** Height over the ground of what is looked for, m. */
  targetHeight: number;
  /** How far to look, m; Infinity for the whole map. */
  radius: number;
  /** Share of the earth's curvature that bending air makes good; 0.13 in surveying practice. */
  refraction: number;
}

/** Person standing, deer's back, to 1 km (our choice). */
export const SIGHT: SightOptions = { observerHeight: 1.7, targetHeight: 0.9, radius: 1000, refraction: 0.13 };

/** How far the ground falls below a level sight line over a distance, m. */
export const sightDrop = (distance: number, refraction: number): number =>
  ((1 - refraction) * distance * distance) / (2 * EARTH_RADIUS);

export function lowestElevation(elevation: Grid): number {
  let lowest = Number.POSITIVE_INFINITY;
  for (const z of elevation.cells) if (z < lowest) lowest = z;
  return lowest;
}

export interface SightLine {
  visible: boolean;
  /** Along the line: distance and ground, both m; ground reckoned without the earth's curve. */
  profile: { distance: number; ground: number }[];
  /** Where the ground first stands in the line, and by how much, m; null when nothing does. */
  obstruction: { at: Point; distance: number; above: number } | null;
}

/**
 * The line of sight between two places as a profile, with the first ground that stands in it. Ground is sampled
 * every half cell, bilinear between centres.
 *
 * Unknown ground hides nothing; the line is not visible when the ground at either end is unknown.
 */
export function sightLine(elevation: Grid, from: Point, to: Point, options: SightOptions): SightLine {
  assertOnFrame(elevation.frame, elevation);
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const steps = Math.max(1, Math.ceil((2 * length) / elevation.frame.cellSize));
  const profile: SightLine['profile'] = [];
  for (let n = 0; n <= steps; n++) {
    const t = n / steps;
    const ground = sampleAt(elevation, from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1]));
    profile.push({ distance: t * length, ground });
  }
  const eye = profile[0]!.ground + options.observerHeight;
  const target = profile[steps]!.ground + options.targetHeight - sightDrop(length, options.refraction);
  if (Number.isNaN(eye + target)) return { visible: false, profile, obstruction: null };
  for (let n = 1; n < steps; n++) {
    const { distance, ground } = profile[n]!;
    const above = ground - sightDrop(distance, options.refraction) - (eye + ((target - eye) * n) / steps);
    if (!(above > 1e-9)) continue;
    const t = n / steps;
    const at: Point = [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
    return { visible: false, profile, obstruction: { at, distance, above } };
  }
  return { visible: true, profile, obstruction: null };
}
