import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import { travelAssumptions, weightsOf } from '../../../core/travel/assumptions.ts';
import { judgeFirmness } from '../../../core/travel/firmness.ts';
import { type Flow, shareAcross } from '../../../core/travel/flow.ts';
import type { Pinch } from '../../../core/travel/pinch.ts';
import { runTrials, sharesOf, usualTrial } from '../../../core/travel/trials.ts';
import { drawWeights } from '../../../core/travel/uncertainty.ts';
import { box, feature, frameOf, line, point, runScene } from './scene.ts';

const assumptions = travelAssumptions({});
const pinches = Array.from({ length: 12 }, (_, k) => ({ share: 0.5 - 0.02 * k, width: 20 }) as Pinch);
const shares = Float64Array.from(pinches, ({ share }) => share);
const trials = (
  ...changes: { change: string; margin?: boolean; ranksOnly?: boolean; shares: Float64Array }[]
) => ({
  usual: shares,
  usualOfChanges: shares,
  list: [
    ...drawWeights(assumptions, 40, 3).map((weights) => ({
      change: null,
      margin: false,
      weights,
      shares,
      ranksOnly: false,
    })),
    ...changes.map((given) => ({ margin: false, ranksOnly: false, weights: null, ...given })),
  ],
});
const first = (value: number): Float64Array => shares.map((share, k) => (k === 0 ? value : share));

describe('firmness', () => {
  it('is for those among the ten best whatever is changed', () => {
    const judged = judgeFirmness(pinches, trials(), assumptions);
    expect(judged.map(({ firm }) => firm)).toEqual(pinches.map((_, k) => k < 10));
    expect(judged[0]!.spread).toEqual({ low: 0.5, high: 0.5, runs: 40 });
  });

  it.each(['the ends of travel move', 'the cells are twice as wide', 'the edge of the map is drawn in'])(
    'is lost when %s and the share halves, and says so',
    (change) => {
      const margin = change.includes('edge');
      const [neck, next] = judgeFirmness(
        pinches,
        trials({ change, margin, shares: first(0.24) }),
        assumptions,
      );
      expect(neck).toMatchObject({ firm: false, lostWhen: [change], edgeArtefact: margin });
      expect(next).toMatchObject({ firm: true, edgeArtefact: false });
    },
  );

  it('is not said to be lost by one that was never among the best', () => {
    const change = 'the map reaches twice as far';
    const judged = judgeFirmness(
      pinches,
      trials({ change, margin: true, ranksOnly: true, shares: first(0.01) }),
      assumptions,
    );
    expect(judged[0]).toMatchObject({ firm: false, lostWhen: [change], edgeArtefact: true });
    expect(judged[11]).toMatchObject({ firm: false, lostWhen: [], edgeArtefact: false });
  });

  it('asks only for ranks under another model of routes, which spreads all travel', () => {
    const spread = shares.map((share) => share / 5);
    const wander = { change: 'travel wanders', ranksOnly: true };
    expect(judgeFirmness(pinches, trials({ ...wander, shares: spread }), assumptions)[0]!.firm).toBe(true);
    expect(judgeFirmness(pinches, trials({ ...wander, shares: first(0.01) }), assumptions)[0]!.firm).toBe(
      false,
    );
  });

  it('reads each share against what its own cells give for the usual weights', () => {
    // Half of every share is lost on the wide cells of the runs, with the usual weights as with drawn ones.
    const wide = shares.map((share) => share / 2);
    const given = { ...trials({ change: 'the ends of travel move', shares }), usual: wide };
    for (const trial of given.list) if (trial.weights) trial.shares = wide;
    const judged = judgeFirmness(pinches, given, assumptions);
    expect(judged.map(({ firm }) => firm)).toEqual(pinches.map((_, k) => k < 10));
    expect(judged[0]!.spread).toEqual({ low: 0.5, high: 0.5, runs: 40 });
    const bad = { ...given, usualOfChanges: shares.map((share) => 0.4 * share) };
    expect(judgeFirmness(pinches, bad, assumptions)[0]!.lostWhen).toContain('the cells are twice as wide');
  });

  it('names the assumption a share follows, and none where it follows none', () => {
    const given = trials();
    given.list.forEach((trial, k) => {
      // Falls as the fence grows dearer (a rank correlation of one); the second follows nothing.
      const noise = ((k * 7919) % 101) / 1010;
      trial.shares = shares.map((share, p) =>
        p === 0 ? 10 / (20 + trial.weights!.creekWidth) : p === 1 ? share + noise : share,
      );
    });
    const [neck, other] = judgeFirmness(pinches, given, assumptions);
    const label = (key: string) => assumptions.find((one) => one.key === key)!.label;
    // Weights that are wrong together carry the first one's name.
    expect([label('creekBank'), label('creekWidth'), label('creekDepth')]).toContain(neck!.movedBy);
    expect(other!.movedBy).toBeNull();
  });
});

