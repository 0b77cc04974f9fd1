/** A table that stays in the nearest cache. */
const PAIRS = 2048;
/** Multiplier of a rank-1 lattice (Korobov): the golden ratio's part of `PAIRS`, odd. */
const LATTICE = 1267;

/**
 * Pairs of normal numbers without their signs: each member runs through the middle values of 2048 slices of equal
 * chance of the half normal distribution, scaled to a mean square of exactly one, and the two are laid against each
 * other by a lattice that fills the square evenly. Quantiles by Acklam's rational fit (relative error below 1.2e-9).
 */
export const HALF_NORMALS = ((): Float32Array => {
  const values = new Float64Array(PAIRS);
  let squares = 0;
  for (let i = 0; i < PAIRS; i++) {
    values[i] = normalQuantile(0.5 + (i + 0.5) / (2 * PAIRS));
    squares += values[i]! ** 2;
  }
  const scale = 1 / Math.sqrt(squares / PAIRS);
  const pairs = new Float32Array(2 * PAIRS);
  for (let i = 0; i < PAIRS; i++) {
    pairs[2 * i] = values[i]! * scale;
    pairs[2 * i + 1] = values[(i * LATTICE) % PAIRS]! * scale;
  }
  return pairs;
})();

/** No normal number of the table is larger, either way. */
export const FARTHEST_NORMAL = HALF_NORMALS.reduce((most, value) => Math.max(most, value), 0);

/** Two normal numbers of 32 random bits: a pair by the lowest eleven, signs by the two highest. */
export function normalPair(bits: number): [number, number] {
  const pair = 2 * (bits & (PAIRS - 1));
  const signed = (value: number, negative: boolean): number => (negative ? -value : value);
  return [signed(HALF_NORMALS[pair]!, bits < 0), signed(HALF_NORMALS[pair + 1]!, bits << 1 < 0)];
}

/** State of a generator, for `fillBits`: two words that are not both nought. */
export function seedBits(seed: number, stream = 0): Int32Array {
  // Weyl steps and a mixer (Stafford's for 32 bits) keep near seeds apart.
  const state = new Int32Array(2);
  let h = (seed | 0) ^ Math.imul(stream + 1, 0x9e3779b9);
  for (let k = 0; k < 2; k++) {
    h = (h + 0x9e3779b9) | 0;
    let m = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
    m = Math.imul(m ^ (m >>> 13), 0xc2b2ae35);
    state[k] = (m ^ (m >>> 16)) | 1;
  }
  fillBits(state, new Int32Array(16), 16);
  return state;
}

/**
 * Fills the first `count` places with 32 random bits each: Marsaglia's xorshift of two 32-bit words with shifts 10,
 * 13, 10 (J. Statistical Software 8, 2003), which comes round after 2^64 - 1 draws.
 */
export function fillBits(state: Int32Array, into: Int32Array, count: number): void {
  let a = state[0]!;
  let b = state[1]!;
  for (let k = 0; k < count; k++) {
    const t = a ^ (a << 10);
    a = b;
    b = b ^ (b >>> 10) ^ t ^ (t >>> 13);
    into[k] = b;
  }
  state[0] = a;
  state[1] = b;
}

function normalQuantile(p: number): number {
  const a = [
    -39.69683028665376, 220.9460984245205, -275.9285104469687, 138.357751867269, -30.66479806614716,
    2.506628277459239,
  ];
  const b = [
    -54.47609879822406, 161.5858368580409, -155.6989798598866, 66.80131188771972, -13.28068155288572,
  ];
  const c = [
    -0.007784894002430293, -0.3223964580411365, -2.400758277161838, -2.549732539343734, 4.374664141464968,
    2.938163982698783,
  ];
  const d = [0.007784695709041462, 0.3224671290700398, 2.445134137142996, 3.754408661907416];
  if (p > 0.5) return -normalQuantile(1 - p);
  if (p < 0.02425) {
    const q = Math.sqrt(-2 * Math.log(p));
    return (
      (((((c[0]! * q + c[1]!) * q + c[2]!) * q + c[3]!) * q + c[4]!) * q + c[5]!) /
      ((((d[0]! * q + d[1]!) * q + d[2]!) * q + d[3]!) * q + 1)
    );
  }
  const q = p - 0.5;
  const r = q * q;
  return (
    ((((((a[0]! * r + a[1]!) * r + a[2]!) * r + a[3]!) * r + a[4]!) * r + a[5]!) * q) /
    (((((b[0]! * r + b[1]!) * r + b[2]!) * r + b[3]!) * r + b[4]!) * r + 1)
  );
}
