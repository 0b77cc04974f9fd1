import type { Grid, Point } from '../grid/frame.ts';
import { sampleAt } from '../terrain/sample.ts';
import { CHEST } from './spot.ts';

/** One direction of fire: where shots at deer in it end up. Lengths in m from the stand, angles in degrees. */
export interface FireRay {
  bearing: number;
  /** Places of deer in range that no ground hides. */
  targets: number;
  /** The farthest beyond a deer that ground stops the line; Infinity where some line runs on past the danger distance. */
  beyond: number;
  /** Where the last of the lines ends: at ground, at the danger distance or where the map ends. */
  ends: number;
  /** The flattest any line meets the ground that stops it under; NaN where none is stopped. */
  meets: number;
  /** Ground not known from here on, before the last line ended; Infinity where all is known. */
  unknown: number;
}

/** Deer nearer than this are under the stand, m. */
const UNDER = 3;

/**
 * Follows straight lines from the eye through the chest of a deer at every place in range along a bearing, on to the
 * ground. All lines start at one eye, so ground k stops the line of rise m where (z_k - eye) / d_k >= m, and the first
 * such ground is found by halving in the running greatest rise. A bullet or arrow falls below its line and is stopped
 * no later on ground that rises; it is taken as straight.
 *
 * @param eye elevation of the eye, m
 * @param range on the slant, m
 * @param danger how far a line is followed, m
 */
export function fireRay(
  elevation: Grid,
  from: Point,
  eye: number,
  bearing: number,
  range: number,
  danger: number,
): FireRay {
  const step = elevation.frame.cellSize / 2;
  const [east, north] = [Math.sin((bearing * Math.PI) / 180), Math.cos((bearing * Math.PI) / 180)];
  const count = Math.ceil(danger / step);
  const ground = new Float64Array(count + 1);
  /** Greatest rise of the ground up to a place, as seen from the eye. */
  const greatest = new Float64Array(count + 1);
  greatest[0] = Number.NEGATIVE_INFINITY;
  ground[0] = sampleAt(elevation, from[0], from[1]);
  let known = 0;
  for (let k = 1; k <= count; k++) {
    const d = k * step;
    const z = sampleAt(elevation, from[0] + east * d, from[1] + north * d);
    if (Number.isNaN(z)) break;
    ground[k] = z;
    greatest[k] = Math.max(greatest[k - 1]!, (z - eye) / d);
    known = k;
  }
  const ray: FireRay = {
    bearing,
    targets: 0,
    beyond: 0,
    ends: 0,
    meets: Number.NaN,
    unknown: Number.POSITIVE_INFINITY,
  };
  for (let k = Math.max(1, Math.ceil(UNDER / step)); k <= known; k++) {
    const d = k * step;
    const drop = eye - (ground[k]! + CHEST);
    if (Math.hypot(d, drop) > range) continue;
    const rise = -drop / d;
    if (rise < greatest[k - 1]!) continue;
    ray.targets++;
    const hit = firstAtLeast(greatest, rise, k, known);
    if (hit < 0) {
      ray.beyond = Number.POSITIVE_INFINITY;
      ray.ends = Math.max(ray.ends, known * step);
      if (known < count) ray.unknown = known * step;
      continue;
    }
    ray.beyond = Math.max(ray.beyond, hit * step - d);
    ray.ends = Math.max(ray.ends, hit * step);
    const angle = meeting(ground, hit, known, step, rise);
    if (!(ray.meets <= angle)) ray.meets = angle;
  }
  if (known * step < Math.min(range, danger)) ray.unknown = Math.min(ray.unknown, known * step);
  return ray;
}

/** The first place after `from` whose running greatest value is at least `least`; -1 where none is. */
function firstAtLeast(greatest: Float64Array, least: number, from: number, last: number): number {
  let low = from + 1;
  let high = last;
  if (low > high || greatest[high]! < least) return -1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (greatest[middle]! >= least) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** Angle between a line and the ground it meets, degrees. */
function meeting(ground: Float64Array, hit: number, known: number, step: number, rise: number): number {
  const [a, b] = [Math.max(0, hit - 2), Math.min(known, hit + 2)];
  const slope = (ground[b]! - ground[a]!) / ((b - a) * step);
  return Math.max(0, ((Math.atan(slope) - Math.atan(rise)) * 180) / Math.PI);
}
