/** Seeded random numbers and smooth noise: the same seed gives the same property on every machine. */

/** A standard normal number (Box & Muller 1958). */
export function normal(random: () => number): number {
  const radius = Math.sqrt(-2 * Math.log(1 - random()));
  return radius * Math.cos(2 * Math.PI * random());
}

/** A number in [0, 1) that depends on a lattice point and a seed only, so any window can be made alone. */
export function lattice(column: number, row: number, seed: number): number {
  let h = Math.imul(column, 0x27d4eb2d) ^ Math.imul(row, 0x165667b1) ^ Math.imul(seed, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 15), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return ((h ^ (h >>> 16)) >>> 0) / 4294967296;
}

/** Value noise in [-1, 1] with quintic blending; one lattice cell per unit of x and y. */
export function noise(x: number, y: number, seed: number): number {
  const column = Math.floor(x);
  const row = Math.floor(y);
  const u = fade(x - column);
  const v = fade(y - row);
  const a = lattice(column, row, seed);
  const b = lattice(column + 1, row, seed);
  const c = lattice(column, row + 1, seed);
  const d = lattice(column + 1, row + 1, seed);
  return 2 * (a + (b - a) * u + (c - a) * v + (a - b - c + d) * u * v) - 1;
}

/** Sum of octaves of noise, each half as wide and `gain` as high; roughly in [-1, 1]. */
export function fractal(x: number, y: number, seed: number, octaves: number, gain = 0.5): number {
  let sum = 0;
  let height = 1;
  let scale = 1;
  let total = 0;
  for (let octave = 0; octave < octaves; octave++) {
    sum += height * noise(x * scale + 17.3 * octave, y * scale - 9.7 * octave, seed + octave);
    total += height;
    height *= gain;
    scale *= 2;
  }
  return sum / total;
}

const fade = (t: number): number => t * t * t * (t * (t * 6 - 15) + 10);
