import { assertOnFrame, type Grid, type Point } from '../grid/frame.ts';
import { sampleAt } from './sample.ts';

export interface ProfilePlace {
  /** Along the line on the level, m. */
  distance: number;
  at: Point;
  /** m; NaN where the ground is not known. */
  ground: number;
}

export interface LineProfile {
  places: ProfilePlace[];
  /** Of the line on the level, m. */
  length: number;
  /** Over the ground, m; stretches of unknown ground count as level. */
  surfaceLength: number;
  /** Metres gone up and down between places of known ground. */
  climb: number;
  descent: number;
  /** Share of the places whose ground is known, 0..1. */
  known: number;
}

/**
 * The ground under a line of straight legs, sampled at even distances of half a cell or less on each leg, bilinear
 * between cell centres; both ends and every corner are among the places. Climb and descent add up every rise and
 * fall between neighbouring places, so they grow as cells get finer, as any walked profile's do.
 *
 * @param path at least one point
 * @throws Error on an empty path
 */
export function profileAlong(elevation: Grid, path: readonly Point[]): LineProfile {
  assertOnFrame(elevation.frame, elevation);
  const first = path[0];
  if (!first) throw new Error('a profile needs at least one point, got none');
  const place = (at: Point, distance: number): ProfilePlace => ({
    distance,
    at,
    ground: sampleAt(elevation, ...at),
  });
  const places = [place([...first], 0)];
  let length = 0;
  for (let k = 1; k < path.length; k++) {
    const [ax, ay] = path[k - 1]!;
    const [bx, by] = path[k]!;
    const leg = Math.hypot(bx - ax, by - ay);
    const steps = Math.ceil((2 * leg) / elevation.frame.cellSize);
    for (let n = 1; n <= steps; n++) {
      const t = n / steps;
      places.push(place([ax + t * (bx - ax), ay + t * (by - ay)], length + t * leg));
    }
    length += leg;
  }
  let [surfaceLength, climb, descent, known] = [0, 0, 0, Number.isNaN(places[0]!.ground) ? 0 : 1];
  for (let n = 1; n < places.length; n++) {
    const [a, b] = [places[n - 1]!, places[n]!];
    const rise = b.ground - a.ground;
    if (!Number.isNaN(b.ground)) known++;
    surfaceLength += Math.hypot(b.distance - a.distance, Number.isNaN(rise) ? 0 : rise);
    if (rise > 0) climb += rise;
    else if (rise < 0) descent -= rise;
  }
  return { places, length, surfaceLength, climb, descent, known: known / places.length };
}

/**
 * Grade along the line at each place, rise over run, over the places within `reach` m on either side: NaN where
 * the ground at either end of that stretch is not known, or the line has no length.
 */
export function gradesAlong(places: readonly ProfilePlace[], reach: number): Float32Array {
  const grades = new Float32Array(places.length);
  let [from, to] = [0, 0];
  for (let n = 0; n < places.length; n++) {
    const here = places[n]!.distance;
    while (places[from]!.distance < here - reach) from++;
    while (to + 1 < places.length && places[to + 1]!.distance <= here + reach) to++;
    const [a, b] = [places[Math.min(from, n)]!, places[Math.max(to, n)]!];
    const run = b.distance - a.distance;
    grades[n] = run > 0 ? (b.ground - a.ground) / run : Number.NaN;
  }
  return grades;
}
