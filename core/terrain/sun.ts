import { LATITUDE_TERMS, LONGITUDE_TERMS, NUTATION_TERMS, RADIUS_TERMS } from './sun-terms.ts';

const RADIANS = Math.PI / 180;
const DAY = 86_400_000;
/** Seconds by which the even time of the tables runs ahead of the clock; grows by less than half a second a year. */
const CLOCK_LAG = 69.2;
/** Height of the sun's centre at which its upper rim touches a level horizon, with refraction, degrees. */
const RIM_ON_HORIZON = -0.8333;
const CIVIL_TWILIGHT = -6;

export interface Place {
  /** Degrees, WGS 84. */
  longitude: number;
  latitude: number;
  /** m. */
  elevation: number;
}

export interface SunPosition {
  /** Clockwise from true north, degrees. */
  azimuth: number;
  /** Above a level horizon, as refraction lifts it, degrees. */
  altitude: number;
  /** The same without refraction, degrees. */
  trueAltitude: number;
}

/**
 * Where the sun stands: Reda & Andreas, "Solar position algorithm for solar radiation applications", Solar Energy 76
 * (2004); good to 0.0003 degrees from the year -2000 to 6000.
 *
 * @param time milliseconds since 1970-01-01T00Z
 * @param air pressure in hPa and temperature in °C for the refraction
 */
export function sunPosition(
  time: number,
  place: Place,
  air = { pressure: 1010, temperature: 10 },
  clockLag = CLOCK_LAG,
): SunPosition {
  const day = time / DAY + 2440587.5;
  const century = (day - 2451545) / 36525;
  const evenCentury = (day + clockLag / 86400 - 2451545) / 36525;
  const millennium = evenCentury / 10;
  const longitude = series(LONGITUDE_TERMS, millennium) / RADIANS + 180;
  const latitude = -series(LATITUDE_TERMS, millennium);
  const radius = series(RADIUS_TERMS, millennium);
  const nutation = nutationAt(evenCentury);
  const obliquity = obliquityAt(millennium / 10) + nutation.obliquity;
  const aberration = -20.4898 / (3600 * radius);
  const apparent = (longitude + nutation.longitude + aberration) * RADIANS;
  const tilt = obliquity * RADIANS;
  const sidereal =
    280.46061837 +
    360.98564736629 * (day - 2451545) +
    century * century * (0.000387933 - century / 38_710_000) +
    nutation.longitude * Math.cos(tilt);
  const ascension = Math.atan2(
    Math.sin(apparent) * Math.cos(tilt) - Math.tan(latitude) * Math.sin(tilt),
    Math.cos(apparent),
  );
  const declination = Math.asin(
    Math.sin(latitude) * Math.cos(tilt) + Math.cos(latitude) * Math.sin(tilt) * Math.sin(apparent),
  );
  const hour = ((sidereal + place.longitude) % 360) * RADIANS - ascension;

  // From the earth's middle to the place on its surface.
  const phi = place.latitude * RADIANS;
  const parallax = (8.794 / (3600 * radius)) * RADIANS;
  const flattened = Math.atan(0.99664719 * Math.tan(phi));
  const outward = Math.cos(flattened) + (place.elevation / 6_378_140) * Math.cos(phi);
  const upward = 0.99664719 * Math.sin(flattened) + (place.elevation / 6_378_140) * Math.sin(phi);
  const across = Math.cos(declination) - outward * Math.sin(parallax) * Math.cos(hour);
  const shift = Math.atan2(-outward * Math.sin(parallax) * Math.sin(hour), across);
  const local = Math.atan2((Math.sin(declination) - upward * Math.sin(parallax)) * Math.cos(shift), across);
  const localHour = hour - shift;

  const trueAltitude =
    Math.asin(Math.sin(phi) * Math.sin(local) + Math.cos(phi) * Math.cos(local) * Math.cos(localHour)) /
    RADIANS;
  const lifted = trueAltitude + 10.3 / (trueAltitude + 5.11);
  // The formula holds while some of the disc is up.
  const refraction =
    trueAltitude > -1
      ? ((air.pressure / 1010) * (283 / (273 + air.temperature)) * 1.02) / (60 * Math.tan(lifted * RADIANS))
      : 0;
  const fromSouth =
    Math.atan2(Math.sin(localHour), Math.cos(localHour) * Math.sin(phi) - Math.tan(local) * Math.cos(phi)) /
    RADIANS;
  return { azimuth: (fromSouth + 540) % 360, altitude: trueAltitude + refraction, trueAltitude };
}

