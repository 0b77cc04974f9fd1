import type { Point } from './frame.ts';

/** The same spot on a picture and on the map. */
export interface Pin {
  /** Pixels from the picture's upper left corner, right and down. */
  at: Point;
  /** Frame coordinates, m. */
  to: Point;
}

/** x = a + b column + c row, y = d + e column + f row, m. */
export type Placing = [a: number, b: number, c: number, d: number, e: number, f: number];

export interface PinFit {
  /** `similar`: turned, scaled and moved; `affine`: stretched and slanted as well. */
  kind: 'similar' | 'affine';
  placing: Placing;
  /** How far each pin is missed, m; null where the pins fit exactly whatever their error. */
  misses: number[] | null;
  /** Root of the mean square of the misses, m; null as above. */
  rms: number | null;
  /** The same for a picture that is only turned, scaled and moved; null where that fits exactly. */
  similarRms: number | null;
  /** Side of a pixel on the ground, m. */
  pixel: number;
  /** How far the picture's top is turned clockwise from grid north, degrees from -180 to 180. */
  turned: number;
  /** The pins lie so nearly on a line that a stretch across it cannot be told: it is taken as only turned and scaled. */
  inLine: boolean;
}

/** Of the pins' spread, the least across their main direction that tells a stretch: our assumption, one in twenty. */
const LEAST_ACROSS = 0.05;
/** Pins nearer than this to one another on the picture, in pixels, tell no scale. */
const LEAST_SPREAD = 1;

/**
 * Lays a picture on the map by pins, by least squares on the map: with two pins as a similarity (exact), with three as
 * an affine map (exact), with more as an affine map that misses them least. Normal equations about the pins' middle,
 * which for so few unknowns lose nothing that matters.
 *
 * @returns null with fewer than two pins, or with all of them on one spot of the picture or of the map
 */
export function fitPins(pins: readonly Pin[]): PinFit | null {
  const n = pins.length;
  if (n < 2) return null;
  const middle = (of: (pin: Pin) => Point): Point => [
    pins.reduce((sum, pin) => sum + of(pin)[0], 0) / n,
    pins.reduce((sum, pin) => sum + of(pin)[1], 0) / n,
  ];
  const [u0, v0] = middle(({ at }) => at);
  const [x0, y0] = middle(({ to }) => to);
  /** Sums of squares and products: picture with picture, and picture with map. */
  const s = { uu: 0, uv: 0, vv: 0, ux: 0, vx: 0, uy: 0, vy: 0 };
  for (const { at, to } of pins) {
    const [u, v, x, y] = [at[0] - u0, at[1] - v0, to[0] - x0, to[1] - y0];
    s.uu += u * u;
    s.uv += u * v;
    s.vv += v * v;
    s.ux += u * x;
    s.vx += v * x;
    s.uy += u * y;
    s.vy += v * y;
  }
  const spread = s.uu + s.vv;
  if (!(spread > LEAST_SPREAD)) return null;
  // A picture's rows run down and the map's up: right goes to (p, q), down to (q, -p).
  const [p, q] = [(s.ux - s.vy) / spread, (s.uy + s.vx) / spread];
  if (p === 0 && q === 0) return null;
  const placed = (b: number, c: number, e: number, f: number): Placing => [
    x0 - b * u0 - c * v0,
    b,
    c,
    y0 - e * u0 - f * v0,
    e,
    f,
  ];
  const similar = placed(p, q, q, -p);
  const similarRms = n > 2 ? rmsOf(missesOf(pins, similar)) : null;
  const determinant = s.uu * s.vv - s.uv * s.uv;
  const root = Math.sqrt(Math.max(0, spread * spread - 4 * determinant));
  const across = Math.sqrt(Math.max(0, (spread - root) / (spread + root)));
  const inLine = n > 2 && across < LEAST_ACROSS;
  const affine =
    n > 2 && !inLine
      ? placed(
          (s.ux * s.vv - s.vx * s.uv) / determinant,
          (s.vx * s.uu - s.ux * s.uv) / determinant,
          (s.uy * s.vv - s.vy * s.uv) / determinant,
          (s.vy * s.uu - s.uy * s.uv) / determinant,
        )
      : null;
  const placing = affine ?? similar;
  const over = affine ? n > 3 : n > 2;
  const misses = over ? missesOf(pins, placing) : null;
  const [, b, c, , e, f] = placing;
  if (!(Math.abs(b * f - c * e) > 0)) return null;
  return {
    kind: affine ? 'affine' : 'similar',
    placing,
    misses,
    rms: misses && rmsOf(misses),
    similarRms,
    pixel: Math.sqrt(Math.abs(b * f - c * e)),
    // Up the picture is against its rows.
    turned: (Math.atan2(-c, -f) * 180) / Math.PI,
    inLine,
  };
}

/** Where a spot of the picture lies on the map. */
export const placeOf = ([a, b, c, d, e, f]: Placing, [column, row]: Point): Point => [
  a + b * column + c * row,
  d + e * column + f * row,
];

const missesOf = (pins: readonly Pin[], placing: Placing): number[] =>
  pins.map(({ at, to }) => {
    const [x, y] = placeOf(placing, at);
    return Math.hypot(x - to[0], y - to[1]);
  });

const rmsOf = (misses: readonly number[]): number =>
  Math.sqrt(misses.reduce((sum, miss) => sum + miss * miss, 0) / misses.length);
