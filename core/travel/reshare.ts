import type { Weights } from './assumptions.ts';
import type { Flow, PairFlow } from './flow.ts';
import { isFeeding } from './pairs.ts';
import type { TravelArea } from './types.ts';

/**
 * All travel shared out anew between the pairs of a flow, as other weights would: each pair's share grows or shrinks
 * as its weighing by cost and feeding does from the usual flow to this one. Both flows stand on the same cells, so
 * that what a grid does to a least cost falls out. Pairs that are cut off carry nothing.
 *
 * @param flow of the same pairs as `usual`, solved under `weights`
 */
export function reshared(
  flow: Flow,
  weights: Weights,
  usual: Flow,
  usualWeights: Weights,
  areas: readonly Pick<TravelArea, 'id' | 'kind'>[],
): Flow {
  const kinds = new Map(areas.map(({ id, kind }) => [id, kind]));
  const keyOf = ({ pair }: PairFlow): string => `${pair.from} ${pair.to}`;
  const costs = new Map(usual.pairs.map((found) => [keyOf(found), found.cost]));
  const grown = flow.pairs.map((found) => {
    const { pair, cost } = found;
    const former = costs.get(keyOf(found)) ?? cost;
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
