/**
 * The Gaussian plume over open level ground, and the published widths it is used with. Classes are Pasquill's
 * A (very unstable) to F (stable); x is the distance downwind, m.
 */

export const STABILITY_CLASSES = ['A', 'B', 'C', 'D', 'E', 'F'] as const;
export type StabilityClass = (typeof STABILITY_CLASSES)[number];

/** Standard deviations of a plume across the wind and upwards, m. */
export interface PlumeWidth {
  across: number;
  up: number;
}

const PER_ROOT = (x: number, scale: number) => 1 / Math.sqrt(1 + scale * x);

/** Open-country widths of Briggs (1973), "Diffusion estimation for small emissions", NOAA ATDL 79. */
export function briggsOpen(kind: StabilityClass, x: number): PlumeWidth {
  const across = { A: 0.22, B: 0.16, C: 0.11, D: 0.08, E: 0.06, F: 0.04 }[kind] * x * PER_ROOT(x, 1e-4);
  switch (kind) {
    case 'A':
      return { across, up: 0.2 * x };
    case 'B':
      return { across, up: 0.12 * x };
    case 'C':
      return { across, up: 0.08 * x * PER_ROOT(x, 2e-4) };
    case 'D':
      return { across, up: 0.06 * x * PER_ROOT(x, 1.5e-3) };
    case 'E':
      return { across, up: (0.03 * x) / (1 + 3e-4 * x) };
    default:
      return { across, up: (0.016 * x) / (1 + 3e-4 * x) };
  }
}

/** [from km, a, b] of sigma z = a x^b, the farthest first. */
const UP: Record<StabilityClass, [number, number, number][]> = {
  A: [
    [0.5, 453.85, 2.1166],
    [0.4, 346.75, 1.7283],
    [0.3, 258.89, 1.4094],
    [0.25, 217.41, 1.2644],
    [0.2, 179.52, 1.1262],
    [0.15, 170.22, 1.0932],
    [0.1, 158.08, 1.0542],
    [0, 122.8, 0.9447],
  ],
  B: [
    [0.4, 109.3, 1.0971],
    [0.2, 98.483, 0.98332],
    [0, 90.673, 0.93198],
  ],
  C: [[0, 61.141, 0.91465]],
  D: [
    [30, 44.053, 0.51179],
    [10, 36.65, 0.56589],
    [3, 33.504, 0.60486],
    [1, 32.093, 0.64403],
    [0.3, 32.093, 0.81066],
    [0, 34.459, 0.86974],
  ],
  E: [
    [40, 47.618, 0.29592],
    [20, 35.42, 0.37615],
    [10, 26.97, 0.46713],
    [4, 24.703, 0.50527],
    [2, 22.534, 0.57154],
    [1, 21.628, 0.63077],
    [0.3, 21.628, 0.7566],
    [0.1, 23.331, 0.81956],
    [0, 24.26, 0.8366],
  ],
  F: [
    [60, 34.219, 0.21716],
    [30, 27.074, 0.27436],
    [15, 22.651, 0.32681],
    [7, 17.836, 0.415],
    [3, 16.187, 0.4649],
    [2, 14.823, 0.54503],
    [1, 13.953, 0.63227],
    [0.7, 13.953, 0.68465],
    [0.2, 14.457, 0.78407],
    [0, 15.209, 0.81558],
  ],
};
/** [c, d] of sigma y = 465.11628 x tan(c - d ln x), degrees and km. */
const ACROSS: Record<StabilityClass, [number, number]> = {
  A: [24.167, 2.5334],
  B: [18.333, 1.8096],
  C: [12.5, 1.0857],
  D: [8.333, 0.72382],
  E: [6.25, 0.54287],
  F: [4.1667, 0.36191],
};

/** Widths after Pasquill and Gifford, in the fits of Turner's workbook curves that the EPA's ISC models print. */
export function pasquillGifford(kind: StabilityClass, x: number): PlumeWidth {
  const km = x / 1000;
  const [c, d] = ACROSS[kind];
  const across = 465.11628 * km * Math.tan(((c - d * Math.log(km)) * Math.PI) / 180);
  const [, a, b] = UP[kind].find(([from]) => km >= from)!;
  return { across, up: Math.min(5000, a * km ** b) };
}

/**
 * Concentration of a steady point source in uniform wind with reflection at the ground (Turner 1970, equation 3.1),
 * in the source's unit per m3.
 *
 * @param source what is given off a second
 * @param wind m/s
 * @param release height of the source, m
 * @param y across the wind from the centre line, m
 * @param z above ground, m
 */
export function plumeAt(
  source: number,
  wind: number,
  { across, up }: PlumeWidth,
  release: number,
  y = 0,
  z = 0,
): number {
  const vertical = Math.exp(-0.5 * ((z - release) / up) ** 2) + Math.exp(-0.5 * ((z + release) / up) ** 2);
  return (source / (2 * Math.PI * wind * across * up)) * Math.exp(-0.5 * (y / across) ** 2) * vertical;
}