describe('trials', () => {
  it('move the ends, the edge, the cells and the model of routes, besides the weights', () => {
    const frame = frameOf(80, 60, 5);
    const fence = feature('fence', line([200, -10], [200, 310]), { height: 4 });
    const gate = feature('gap', point(200, 150), { type: 'gate', width: 5 });
    const scene = runScene(
      frame,
      () => COVER.deciduous,
      [feature('bedding', box(30, 120, 80, 180)), feature('food', box(320, 120, 370, 180)), fence, gate],
      { runs: 0 },
    );
    const pairs = scene.corridors.map(({ from, to, share }) => ({ from, to, share }));
    const inputs = { ...scene.inputs, ...scene, assumptions, pairs };
    const only = { ...scene.necks[0]!, pairs: new Float64Array(pairs.length), score: 1 } as Pinch;
    const { flow } = scene.todayTravel;
    const measures = [(of: Flow) => shareAcross(of, only.line).share];
    const run = (flowFactor: number, factor: number) =>
      runTrials(inputs, measures, flowFactor, factor, 3, 1, () => {});
    const list = run(1, 1);
    const usual = sharesOf(measures, usualTrial(inputs, flow, 1, 1));
    expect(list.filter(({ weights }) => weights !== null)).toHaveLength(3);
    expect(list.flatMap(({ change }) => change ?? [])).toEqual([
      'the ends of travel move',
      'the ends of travel move',
      'the edge of the map is drawn in',
      'the cells are twice as wide',
      'travel wanders at random instead of seeking the cheapest way',
    ]);
    // All travel passes the one gate whatever is changed, on cells of either width.
    expect(usual[0]!).toBeGreaterThan(0.99);
    for (const { shares } of list) expect(shares[0]!).toBeGreaterThan(0.95);
    // In bands, side by side, they are the same to the bit.
    const some = (index: number, count: number) =>
      runTrials(inputs, measures, 1, 1, 9, 1, () => {}, { index, count });
    expect([0, 1, 2, 3].flatMap((index) => some(index, 4))).toEqual(some(0, 1));
    // Where the trials' cells are twice as wide already, they are not widened again.
    expect(run(1, 2).map(({ change }) => change)).not.toContain('the cells are twice as wide');
    // Drawn weights may be solved on wider cells than changed models are.
    const apart = runTrials(inputs, measures, 1, 1, 9, 1, () => {}, { index: 0, count: 1 }, 2);
    expect(apart.map(({ change }) => change)).toEqual(some(0, 1).map(({ change }) => change));
    const own = (found: typeof apart, changed: boolean) =>
      found.filter(({ change }) => (change !== null) === changed).map((trial) => trial.shares[0]!);
    expect(own(apart, true)).toEqual(own(some(0, 1), true));
    expect(own(apart, false)).not.toEqual(own(some(0, 1), false));
    for (const share of own(apart, false)) expect(share).toBeGreaterThan(0.95);
    expect(weightsOf(assumptions).focus).toBeGreaterThan(0);
  });
});

describe('the band of a share', () => {
  it('goes with junctions and crossings as with necks, over the drawn weights alone', () => {
    const frame = frameOf(100, 80, 5);
    const { necks, junctions, crossings } = runScene(
      frame,
      (x, y) => (Math.sin(x / 41) * Math.cos(y / 37) > 0.2 ? COVER.open : COVER.deciduous),
      [
        feature('bedding', box(30, 60, 90, 120)),
        feature('bedding', box(30, 280, 90, 340)),
        feature('food', box(410, 170, 470, 230)),
        feature('creek', line([250, -10], [260, 200], [250, 410]), { width: 2 }),
      ],
      { runs: 4 },
    );
    expect(crossings.length).toBeGreaterThan(0);
    expect(junctions.length).toBeGreaterThan(0);
    for (const { share, spread, reasons } of [...junctions, ...crossings]) {
      expect(spread!.runs).toBe(4);
      expect(spread!.low).toBeLessThanOrEqual(share);
      expect(spread!.high).toBeGreaterThanOrEqual(share);
      expect(spread!.high).toBeGreaterThan(spread!.low);
      expect(reasons.join(' ')).toContain('over 4 runs of the uncertain weights');
    }
    expect(necks.every(({ spread }) => spread.runs === 4)).toBe(true);
  });
});
