import type { Feature } from '../features/feature.ts';
import type { Weights } from './assumptions.ts';
import { bothWays, type Relief, type ReliefGround, reliefOf } from './relief.ts';
import { type Trail, trailsOf } from './trails.ts';

/** What walking meets besides the resistance of the cells and the lines across its way. */
export interface Underfoot {
  relief: Relief | null;
  trails: readonly Trail[];
  /** Share left on a trail of what the ground costs beyond easy ground. */
  trailFactor: number;
}

/**
 * Relief and trails as travel meets them that runs both ways: climbing counts by the mean of up and down, so that
 * costs there and back, conductors and corridors agree. `oneWay` tells what the one way costs.
 */
export const underfootOf = (
  ground: ReliefGround,
  features: readonly Feature[],
  weights: Weights,
): Underfoot => ({
  relief: bothWays(reliefOf(ground, weights)),
  trails: trailsOf(features, weights),
  trailFactor: weights.trailFactor,
});
