import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import type { Feature } from '../../../core/features/feature.ts';
import type { Point } from '../../../core/grid/frame.ts';
import { travelAssumptions } from '../../../core/travel/assumptions.ts';
import { type Flow, passageOf, shareAcross } from '../../../core/travel/flow.ts';
import { pairFlow } from '../../../core/travel/pair-flow.ts';
import { planPairs, planTravel } from '../../../core/travel/plan-travel.ts';
import type { Band } from '../../../core/travel/trials.ts';
import {
  type BuiltTravel,
  joinBuilt,
  shareWithin,
  solveBuilt,
  solveToday,
} from '../../../core/travel/what-if.ts';
import { box, feature, frameOf, line, point, runScene } from './scene.ts';

const frame = frameOf(120, 80, 5);
const ends = [feature('bedding', box(50, 150, 110, 250)), feature('food', box(490, 150, 550, 250))];

function plan(features: Feature[], cover: (x: number, y: number) => number = () => COVER.deciduous) {
  const all = [...ends, ...features];
  const scene = runScene(frame, cover, all, { runs: 0 });
  return {
    scene,
    plan: planTravel({ ...scene.inputs, ...scene, assumptions: travelAssumptions({}), features: all }),
  };
}

/** A fence no deer jumps, from north to south across the map. */
const fence = feature('fence', line([300, -10], [300, 410]), { height: 4 });
const gate = (y: number) => feature('gap', point(300, y), { type: 'gate', width: 5 });
const barricade = (...path: [number, number][]) =>
  feature('barricade', line(...path), { height: 2.4 }, 'proposed');

describe('a proposed barricade', () => {
  it('that deer walk round is told so, with the end they take', () => {
    const { plan: found } = plan([barricade([300, 170], [300, 215])]);
    const [check] = found.barricades;
    expect(check!.holds).toBe(false);
    expect(check!.before).toBeGreaterThan(0.1);
    expect(check!.after).toBeLessThan(check!.before / 2);
    expect(check!.cheapest).toContain('north end');
    expect(check!.detour).toBeLessThan(check!.crossing);
    expect(check!.ends.every(({ gained }) => gained > 0.02)).toBe(true);
    expect(check!.reasons.join(' ')).toContain('does not hold');
  });

  it('that closes one of two gates holds, and sends its travel to the other', () => {
    const { scene, plan: found } = plan([fence, gate(140), gate(260), barricade([300, 130], [300, 150])]);
    const [check] = found.barricades;
    expect(check!.holds).toBe(true);
    const [open] = scene.necks.filter(({ at }) => Math.abs(at[1] - 260) < 10);
    const change = found.necks.find(({ id }) => id === open!.id)!;
    expect(change.before).toBeLessThan(0.6);
    expect(change.after).toBeGreaterThan(0.9);
  });

  it('whose end stops short of a fence is flagged with the gap', () => {
    const { plan: found } = plan([fence, gate(140), barricade([230, 300], [288, 300])]);
    const [west, east] = found.barricades[0]!.ends;
    expect(east!.gap!.distance).toBeCloseTo(12, 6);
    expect(east!.gap!.to).toBe('fence');
    expect(west!.gap).toBeNull();
    const { plan: meets } = plan([fence, gate(140), barricade([230, 300], [299, 300])]);
    expect(meets.barricades[0]!.ends[1]!.gap).toBeNull();
  });
});

describe('further closures', () => {
  it('are proposed at the other gates, and closing all of them gathers nearly all travel (common practice)', () => {
    const { scene, plan: found } = plan([fence, gate(120), gate(200), gate(280)]);
    const goal = scene.necks.find(({ id }) => id === found.goal)!;
    const others = [120, 200, 280].filter((y) => Math.abs(y - goal.at[1]) > 10);
    expect(found.closures).toHaveLength(2);
    for (const { path, neckBefore, neckAfter, leak } of found.closures) {
      expect(path.every(([x]) => Math.abs(x - 300) < 15)).toBe(true);
      expect(Math.min(...others.map((y) => Math.abs(path[0]![1] - y)))).toBeLessThan(15);
      expect(neckAfter).toBeGreaterThan(neckBefore + 0.5 * leak);
    }
    const closed = found.closures.map(({ path }) => barricade(...path));
    const { plan: after } = plan([fence, gate(120), gate(200), gate(280), ...closed]);
    expect(after.necks.find(({ id }) => id === found.goal)!.after).toBeGreaterThan(0.95);
  });

  it('are not proposed where all travel passes the neck already', () => {
    expect(plan([fence, gate(200)]).plan.closures).toEqual([]);
  });

  it('are not proposed on a neighbour’s ground', () => {
    // Only the goal, the gate in the middle, lies on the owner's ground.
    const boundary = feature('boundary', box(200, 160, 400, 240));
    const { plan: found } = plan([fence, gate(100), gate(200), gate(300), boundary]);
    expect(found.goal).toBeNull();
    expect(found.closures).toEqual([]);
  });
});

