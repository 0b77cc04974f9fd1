import { FOOT } from '../features/units.ts';
import type { StabilityClass } from './plume.ts';

/**
 * Turner's stability index (D. B. Turner, "A diffusion model for an urban area", J. Applied Meteorology 3, 1964) by
 * wind speed in knots (rows) and net radiation index 4 to -2 (columns); 1 very unstable to 7 very stable.
 */
const TABLE: readonly { below: number; classes: readonly number[] }[] = [
  { below: 1.5, classes: [1, 1, 2, 3, 4, 6, 7] },
  { below: 3.5, classes: [1, 2, 2, 3, 4, 6, 7] },
  { below: 5.5, classes: [1, 2, 3, 4, 4, 5, 6] },
  { below: 6.5, classes: [2, 2, 3, 4, 4, 5, 6] },
  { below: 7.5, classes: [2, 2, 3, 4, 4, 4, 5] },
  { below: 9.5, classes: [2, 3, 3, 4, 4, 4, 5] },
  { below: 10.5, classes: [3, 3, 4, 4, 4, 4, 5] },
  { below: 11.5, classes: [3, 3, 4, 4, 4, 4, 4] },
  { below: Number.POSITIVE_INFINITY, classes: [3, 4, 4, 4, 4, 4, 4] },
];

const KNOT = 1852 / 3600;
/** Ceilings below and between which cloud weakens the sun, m: 7,000 and 16,000 ft (Turner 1964). */
const LOW = 7000 * FOOT;
const MIDDLE = 16_000 * FOOT;
/** At night slower wind makes no plume: the slope-flow model takes over, m/s. */
const DRAINAGE_BELOW = 2;

/** The index 1..7 by the published table; speeds in m/s are taken to whole knots as the table does. */
export function turnerIndex(speed: number, netRadiation: number): number {
  const knots = speed / KNOT;
  const row = TABLE.find(({ below }) => knots < below)!;
  return row.classes[4 - netRadiation]!;
}

/**
 * The net radiation index 4..-2. Night is from an hour before sunset to an hour after sunrise.
 *
 * @param sunHeight degrees
 * @param night whether it is night by that rule
 * @param cloud tenths of the sky covered
 * @param ceiling height of the lowest cloud over more than half of the sky, m; where it is not known cloud is low
 */
export function netRadiationIndex(
  sunHeight: number,
  night: boolean,
  cloud: number,
  ceiling = Number.NaN,
): number {
  const low = !(ceiling >= LOW);
  if (cloud >= 10 && low) return 0;
  if (night) return cloud <= 4 ? -2 : -1;
  const insolation = sunHeight > 60 ? 4 : sunHeight > 35 ? 3 : sunHeight > 15 ? 2 : 1;
  if (cloud <= 5) return insolation;
  const less = low ? 2 : cloud >= 10 || ceiling < MIDDLE ? 1 : 0;
  return Math.max(1, insolation - less);
}

/** What an hour's air is: a plume of a Pasquill class, or a calm night's drainage. Index 7 is taken as F. */
export function stabilityOf(
  speed: number,
  sunHeight: number,
  night: boolean,
  cloud: number,
  ceiling = Number.NaN,
): StabilityClass | 'calm drainage' {
  if (night && speed < DRAINAGE_BELOW) return 'calm drainage';
  const index = turnerIndex(speed, netRadiationIndex(sunHeight, night, cloud, ceiling));
  return (['A', 'B', 'C', 'D', 'E', 'F', 'F'] as const)[index - 1]!;
}