/** Sum over powers of the millennium of amplitude times cosine, radians (or astronomical units). */
function series(powers: readonly (readonly number[])[], millennium: number): number {
  let total = 0;
  for (let power = powers.length - 1; power >= 0; power--) {
    const terms = powers[power]!;
    let sum = 0;
    for (let n = 0; n < terms.length; n += 3)
      sum += terms[n]! * Math.cos(terms[n + 1]! + terms[n + 2]! * millennium);
    total = total * millennium + sum;
  }
  return total / 1e8;
}

/** Degrees. */
function nutationAt(century: number): { longitude: number; obliquity: number } {
  const c = century;
  const arguments5 = [
    297.85036 + c * (445267.11148 + c * (-0.0019142 + c / 189474)),
    357.52772 + c * (35999.05034 + c * (-0.0001603 - c / 300000)),
    134.96298 + c * (477198.867398 + c * (0.0086972 + c / 56250)),
    93.27191 + c * (483202.017538 + c * (-0.0036825 + c / 327270)),
    125.04452 + c * (-1934.136261 + c * (0.0020708 + c / 450000)),
  ];
  let longitude = 0;
  let obliquity = 0;
  for (const term of NUTATION_TERMS) {
    let angle = 0;
    for (let n = 0; n < 5; n++) angle += term[n]! * arguments5[n]!;
    longitude += (term[5]! + term[6]! * c) * Math.sin(angle * RADIANS);
    obliquity += (term[7]! + term[8]! * c) * Math.cos(angle * RADIANS);
  }
  return { longitude: longitude / 36_000_000, obliquity: obliquity / 36_000_000 };
}

/** Mean obliquity of the ecliptic, degrees; u in units of 10 000 years. */
function obliquityAt(u: number): number {
  const coefficients = [
    84381.448, -4680.93, -1.55, 1999.25, -51.38, -249.67, -39.05, 7.12, 27.87, 5.79, 2.45,
  ];
  return coefficients.reduceRight((sum, coefficient) => sum * u + coefficient, 0) / 3600;
}

/** Moments in milliseconds since 1970-01-01T00Z; null where the sun does not cross that height on the day. */
export interface SunTimes {
  /** First civil light: the sun 6 degrees below the horizon. */
  dawn: number | null;
  sunrise: number | null;
  /** The sun at its highest. */
  noon: number;
  sunset: number | null;
  dusk: number | null;
}

/**
 * Sunrise, sunset and civil twilight over a level horizon on one calendar day of the place, by closing in on the
 * moments the sun's true height passes -0.8333 and -6 degrees. Within a second or two; real refraction near the
 * horizon varies by more.
 */
export function sunTimes(year: number, month: number, day: number, place: Place): SunTimes {
  // Mean solar noon of the place is within a quarter of an hour of the true one.
  const mean = Date.UTC(year, month - 1, day, 12) - (place.longitude / 360) * DAY;
  const heightAt = (time: number): number => sunPosition(time, place).trueAltitude;
  let from = mean - DAY / 48;
  let to = mean + DAY / 48;
  while (to - from > 500) {
    const third = (to - from) / 3;
    if (heightAt(from + third) < heightAt(to - third)) from += third;
    else to -= third;
  }
  const noon = (from + to) / 2;
  /** When the sun passes a height between noon and a moment half a day off. */
  const passing = (height: number, other: number): number | null => {
    let above = noon;
    let below = other;
    if (heightAt(above) < height || heightAt(below) > height) return null;
    while (Math.abs(above - below) > 100) {
      const middle = (above + below) / 2;
      if (heightAt(middle) >= height) above = middle;
      else below = middle;
    }
    return (above + below) / 2;
  };
  return {
    dawn: passing(CIVIL_TWILIGHT, noon - DAY / 2),
    sunrise: passing(RIM_ON_HORIZON, noon - DAY / 2),
    noon,
    sunset: passing(RIM_ON_HORIZON, noon + DAY / 2),
    dusk: passing(CIVIL_TWILIGHT, noon + DAY / 2),
  };
}
