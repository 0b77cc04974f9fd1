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
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (use && use[i] === 0) continue;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  if (!(high > low)) return null;
  const histogram = new Float64Array(BINS);
  const scale = BINS / (high - low);
  let total = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (Number.isNaN(value) || (use && use[i] === 0)) continue;
    histogram[Math.min(BINS - 1, Math.floor((value - low) * scale))]!++;
    total++;
  }
  const centre = (bin: number) => low + (bin + 0.5) / scale;
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

/** A limit taken from the scene where it parts clearly there, kept within bounds; else the usual value. */
export interface AdaptiveLimit {
  usual: number;
  least: number;
  most: number;
}

/** Otsu on a single hump still gives 2/pi (normal) to 3/4 (flat), so a real split must beat both. */
const CLEAR_SPLIT = 0.78;

export function adaptLimit(limit: AdaptiveLimit, values: ArrayLike<number>, use?: Uint8Array): number {
  const split = otsuSplit(values, use);
  if (!split || split.separability < CLEAR_SPLIT) return limit.usual;
  return Math.min(limit.most, Math.max(limit.least, split.threshold));
}

/** The value below which the given share of the used values lies (256 bins); NaN without any. */
export function quantile(values: ArrayLike<number>, share: number, use?: Uint8Array): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let total = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (Number.isNaN(value) || (use && use[i] === 0)) continue;
    if (value < low) low = value;
    if (value > high) high = value;
    total++;
  }
  if (total === 0) return Number.NaN;
  if (high === low) return low;
  const histogram = new Float64Array(BINS);
  const scale = BINS / (high - low);
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (Number.isNaN(value) || (use && use[i] === 0)) continue;
    histogram[Math.min(BINS - 1, Math.floor((value - low) * scale))]!++;
  }
  let seen = 0;
  for (let bin = 0; bin < BINS; bin++) {
    seen += histogram[bin]!;
    if (seen >= share * total) return low + (bin + 0.5) / scale;
  }
  return high;
}
