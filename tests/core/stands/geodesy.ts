/** Geodesic references, written down from the published formulas and used to check planar shortcuts. */

export interface Ellipsoid {
  a: number;
  f: number;
}
/** NGA.STND.0036 (WGS 84); Moritz 1980 (GRS 80). */
export const WGS84: Ellipsoid = { a: 6_378_137, f: 1 / 298.257223563 };
export const GRS80: Ellipsoid = { a: 6_378_137, f: 1 / 298.257222101 };

const rad = (degrees: number): number => (degrees * Math.PI) / 180;

/** Inverse problem of Vincenty, "Direct and inverse solutions of geodesics on the ellipsoid", Survey Review 23 (1975). */
export function vincenty(
  { a, f }: Ellipsoid,
  [longitude1, latitude1]: readonly [number, number],
  [longitude2, latitude2]: readonly [number, number],
): { distance: number; azimuth: number } {
  const b = a * (1 - f);
  const L = rad(longitude2 - longitude1);
  const U1 = Math.atan((1 - f) * Math.tan(rad(latitude1)));
  const U2 = Math.atan((1 - f) * Math.tan(rad(latitude2)));
  const [s1, c1, s2, c2] = [Math.sin(U1), Math.cos(U1), Math.sin(U2), Math.cos(U2)];
  let lambda = L;
  for (let n = 0; n < 200; n++) {
    const [sl, cl] = [Math.sin(lambda), Math.cos(lambda)];
    const sinSigma = Math.hypot(c2 * sl, c1 * s2 - s1 * c2 * cl);
    const cosSigma = s1 * s2 + c1 * c2 * cl;
    const sigma = Math.atan2(sinSigma, cosSigma);
    const sinAlpha = (c1 * c2 * sl) / sinSigma;
    const cos2Alpha = 1 - sinAlpha ** 2;
    const cos2m = cosSigma - (2 * s1 * s2) / cos2Alpha;
    const C = (f / 16) * cos2Alpha * (4 + f * (4 - 3 * cos2Alpha));
    const next =
      L + (1 - C) * f * sinAlpha * (sigma + C * sinSigma * (cos2m + C * cosSigma * (-1 + 2 * cos2m ** 2)));
    if (Math.abs(next - lambda) < 1e-14) {
      const u2 = (cos2Alpha * (a * a - b * b)) / (b * b);
      const A = 1 + (u2 / 16384) * (4096 + u2 * (-768 + u2 * (320 - 175 * u2)));
      const B = (u2 / 1024) * (256 + u2 * (-128 + u2 * (74 - 47 * u2)));
      const turn =
        B *
        sinSigma *
        (cos2m +
          (B / 4) *
            (cosSigma * (-1 + 2 * cos2m ** 2) -
              (B / 6) * cos2m * (-3 + 4 * sinSigma ** 2) * (-3 + 4 * cos2m ** 2)));
      const azimuth = Math.atan2(c2 * sl, c1 * s2 - s1 * c2 * cl);
      return { distance: b * A * (sigma - turn), azimuth: ((azimuth * 180) / Math.PI + 360) % 360 };
    }
    lambda = next;
  }
  throw new Error('did not converge');
}

/** Geodetic to earth-centred coordinates (any geodesy textbook), m. */
export function earthCentred(
  { a, f }: Ellipsoid,
  longitude: number,
  latitude: number,
  height: number,
): [number, number, number] {
  const e2 = f * (2 - f);
  const n = a / Math.sqrt(1 - e2 * Math.sin(rad(latitude)) ** 2);
  const flat = (n + height) * Math.cos(rad(latitude));
  return [
    flat * Math.cos(rad(longitude)),
    flat * Math.sin(rad(longitude)),
    (n * (1 - e2) + height) * Math.sin(rad(latitude)),
  ];
}
