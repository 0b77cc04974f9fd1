/** Degrees clockwise from grid north, 0 to 360, of a way that goes so far east and north. */
export const bearingOf = (east: number, north: number): number =>
  ((Math.atan2(east, north) * 180) / Math.PI + 360) % 360;

const COMPASS = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'];

/** The eighth of the compass that a way so far east and north runs to, in words. */
export const compassWord = (east: number, north: number): string =>
  COMPASS[Math.round(bearingOf(east, north) / 45) % 8]!;
