/** Degrees clockwise from grid north, 0 to 360, of a way that goes so far east and north. */
export const bearingOf = (east: number, north: number): number =>
  ((Math.atan2(east, north) * 180) / Math.PI + 360) % 360;