describe('a what-if', () => {
  const { scene } = plan([fence, gate(120), gate(200), gate(280)]);
  const given = { ...scene.inputs, ...scene, assumptions: travelAssumptions({}) };
  const { todayTravel: today } = scene;
  const built = (proposed: Feature[], from?: BuiltTravel, band?: Band) =>
    solveBuilt(
      planPairs({ ...given, features: [...ends, fence, gate(120), gate(200), gate(280), ...proposed] }),
      today,
      from,
      band,
    );
  const closing = [barricade([300, 110], [300, 130])];
  /** The same costs and windows, and nothing to start from. */
  const fromNothing = ({ costs, areas, flow }: BuiltTravel): Flow => ({
    ...flow,
    pairs: flow.pairs.map(({ pair, cost, window }) => pairFlow(costs, areas, pair, cost, 10, window, 1e-11)!),
  });

  it('ends at the same shares to a millionth from today, from another try, and from nothing', () => {
    const other = built([barricade([200, 100], [200, 300]), barricade([300, 190], [300, 210])]);
    const warm = built(closing);
    const warmer = built(closing, other);
    const cold = fromNothing(warm);
    expect(Math.max(...fromNothing(other).pairs.map(({ window }) => window.width))).toBeGreaterThan(0);
    const passage = [warm.flow, warmer.flow, cold].map((flow) => passageOf(flow, warm.ground).cells);
    for (let i = 0; i < passage[0]!.length; i++) {
      expect(Math.abs(passage[1]![i]! - passage[0]![i]!)).toBeLessThan(1e-6);
      expect(Math.abs(passage[2]![i]! - passage[0]![i]!)).toBeLessThan(1e-6);
    }
    for (const { line } of scene.necks)
      expect(
        Math.abs(shareAcross(warmer.flow, line).share - shareAcross(warm.flow, line).share),
      ).toBeLessThan(1e-6);
    // Taken back, today's travel again.
    const again = built([], warm);
    for (const { line } of scene.necks)
      expect(
        Math.abs(shareAcross(again.flow, line).share - shareAcross(today.flow, line).share),
      ).toBeLessThan(1e-6);
  });

  it('solved in bands side by side is the same, bit by bit', () => {
    const food = [
      feature('food', box(290, 340, 340, 390), {}, 'proposed'),
      feature('food', box(60, 340, 110, 390), {}, 'proposed'),
    ];
    const bands = [0, 1].map((index) => built([...closing, ...food], undefined, { index, count: 2 }));
    const whole = built([...closing, ...food]);
    expect(joinBuilt(bands).flow).toEqual(whole.flow);
    // Each has its part, and none has all of it.
    for (const { flow } of bands) expect(flow.pairs.length).toBeLessThan(whole.flow.pairs.length);
  });

  it('shows travel that wanders at random as well', () => {
    const random = { ...given, assumptions: travelAssumptions({ focus: 0 }) };
    const now = solveToday(planPairs({ ...random, features: [...ends, fence, gate(120), gate(280)] }));
    const features = [...ends, fence, gate(120), gate(280), ...closing];
    const then = solveBuilt(planPairs({ ...random, features }), now);
    const south: [Point, Point] = [
      [300, 100],
      [300, 140],
    ];
    expect(shareAcross(now.flow, south).share).toBeGreaterThan(0.3);
    expect(shareAcross(then.flow, south).share).toBeLessThan(0.1);
  });
});

