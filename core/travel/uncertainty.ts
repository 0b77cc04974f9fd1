import { seededRandom } from '../grid/random.ts';
import { type WeightKey, type Weights, weightsOf } from './assumptions.ts';
import type { Assumption } from './types.ts';

/** Weights that are wrong together: who misjudges one road misjudges them all. Our assumption. */
const TOGETHER: readonly (readonly WeightKey[])[] = [
  ['brush', 'deciduous', 'evergreen'],
  ['highway', 'county', 'lane', 'track', 'railroad'],
  ['creekBank', 'creekWidth', 'creekDepth'],
  ['fence', 'barricade', 'barricadeThrough', 'barricadeUnder'],
  ['gate', 'lowered', 'culvert', 'underpass', 'ford'],
];

/** Assumptions that vary, those that are wrong together side by side. */
export function weightGroups(assumptions: readonly Assumption[]): WeightKey[][] {
  const groups = new Map<string, WeightKey[]>();
  for (const { key, low, high } of assumptions)
    if (low < high) groups.set(groupOf(key), [...(groups.get(groupOf(key)) ?? []), key as WeightKey]);
  return [...groups.values()];
}

const groupOf = (key: string): string => TOGETHER.find((keys) => keys.includes(key as WeightKey))?.[0] ?? key;

/**
 * Weights for runs over what is not known: every assumption varies between its low and high, most often near its
 * value (triangular), and each run takes another tenth, twentieth … of every range (Latin hypercube; McKay, Beckman
 * & Conover 1979), so that few runs reach the ends. Weights of one kind vary together.
 */
export function drawWeights(assumptions: readonly Assumption[], runs: number, seed: number): Weights[] {
  const random = seededRandom(seed);
  const drawn: Weights[] = Array.from({ length: runs }, () => weightsOf(assumptions));
  const groups = new Map<string, Float64Array>();
  for (const { key, low, value, high } of assumptions) {
    const group = groupOf(key);
    let places = groups.get(group);
    if (!places) {
      places = Float64Array.from(shuffled(runs, random), (place) => (place + random()) / runs);
      groups.set(group, places);
    }
    for (let run = 0; run < runs; run++)
      drawn[run]![key as WeightKey] = triangular(places[run]!, low, value, high);
  }
  return drawn;
}

function shuffled(count: number, random: () => number): number[] {
  const order = Array.from({ length: count }, (_, k) => k);
  for (let k = count - 1; k > 0; k--) {
    const j = Math.floor(random() * (k + 1));
    [order[k], order[j]] = [order[j]!, order[k]!];
  }
  return order;
}

/** Inverse of the triangular distribution. */
function triangular(u: number, low: number, mode: number, high: number): number {
  const span = high - low;
  if (span === 0) return mode;
  const at = (mode - low) / span;
  return u < at ? low + Math.sqrt(u * span * (mode - low)) : high - Math.sqrt((1 - u) * span * (high - mode));
}
