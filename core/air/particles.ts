import { cellAt, type Frame, type Point } from '../grid/frame.ts';
import { briggsOpen, type PlumeWidth, type StabilityClass } from './plume.ts';
import { fillBits, highNormal, lowNormal, seedBits } from './random.ts';

/** The air scent moves in, on one frame; parts of the velocity east and south, m/s. */
export interface WindField {
  frame: Frame;
  east: Float32Array;
  south: Float32Array;
  /** 1 where air eddies, so that only its mean drift is known; none where left out. */
  eddies?: Uint8Array;
}

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
}

/** What the particles left behind; cells of the wind's frame. */
export interface Scent {
  /** Mean time a particle spent in each cell below nose height, s over the particles released. */
  dose: Float32Array;
  /** Mean time since release of the scent in each cell below nose height, s; NaN where none came. */
  age: Float32Array;
  /** Share of the particles that left the map. */
  left: number;
  /** Steps taken by all particles together. */
  moved: number;
}

/** Deer carry their noses below this height, m. */
const NOSE = 2;
/** Particles that walk side by side. */
const BLOCK = 256;
/** Slower wind does not move scent, m/s. */
const STILL = 1e-3;

/**
 * Lagrangian particles in a wind field: each is carried by the wind of the cell it is in and spreads by a random
 * walk whose variance grows as the plume's own, K = (u/2) d(sigma^2)/dx (Taylor 1921 for the far field), so that in
 * uniform wind over level ground the particles make the Gaussian plume. The ground reflects. Particles whose wind
 * stands still stay where they are.
 *
 * The walk is drawn from a seeded generator, so the same release gives the same bits.
 */
export function releaseScent(wind: WindField, release: Release): Scent {
  const { frame } = wind;
  const { width, height, cellSize } = frame;
  const count = wind.east.length;
  const { from, particles, seconds, step, seed } = release;
  const steps = Math.ceil(seconds / step);
  // Per cell: steps spent there below nose height, and the sum of the steps they were after release.
  const visits = new Float64Array(2 * count);
  const { acrossStep, upStep, spacing } = spreadTable(release.width, seconds, cellSize);
  const moves = movesOf(wind, step);
  const state = seedBits(seed);
  const starts = startsOf(frame, from);
  let left = 0;
  let moved = 0;
  const last = acrossStep.length - 1;
  const perSpacing = 1 / spacing;

  // Particles walk in blocks, all of a block a step at a time: their steps do not wait for each other.
  const xs = new Float64Array(BLOCK);
  const ys = new Float64Array(BLOCK);
  const zs = new Float64Array(BLOCK);
  const gones = new Float64Array(BLOCK);
  const cells = new Int32Array(BLOCK);
  const bits = new Int32Array(BLOCK);
  for (let done = 0; done < particles; done += BLOCK) {
    let alive = Math.min(BLOCK, particles - done);
    fillBits(state, bits, alive);
    for (let k = 0; k < alive; k++) {
      // Scent is given off all the time: each particle starts somewhere within the first step.
      const lead = (bits[k]! >>> 8) / 0x1000000;
      // On a path the particles take turns along it.
      const place = (done + k) % starts.cells.length;
      const start = starts.cells[place]!;
      xs[k] = starts.x[place]! + lead * moves[4 * start]!;
      ys[k] = starts.y[place]! + lead * moves[4 * start + 1]!;
      zs[k] = release.height;
      gones[k] = 0;
      cells[k] = start;
    }
    for (let n = 0; n < steps && alive > 0; n++) {
      moved += alive;
      fillBits(state, bits, alive);
      for (let k = 0; k < alive; k++) {
        const at = 4 * cells[k]!;
        const east = moves[at]!;
        const south = moves[at + 1]!;
        const gone = moves[at + 2]!;
        const perRoot = moves[at + 3]!;
        const drawn = bits[k]!;
        const distance = gones[k]!;
        let place = ((distance + 0.5 * gone) * perSpacing) | 0;
        if (place > last) place = last;
        const side = acrossStep[place]! * perRoot * lowNormal(drawn);
        const x = xs[k]! + east - south * side;
        const y = ys[k]! + south + east * side;
        const z = Math.abs(zs[k]! + upStep[place]! * gone * perRoot * highNormal(drawn));
        if (!(x >= 0 && y >= 0 && x < width && y < height)) {
          left++;
          // The last of the block takes the place of one that is gone, and takes its step now.
          alive--;
          xs[k] = xs[alive]!;
          ys[k] = ys[alive]!;
          zs[k] = zs[alive]!;
          gones[k] = gones[alive]!;
          cells[k] = cells[alive]!;
          bits[k] = bits[alive]!;
          k--;
          continue;
        }
        xs[k] = x;
        ys[k] = y;
        zs[k] = z;
        gones[k] = distance + gone;
        const i = (y | 0) * width + (x | 0);
        cells[k] = i;
        if (z < NOSE) {
          visits[2 * i]!++;
          visits[2 * i + 1]! += n;
        }
      }
    }
  }
  const dose = new Float32Array(count);
  const age = new Float32Array(count).fill(Number.NaN);
  for (let i = 0; i < count; i++) {
    if (visits[2 * i] === 0) continue;
    dose[i] = (visits[2 * i]! * step) / particles;
    age[i] = (visits[2 * i + 1]! / visits[2 * i]!) * step;
  }
  return { dose, age, left: left / particles, moved };
}

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

/** Per cell: cells east and south a step goes, metres it goes, and one over the root of those. */
function movesOf({ frame, east, south }: WindField, step: number): Float64Array {
  const moves = new Float64Array(4 * east.length);
  for (let i = 0; i < east.length; i++) {
    const speed = Math.hypot(east[i]!, south[i]!);
    if (!(speed > STILL)) continue;
    moves[4 * i] = (east[i]! * step) / frame.cellSize;
    moves[4 * i + 1] = (south[i]! * step) / frame.cellSize;
    moves[4 * i + 2] = speed * step;
    moves[4 * i + 3] = 1 / Math.sqrt(speed * step);
  }
  return moves;
}

/** Root of the growth of variance per metre travelled, across and upwards, at even spacing. */
function spreadTable(width: (distance: number) => PlumeWidth, seconds: number, cellSize: number) {
  const spacing = Math.max(0.5, cellSize / 8);
  const length = Math.min(20_000, Math.ceil((seconds * 15) / spacing));
  const acrossStep = new Float64Array(length);
  const upStep = new Float64Array(length);
  let before = { across: 0, up: 0 };
  for (let k = 0; k < length; k++) {
    const after = width((k + 1) * spacing);
    acrossStep[k] = Math.sqrt(Math.max(0, after.across ** 2 - before.across ** 2) / spacing);
    upStep[k] = Math.sqrt(Math.max(0, after.up ** 2 - before.up ** 2) / spacing);
    before = after;
  }
  return { acrossStep, upStep, spacing };
}

export const openWidths =
  (kind: StabilityClass) =>
  (distance: number): PlumeWidth =>
    briggsOpen(kind, Math.max(distance, 1e-3));
