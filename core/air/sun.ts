/**
 * Where the sun stands, by the short series of NOAA's solar calculator (after Meeus, Astronomical Algorithms, 1991),
 * within about a hundredth of a degree from 1950 to 2050. Angles in degrees, times in hours since 1970-01-01T00Z.
 */

const RAD = Math.PI / 180;
const sin = (degrees: number) => Math.sin(degrees * RAD);
const cos = (degrees: number) => Math.cos(degrees * RAD);
const tan = (degrees: number) => Math.tan(degrees * RAD);

/** Declination and the equation of time (minutes the sundial is ahead of the clock) at a time. */
function orbit(hours: number): { declination: number; equation: number } {
  const t = (hours / 24 + 2440587.5 - 2451545) / 36525;
  const meanLongitude = 280.46646 + t * (36000.76983 + t * 0.0003032);
  const anomaly = 357.52911 + t * (35999.05029 - 0.0001537 * t);
  const eccentricity = 0.016708634 - t * (0.000042037 + 0.0000001267 * t);
  const centre =
    sin(anomaly) * (1.914602 - t * (0.004817 + 0.000014 * t)) +
    sin(2 * anomaly) * (0.019993 - 0.000101 * t) +
    sin(3 * anomaly) * 0.000289;
  const node = 125.04 - 1934.136 * t;
  const longitude = meanLongitude + centre - 0.00569 - 0.00478 * sin(node);
  const obliquity =
    23 + (26 + (21.448 - t * (46.815 + t * (0.00059 - t * 0.001813))) / 60) / 60 + 0.00256 * cos(node);
  const declination = Math.asin(sin(obliquity) * sin(longitude)) / RAD;
  const y = tan(obliquity / 2) ** 2;
  const equation =
    (4 / RAD) *
    (y * sin(2 * meanLongitude) -
      2 * eccentricity * sin(anomaly) +
      4 * eccentricity * y * sin(anomaly) * cos(2 * meanLongitude) -
      0.5 * y * y * sin(4 * meanLongitude) -
      1.25 * eccentricity * eccentricity * sin(2 * anomaly));
  return { declination, equation };
}

/** Height above the horizon without refraction, and true bearing clockwise from north. */
export function sunAt(
  hours: number,
  longitude: number,
  latitude: number,
): { height: number; bearing: number } {
  const { declination, equation } = orbit(hours);
  const clock = (((hours * 60 + equation + 4 * longitude) % 1440) + 1440) % 1440;
  const angle = clock / 4 - 180;
  const height =
    Math.asin(sin(latitude) * sin(declination) + cos(latitude) * cos(declination) * cos(angle)) / RAD;
  const bearing =
    (Math.atan2(sin(angle), cos(angle) * sin(latitude) - tan(declination) * cos(latitude)) / RAD + 540) % 360;
  return { height, bearing };
}

/** Hours of the sun's own clock, 0..24, noon when it stands highest. */
export function solarTime(hours: number, longitude: number): number {
  const { equation } = orbit(hours);
  const clock = hours + equation / 60 + longitude / 15;
  return ((clock % 24) + 24) % 24;
}

/**
 * Sunrise and sunset of the solar day a time lies in: the sun's upper limb on a flat horizon with mean refraction,
 * its centre 0.833 degrees below. Null where it does not rise or set that day.
 */
export function sunriseSunset(
  hours: number,
  longitude: number,
  latitude: number,
): { rise: number; set: number } | null {
  const noon = hours - solarTime(hours, longitude) + 12;
  const turn = (sign: number): number | null => {
    let at = noon;
    for (let k = 0; k < 4; k++) {
      const { declination, equation } = orbit(at);
      const cosine = (sin(-0.833) - sin(latitude) * sin(declination)) / (cos(latitude) * cos(declination));
      if (Math.abs(cosine) > 1) return null;
      const zenith = noon - (equation - orbit(noon).equation) / 60;
      at = zenith + (sign * Math.acos(cosine)) / RAD / 15;
    }
    return at;
  };
  const rise = turn(-1);
  const set = turn(1);
  return rise === null || set === null ? null : { rise, set };
}
