import { describe, expect, it } from 'vitest';
import { travelAssumptions, type Weights, weightsOf } from '../../../core/travel/assumptions.ts';
import type { Flow } from '../../../core/travel/flow.ts';
import { reshared } from '../../../core/travel/reshare.ts';
import { frameOf } from './scene.ts';

const usual = weightsOf(travelAssumptions({}));
const areas = [
  { id: 1, kind: 'bedding' },
  { id: 2, kind: 'food' },
  { id: 3, kind: 'block' },
] as const;

/** Two pairs, bedding to food and bedding to block, at the costs given. */
const flowOf = (toFood: number, toBlock: number): Flow => ({
  frame: frameOf(4, 4, 5),
  pairs: [
    { pair: { from: 1, to: 2, share: 0.6 }, cost: toFood },
    { pair: { from: 1, to: 3, share: 0.4 }, cost: toBlock },
  ] as Flow['pairs'],
  cutOff: [],
});
const costs = (toFood: number, toBlock: number) =>
  new Map([
    ['1 2', toFood],
    ['1 3', toBlock],
  ]);
const shares = (flow: Flow, weights: Weights, from = costs(1000, 2000)): number[] =>
  reshared(flow, weights, from, usual, areas).pairs.map(({ pair }) => pair.share);

/** Worked by hand from the rule: weight = exp(-cost / reach), times `feeding` to food. */
describe('travel shared out anew', () => {
  it('stays as it is under the same weights and costs', () => {
    expect(shares(flowOf(1000, 2000), usual)).toEqual([0.6, 0.4]);
  });

  it('follows the draw of food', () => {
    // Food draws twice as much: 0.6 x 2 against 0.4.
    const [food, block] = shares(flowOf(1000, 2000), { ...usual, feeding: 2 * usual.feeding });
    expect(food! / block!).toBeCloseTo((0.6 * 2) / 0.4, 12);
    expect(food! + block!).toBeCloseTo(1, 12);
  });

  it('follows how far deer go, and what the way costs under other weights', () => {
    const near = shares(flowOf(1000, 2000), { ...usual, reach: usual.reach / 2 });
    expect(near[0]! / near[1]!).toBeCloseTo(
      (0.6 * Math.exp(-1000 / usual.reach)) / (0.4 * Math.exp(-2000 / usual.reach)),
      12,
    );
    const dearer = shares(flowOf(1000, 2000 + usual.reach), usual);
    expect(dearer[0]! / dearer[1]!).toBeCloseTo((0.6 / 0.4) * Math.E, 12);
  });

  it('does not overflow on a map of many miles', () => {
    const far = shares(flowOf(9e6, 1e6), { ...usual, reach: 1500 }, costs(9e6, 1e6));
    expect(far[0]).toBeCloseTo(0, 12);
    expect(far[1]).toBeCloseTo(1, 12);
  });
});
