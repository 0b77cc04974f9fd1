import type { Weights } from './assumptions.ts';
import type { Flow } from './flow.ts';
import { isFeeding } from './pairs.ts';
import type { TravelArea } from './types.ts';

/**
 * All travel shared out anew between the pairs of a flow, as other weights would: each pair's share grows or shrinks
 * as its weighing by cost and feeding does from the usual weights to these. Both costs stand on the same cells, so
 * that what a grid does to a least cost falls out. Pairs that are cut off carry nothing.
 *
 * @param flow solved under `weights`
 * @param usualCosts of the same pairs under the usual weights, as `leastCosts` gives them
 */
export function reshared(
  flow: Flow,
  weights: Weights,
  usualCosts: ReadonlyMap<string, number>,
  usualWeights: Weights,
  areas: readonly Pick<TravelArea, 'id' | 'kind'>[],
): Flow {
  const kinds = new Map(areas.map(({ id, kind }) => [id, kind]));
  const grown = flow.pairs.map(({ pair, cost }) => {
    const former = usualCosts.get(`${pair.from} ${pair.to}`) ?? cost;
    const fed = isFeeding([kinds.get(pair.from), kinds.get(pair.to)]);
    return (
      former / usualWeights.reach -
      cost / weights.reach +
      (fed ? Math.log(weights.feeding / usualWeights.feeding) : 0)
    );
  });
  // From the one that grew most, so that none overflows.
  const most = Math.max(...grown);
  const shares = flow.pairs.map(({ pair }, k) => pair.share * Math.exp(grown[k]! - most));
  const before = flow.pairs.reduce((sum, { pair }) => sum + pair.share, 0);
  const after = shares.reduce((sum, share) => sum + share, 0);
  return {
    ...flow,
    pairs: flow.pairs.map((found, k) => ({
      ...found,
      pair: { ...found.pair, share: (shares[k]! * before) / after },
    })),
  };
}
