const BINS = 256;

/** Where a histogram parts best in two, and how well. */
export interface Split {
  threshold: number;
  /** Variance between the two sides over all variance, 0..1. */
  separability: number;
  meanBelow: number;
  meanAbove: number;
}

/**
 * Otsu, "A threshold selection method from gray-level histograms", IEEE Trans. SMC 9 (1979): the threshold with
 * the greatest variance between the two sides, over 256 equal bins from the least to the greatest value. The
 * threshold is the centre of the last bin of the lower side.
 *
 * @param use 0 leaves a cell out; NaN values are left out as well
 * @returns null when fewer than two different values are there
 */
export function otsuSplit(values: ArrayLike<number>, use?: Uint8Array): Split | null {
  const bins = histogramOf(values, use);
  if (!bins) return null;
  const { counts: histogram, total, centre } = bins;
  let sum = 0;
  let squares = 0;
  for (let bin = 0; bin < BINS; bin++) {
    sum += histogram[bin]! * centre(bin);
    squares += histogram[bin]! * centre(bin) ** 2;
  }
  const variance = squares / total - (sum / total) ** 2;
  let best = -1;
  let result: Split | null = null;
  let below = 0;
  let sumBelow = 0;
  for (let bin = 0; bin < BINS - 1; bin++) {
    below += histogram[bin]!;
    sumBelow += histogram[bin]! * centre(bin);
    const above = total - below;
    if (below === 0 || above === 0) continue;
    const meanBelow = sumBelow / below;
    const meanAbove = (sum - sumBelow) / above;
    const between = (below / total) * (above / total) * (meanBelow - meanAbove) ** 2;
    if (between > best) {
      best = between;
      result = { threshold: centre(bin), separability: between / variance, meanBelow, meanAbove };
    }
  }
  return result;
}

/**
 * The two thresholds that part a histogram best in three: Otsu's measure with two cuts, found by trying all
 * (256 bins, so 32,640 pairs; Liao, Chen & Chung 2001 give the same sums). Thresholds as in `otsuSplit`.
 *
 * @returns null when fewer than three different values are there
 */
export function otsuThree(
  values: ArrayLike<number>,
  use?: Uint8Array,
): { low: number; high: number; separability: number } | null {
  const bins = histogramOf(values, use);
  if (!bins) return null;
  const { counts, total, centre } = bins;
  const upTo = new Float64Array(BINS + 1);
  const sumTo = new Float64Array(BINS + 1);
  let squares = 0;
  for (let bin = 0; bin < BINS; bin++) {
    upTo[bin + 1] = upTo[bin]! + counts[bin]!;
    sumTo[bin + 1] = sumTo[bin]! + counts[bin]! * centre(bin);
    squares += counts[bin]! * centre(bin) ** 2;
  }
  const part = (from: number, to: number): number => {
    const n = upTo[to]! - upTo[from]!;
    return n > 0 ? (sumTo[to]! - sumTo[from]!) ** 2 / n : Number.NEGATIVE_INFINITY;
  };
  const mean = sumTo[BINS]! / total;
  let best = Number.NEGATIVE_INFINITY;
  let result: { low: number; high: number; separability: number } | null = null;
  for (let a = 1; a < BINS - 1; a++) {
    const first = part(0, a);
    for (let b = a + 1; b < BINS; b++) {
      const between = first + part(a, b) + part(b, BINS);
      if (between <= best) continue;
      best = between;
      const separability = (between / total - mean * mean) / (squares / total - mean * mean);
      result = { low: centre(a - 1), high: centre(b - 1), separability };
    }
  }
  return result;
}

/** A limit taken from the scene where it parts clearly there, kept within bounds; else the usual value. */
export interface AdaptiveLimit {
  usual: number;
  least: number;
  most: number;
}

export const keepWithin = ({ least, most }: AdaptiveLimit, value: number): number =>
  Math.min(most, Math.max(least, value));

/** Otsu on a single hump still gives 2/pi (normal) to 3/4 (flat), so a real split must beat both. */
const CLEAR_SPLIT = 0.78;

export function adaptLimit(limit: AdaptiveLimit, values: ArrayLike<number>, use?: Uint8Array): number {
  const split = otsuSplit(values, use);
  if (!split || split.separability < CLEAR_SPLIT) return limit.usual;
  return keepWithin(limit, split.threshold);
}

/** The value below which the given share of the used values lies (256 bins); NaN without any. */
export function quantile(values: ArrayLike<number>, share: number, use?: Uint8Array): number {
  const bins = histogramOf(values, use);
  if (!bins) {
    for (let i = 0; i < values.length; i++)
      if (!Number.isNaN(values[i]!) && use?.[i] !== 0) return values[i]!;
    return Number.NaN;
  }
  let seen = 0;
  let bin = 0;
  while (bin < BINS - 1 && seen + bins.counts[bin]! < share * bins.total) seen += bins.counts[bin++]!;
  return bins.centre(bin);
}

interface Histogram {
  counts: Float64Array;
  total: number;
  /** Middle value of a bin. */
  centre(bin: number): number;
}

/** 256 equal bins from the least to the greatest used value; null when all are equal or none is there. */
function histogramOf(values: ArrayLike<number>, use?: Uint8Array): Histogram | null {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (use && use[i] === 0) continue;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  if (!(high > low)) return null;
  const counts = new Float64Array(BINS);
  const scale = BINS / (high - low);
  let total = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (Number.isNaN(value) || (use && use[i] === 0)) continue;
    counts[Math.min(BINS - 1, Math.floor((value - low) * scale))]!++;
    total++;
  }
  return { counts, total, centre: (bin) => low + (bin + 0.5) / scale };
}
