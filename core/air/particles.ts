import { cellAt, type Frame, type Point } from '../grid/frame.ts';
import { briggsOpen, type PlumeWidth, type StabilityClass } from './plume.ts';
import { openProfile } from './profile.ts';
import { fillBits, normalPair, seedBits } from './random.ts';
import { fastest, type WindField, walk } from './walk.ts';
import { TOGETHER } from './walk-code.ts';

export type { WindField } from './walk.ts';

export interface Release {
  /** A spot, or a path walked at an even pace that gives off scent all along. */
  from: Point | readonly Point[];
  /** m above ground. */
  height: number;
  particles: number;
  /** How long each particle is followed, s. */
  seconds: number;
  /** Time step, s. */
  step: number;
  seed: number;
  /** Widths of a plume by distance travelled, m. */
  width: (distance: number) => PlumeWidth;
  /** Wind at a height, m, over that of the field (`fieldShear`); the field's at every height where left out. */
  shear?: (height: number) => number;
}

/** What the particles left behind; cells of the wind's frame. */
export interface Scent {
  /** Mean time a particle spent in each cell below nose height, s over the particles released. */
  dose: Float32Array;
  /** Mean time since release of the scent in each cell below nose height, s; NaN where none came. */
  age: Float32Array;
  /** Share of the particles that left the map. */
  left: number;
}

/** The spread table's finest spacing, m, its part of a cell, and its length at most. */
const FINEST = 0.5;
const PART_OF_CELL = 8;
const LONGEST_TABLE = 20_000;

/**
 * Lagrangian particles in a wind field: each is carried by the wind of the cell it is in and spreads by a random
 * walk whose variance grows as the plume's own, K = (u/2) d(sigma^2)/dx (Taylor 1921 for the far field), so that in
 * uniform wind over level ground the particles make the Gaussian plume. The ground reflects. Particles whose wind
 * stands still stay where they are. A step is, with (east, south) what the cell's wind carries it, m its length and
 * n, n' normal numbers,
 *
 *   x += east - south across(s) n / sqrt(m),  y += south + east across(s) n / sqrt(m),
 *   z = |z + up(s) sqrt(m) n'|,               s += m
 *
 * (x, y in cells, across and up in m per root m, at the distance s of the step's middle, for which every step is taken
 * as long as the first, so that a look-up need not wait for the next cell). The steps themselves are taken by `walk`,
 * two at a time. The walk is drawn from a seeded generator, so the same release gives the same bits.
 */
export function releaseScent(wind: WindField, release: Release): Scent {
  const { frame } = wind;
  const { from, particles, seconds, step, seed } = release;
  const most = release.shear ? release.shear(HIGHEST) : 1;
  const table = spreadTable(release.width, fastest(wind) * most * (seconds + step), frame.cellSize);
  const starts = startsOf(frame, from);
  const count = () => new Float32Array(particles);
  const begin = { x: count(), y: count(), z: count(), gone: count() };
  const bits = new Int32Array(2 * particles);
  fillBits(seedBits(seed, STARTS), bits, 2 * particles);
  for (let k = 0; k < particles; k++) {
    // On a path the particles take turns along it.
    const place = k % starts.cells.length;
    const east = wind.east[starts.cells[place]!]! * step;
    const south = wind.south[starts.cells[place]!]! * step;
    const metres = Math.sqrt(east * east + south * south);
    // Scent is given off all the time: each particle starts somewhere within the first step, spread as far as it is.
    const lead = (bits[2 * k]! >>> 8) / 0x1000000;
    const gone = lead * metres;
    const at = 2 * Math.min(table.spread.length / 2 - 1, Math.trunc(0.5 * gone * table.perSpacing));
    const [aside, rise] = normalPair(bits[2 * k + 1]!);
    const side = gone > 0 ? (table.spread[at]! * Math.sqrt(gone) * aside) / metres : 0;
    begin.x[k] = starts.x[place]! + (lead * east - south * side) / frame.cellSize;
    begin.y[k] = starts.y[place]! + (lead * south + east * side) / frame.cellSize;
    begin.z[k] = Math.abs(release.height + table.spread[at + 1]! * Math.sqrt(gone) * rise);
    begin.gone[k] = gone;
  }
  const { dose, age, left } = walk(
    { wind, step, ...(release.shear && { shear: release.shear }), ...table },
    begin,
    2 * Math.ceil(seconds / step / 2),
    seed,
  );
  for (let i = 0; i < dose.length; i++) {
    dose[i]! *= step;
    age[i]! *= step;
  }
  return { dose, age, left: left / particles };
}

/** Scent is not carried by faster wind than that at this height, m. */
const HIGHEST = 256;
/** The walk draws from the streams of the seed before this one. */
const STARTS = TOGETHER;

/** Where particles start, in cells east and south of the frame's corner: the spot, or every half cell along the path. */
function startsOf(frame: Frame, from: Point | readonly Point[]) {
  const path = (typeof from[0] === 'number' ? [from] : from) as readonly Point[];
  const spots: Point[] = [path[0]!];
  for (let k = 1; k < path.length; k++) {
    const [ax, ay] = path[k - 1]!;
    const [bx, by] = path[k]!;
    const pieces = Math.max(1, Math.ceil((2 * Math.hypot(bx - ax, by - ay)) / frame.cellSize));
    for (let p = 1; p <= pieces; p++)
      spots.push([ax + ((bx - ax) * p) / pieces, ay + ((by - ay) * p) / pieces]);
  }
  const inside = spots.filter(([x, y]) => cellAt(frame, x, y) >= 0);
  if (inside.length === 0)
    throw new Error(`scent cannot be released at ${path[0]![0]}, ${path[0]![1]}: it lies outside the frame`);
  return {
    cells: Int32Array.from(inside, ([x, y]) => cellAt(frame, x, y)),
    x: Float64Array.from(inside, ([x]) => (x - frame.west) / frame.cellSize),
    y: Float64Array.from(inside, ([, y]) => (frame.north - y) / frame.cellSize),
  };
}

/**
 * Root of the growth of variance per metre travelled, across and upwards in pairs, at even spacing.
 *
 * @param reach how far it is wanted, m
 */
export function spreadTable(width: (distance: number) => PlumeWidth, reach: number, cellSize: number) {
  const spacing = Math.max(FINEST, cellSize / PART_OF_CELL);
  const length = Math.min(LONGEST_TABLE, Math.max(1, Math.ceil(reach / spacing)));
  const spread = new Float32Array(2 * length);
  let before = { across: 0, up: 0 };
  for (let k = 0; k < length; k++) {
    const after = width((k + 1) * spacing);
    spread[2 * k] = Math.sqrt(Math.max(0, after.across ** 2 - before.across ** 2) / spacing);
    spread[2 * k + 1] = Math.sqrt(Math.max(0, after.up ** 2 - before.up ** 2) / spacing);
    before = after;
  }
  return { spread, perSpacing: 1 / spacing };
}

export const openWidths =
  (kind: StabilityClass) =>
  (distance: number): PlumeWidth =>
    briggsOpen(kind, Math.max(distance, 1e-3));

/** The height that wind near the ground stands for, m: the middle of the lowest boxes of `localWind`. */
const FIELD_HEIGHT = 3;

/**
 * Wind over open level ground at a height over that of the field near the ground. Particles are carried by it and
 * spread as in the field's own wind, so that they do not gather where the air is slow (Thomson, J. Fluid Mechanics 180,
 * 1987, on what a walk must not do).
 */
export const fieldShear = (height: number): number => openProfile(height, FIELD_HEIGHT);
