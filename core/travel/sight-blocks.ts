import type { Point } from '../grid/frame.ts';
import { seededRandom } from '../grid/random.ts';

/** A spot deer were seen at, with what it counts for. */
export interface SeenSpot {
  at: Point;
  weight: number;
}

/** Blocks of ground that sightings lie in, and the fold each is held out with. */
export interface SightBlocks {
  /** Block of every spot, from 0. */
  block: Int32Array;
  /** Fold of every block. */
  fold: Int32Array;
  folds: number;
}

/**
 * Squares of ground, shared out among folds. Sightings near one another are told the same by the same trail or the
 * same observer, so they are held out together (spatially blocked cross-validation: Roberts et al. 2017). The block
 * with most goes first, each to the fold that holds least.
 *
 * @param side of a block, m
 */
export function blocksOf(spots: readonly SeenSpot[], side: number, folds: number, seed: number): SightBlocks {
  const random = seededRandom(seed);
  // A grid laid by chance, so that no block is chosen with an eye on the answer.
  const [west, south] = [random() * side, random() * side];
  const numbers = new Map<string, number>();
  const block = Int32Array.from(spots, ({ at: [x, y] }) => {
    const key = `${Math.floor((x - west) / side)} ${Math.floor((y - south) / side)}`;
    if (!numbers.has(key)) numbers.set(key, numbers.size);
    return numbers.get(key)!;
  });
  const held = new Float64Array(numbers.size);
  spots.forEach(({ weight }, i) => {
    held[block[i]!]! += weight;
  });
  const most = Math.min(folds, numbers.size);
  const loads = new Float64Array(most);
  const fold = new Int32Array(numbers.size);
  for (const b of [...held.keys()].sort((p, q) => held[q]! - held[p]! || p - q)) {
    const least = loads.indexOf(Math.min(...loads));
    fold[b] = least;
    loads[least]! += held[b]!;
  }
  return { block, fold, folds: most };
}

/**
 * Mean of a value over spots, and its standard error when spots of one block hang together: the ratio of block sums,
 * its variance by linearisation (Cochran 1977, Sampling Techniques, section 6.3; blocks as clusters). Infinite with
 * fewer than two blocks.
 *
 * @param among the spots that count
 */
export function blockedMean(
  values: Float64Array,
  spots: readonly SeenSpot[],
  block: Int32Array,
  among: readonly number[] = [...spots.keys()],
): { mean: number; error: number } {
  const sums = new Map<number, { value: number; weight: number }>();
  let [sum, all] = [0, 0];
  for (const i of among) {
    const { weight } = spots[i]!;
    const own = sums.get(block[i]!) ?? { value: 0, weight: 0 };
    sums.set(block[i]!, { value: own.value + weight * values[i]!, weight: own.weight + weight });
    sum += weight * values[i]!;
    all += weight;
  }
  const mean = sum / all;
  const count = sums.size;
  if (count < 2) return { mean, error: Number.POSITIVE_INFINITY };
  let squares = 0;
  for (const { value, weight } of sums.values()) squares += (value - mean * weight) ** 2;
  return { mean, error: Math.sqrt((squares * count) / (count - 1)) / all };
}