describe('the plan', () => {
  it('says which proposals it cannot tell', () => {
    const line = feature('powerline', box(200, 200, 260, 260), {}, 'proposed');
    expect(plan([line]).plan.doubts.join(' ')).toContain('powerline');
  });

  describe('with new food', () => {
    const food = feature('food', box(290, 340, 340, 390), {}, 'proposed');
    const { scene, plan: found } = plan([food]);
    const given = {
      ...scene.inputs,
      ...scene,
      assumptions: travelAssumptions({}),
      features: [...ends, food],
    };
    const built = solveBuilt(planPairs(given), scene.todayTravel);
    const ids = scene.table.map(({ id }) => id);

    it('has a new end of travel, and shares all travel out anew as if it had always been there', () => {
      expect(built.ends).toHaveLength(1);
      expect(built.ends[0]!.kind).toBe('food');
      expect(found.doubts.join(' ')).toContain('New food');
      // Drawn as existing, the same areas, and pairs of the same shares by the whole stage.
      const drawn = runScene(frame, () => COVER.deciduous, [...ends, { ...food, status: 'existing' }], {
        runs: 0,
      });
      const shares = (pairs: { from: number; to: number; share: number }[], table: number[]) =>
        pairs.map(({ from, to, share }) => [table.indexOf(from), table.indexOf(to), share] as const);
      const wanted = shares(
        drawn.corridors,
        drawn.table.map(({ id }) => id),
      );
      const got = shares(
        built.flow.pairs.map(({ pair }) => pair),
        [...ids, built.ends[0]!.id],
      );
      expect(got.map(([from, to]) => [from, to]).sort()).toEqual(
        wanted.map(([from, to]) => [from, to]).sort(),
      );
      for (const [from, to, share] of got)
        expect(share).toBeCloseTo(wanted.find((pair) => pair[0] === from && pair[1] === to)![2], 3);
      const line: [Point, Point] = [
        [200, 210],
        [200, 400],
      ];
      expect(shareAcross(built.flow, line).share).toBeCloseTo(
        shareAcross(drawn.todayTravel.flow, line).share,
        2,
      );
    });

    it('goes back to today’s travel once it is taken back', () => {
      const again = solveBuilt(planPairs({ ...given, features: ends }), scene.todayTravel, built);
      expect(again.ends).toEqual([]);
      expect(again.flow.pairs.map(({ pair }) => pair)).toEqual(
        scene.todayTravel.flow.pairs.map(({ pair }) => pair),
      );
    });
  });

  it('with bedding on part of an older bed takes its ground from it', () => {
    const bed = feature('bedding', box(50, 200, 110, 250), {}, 'proposed');
    const { scene } = plan([]);
    const given = { ...scene.inputs, ...scene, assumptions: travelAssumptions({}), features: [...ends, bed] };
    const { areas, ends: added, flow } = solveBuilt(planPairs(given), scene.todayTravel);
    const count = (cells: Int32Array, id: number) => cells.filter((area) => area === id).length;
    const old = scene.table[0]!.id;
    expect(count(areas, old)).toBe(count(scene.todayTravel.areas, old) - count(areas, added[0]!.id));
    expect(flow.pairs.reduce((sum, { pair }) => sum + pair.share, 0)).toBeCloseTo(1, 9);
    // From the new bed to the food goes as much as from what is left of the old, side by side as they are.
    const toFood = flow.pairs.filter(
      ({ pair }) => pair.to === scene.table[1]!.id || pair.from === scene.table[1]!.id,
    );
    expect(toFood).toHaveLength(2);
    expect(toFood[0]!.pair.share).toBeCloseTo(toFood[1]!.pair.share, 2);
  });

  it('with a cut beside a bare strip draws travel into it', () => {
    // Bare ground all about but a strip of timber in the north: a cut bridges the way straight across.
    const bare = (_: number, y: number) => (y > 330 ? COVER.deciduous : COVER.open);
    const cut = feature('cut', box(100, 190, 500, 210), { screening: 0.9 }, 'proposed');
    const { scene } = plan([], bare);
    const inputs = {
      ...scene.inputs,
      ...scene,
      assumptions: travelAssumptions({}),
      features: [...ends, cut],
    };
    const today = solveToday(planPairs(inputs));
    const built = solveBuilt(planPairs(inputs), today);
    const within = (flow: Flow) => shareWithin(flow, [300, 200], 20);
    expect(within(built.flow)).toBeGreaterThan(within(today.flow) + 0.1);
  });

  it('that takes a fence away opens the way through it', () => {
    const { scene } = plan([fence, gate(140)]);
    const opened = feature('gap', point(300, 200), { removes: fence.id }, 'proposed');
    const inputs = {
      ...scene.inputs,
      ...scene,
      assumptions: travelAssumptions({}),
      features: [...ends, fence, gate(140), opened],
    };
    const today = solveToday(planPairs(inputs));
    const built = solveBuilt(planPairs(inputs), today);
    expect(
      shareAcross(today.flow, [
        [300, 150],
        [300, 300],
      ]).share,
    ).toBeLessThan(1e-6);
    expect(
      shareAcross(built.flow, [
        [300, 150],
        [300, 300],
      ]).share,
    ).toBeGreaterThan(0.5);
    // All that comes by the one gate passes within reach of it.
    expect(shareWithin(today.flow, [300, 140], 20)).toBeGreaterThan(0.95);
  });
});
