import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import type { Feature } from '../../../core/features/feature.ts';
import type { Point } from '../../../core/grid/frame.ts';
import { answerAsked } from '../../../core/travel/asked.ts';
import { travelAssumptions } from '../../../core/travel/assumptions.ts';
import { netAcross, shareAcross } from '../../../core/travel/flow.ts';
import { nextClosures, planPairs } from '../../../core/travel/plan-travel.ts';
import { downwindOf, passing, withinReach } from '../../../core/travel/region.ts';
import { solveBuilt, solveToday } from '../../../core/travel/what-if.ts';
import { box, feature, frameOf, line, point, runScene } from './scene.ts';

/** Two beds in the west, food in the east, a fence no deer jumps between, with gates. */
const frame = frameOf(120, 80, 5);
const ends = [
  feature('bedding', box(50, 60, 110, 140)),
  feature('bedding', box(50, 260, 110, 340)),
  feature('food', box(490, 150, 550, 250)),
];
const fence = feature('fence', line([300, -10], [300, 410]), { height: 4 });
const gate = (y: number) => feature('gap', point(300, y), { type: 'gate', width: 5 });
const closed = (y: number) =>
  feature('barricade', line([300, y - 10], [300, y + 10]), { height: 4 }, 'proposed');

function tried(existing: Feature[], proposed: Feature[]) {
  const scene = runScene(frame, () => COVER.deciduous, [...ends, ...existing], { runs: 0 });
  const inputs = {
    ...scene.inputs,
    ...scene,
    assumptions: travelAssumptions({}),
    features: [...ends, ...existing, ...proposed],
  };
  const today = solveToday(planPairs(inputs));
  const built = solveBuilt(planPairs(inputs), today);
  return { scene, inputs, today, built };
}
const id = ({ table }: { table: { name: string; id: number }[] }, k: number) => table[k]!.id;

describe('travel that passes a patch of ground', () => {
  const { today } = tried([fence, gate(100), gate(300)], []);

  it('is what crosses the line around it inward (Gauss: net flow out of a patch without ends is nothing)', () => {
    const region = withinReach(frame, { at: [300, 100], reach: 22 });
    const through = passing(today.flow, region);
    // All that passes the gate passes within reach of it, and hardly anything else does.
    const gateLine: [Point, Point] = [
      [300, 80],
      [300, 120],
    ];
    const across = netAcross(today.flow, gateLine).map(Math.abs);
    through.forEach((share, p) => {
      expect(share).toBeGreaterThanOrEqual(across[p]! - 1e-3);
    });
    expect(shareAcross(today.flow, gateLine).share).toBeGreaterThan(0.2);
  });

  it('counts a patch smaller than a cell as its cell, and the downwind side as a quarter of the circle', () => {
    expect(withinReach(frame, { at: [300, 100], reach: 1 })).toHaveLength(1);
    const circle = withinReach(frame, { at: [302.5, 202.5], reach: 100 });
    const wedge = downwindOf(frame, { at: [302.5, 202.5], reach: 100, windFrom: 180 });
    expect(circle.length).toBeCloseTo((Math.PI * 100 ** 2) / 25, -2);
    expect(wedge.length / circle.length).toBeCloseTo(0.25, 1);
    // Wind from the south carries north.
    const north = [...wedge].map((cell) => frame.north - (Math.floor(cell / frame.width) + 0.5) * 5);
    expect(Math.min(...north)).toBe(202.5);
  });
});

describe('a what-if asked of two areas, a stand and goals', () => {
  const gates = [fence, gate(100), gate(300)];
  const { scene, inputs, today, built } = tried(gates, [closed(300)]);
  const stand = { at: [300, 100] as Point, reach: 25 };
  const goals = { gather: stand, keepOut: { at: [300, 270] as Point, reach: 60, windFrom: 180 } };
  const from = id(scene, 1);
  const to = id(scene, 2);
  const { found } = answerAsked({ ends: { from, to }, stand, goals }, planPairs(inputs), today, built, null);

  it('sends all of the northern bed’s travel past the stand once its own gate is closed', () => {
    expect(found.between!.stand!.before).toBeLessThan(0.2);
    expect(found.between!.stand!.after).toBeGreaterThan(0.99);
    const whole = inputs.corridors
      .filter((pair) => pair.from === from && pair.to === to)
      .reduce((sum, { share }) => sum + share, 0);
    expect(found.between!.ofAll).toBeCloseTo(whole, 9);
  });

  it('tells the effect on both goals and the rest, which add up to all travel', () => {
    const { gather, keepOut, rest, dearer } = found.goals!;
    expect(gather!.after).toBeGreaterThan(gather!.before + 0.1);
    expect(keepOut!.before).toBeGreaterThan(0.1);
    expect(keepOut!.after).toBeLessThan(0.05);
    // The two places lie apart, and no pair passes both: the three parts are all there is.
    const sum = rest.after + gather!.after + keepOut!.after;
    expect(sum).toBeGreaterThan(0.97);
    expect(rest.after).toBeGreaterThanOrEqual(0);
    // Some deer must go a way they would not have chosen.
    expect(dearer!).toBeGreaterThan(1);
  });

  it('takes any area for an end', () => {
    const any = answerAsked(
      { ends: { from: null, to: null }, stand, goals: null },
      planPairs(inputs),
      today,
      built,
      null,
    ).found;
    expect(any.between!.ofAll).toBeCloseTo(1, 9);
    expect(any.between!.stand).toEqual(any.stand);
  });

  it('solves two areas apart that no travel is reckoned between, as if they alone were asked for', () => {
    // With the pair left out of those reckoned, the same two areas come out as before.
    const fewer = {
      ...inputs,
      corridors: inputs.corridors.filter((pair) => !(pair.from === from && pair.to === to)),
    };
    const now = solveToday(planPairs(fewer));
    const then = solveBuilt(planPairs(fewer), now);
    const alone = answerAsked({ ends: { from, to }, stand, goals: null }, planPairs(fewer), now, then, null);
    expect(alone.found.between!.ofAll).toBe(0);
    expect(alone.solved!.pairs).toHaveLength(1);
    expect(alone.found.between!.stand!.before).toBeCloseTo(found.between!.stand!.before, 3);
    expect(alone.found.between!.stand!.after).toBeCloseTo(found.between!.stand!.after, 3);
  });
});

describe('travel to bedding that is only proposed', () => {
  const bed = feature('bedding', box(490, 30, 550, 90), {}, 'proposed');
  const { scene, inputs, today, built } = tried([fence, gate(100), gate(300)], [bed]);
  const ask = (from: number | null, to: { feature: string }) =>
    answerAsked({ ends: { from, to }, stand: null, goals: null }, planPairs(inputs), today, built, null);
  const south: [Point, Point] = [
    [300, 80],
    [300, 120],
  ];

  it('is nothing today, and what the built flow sends there afterwards', () => {
    const { between } = ask(null, { feature: bed.id }).found;
    const [end] = built.ends;
    expect(end!.feature).toBe(bed.id);
    const theirs = built.flow.pairs.filter(({ pair }) => [pair.from, pair.to].includes(end!.id));
    expect(between!.ofAll).toBeCloseTo(
      theirs.reduce((sum, { pair }) => sum + pair.share, 0),
      9,
    );
    expect(between!.ofAll).toBeGreaterThan(0.1);
    expect(between!.necks.every(({ before }) => before === 0)).toBe(true);
  });

  it('is solved for between two ends that nothing is reckoned between', () => {
    // From the southern bed the nearest way to the new one leads through the southern gate.
    const necks = [{ ...scene.necks[0]!, id: 'gate', line: south }];
    const apart = { ...planPairs(inputs), necks };
    const [end] = built.ends;
    const without = {
      ...built,
      flow: {
        ...built.flow,
        pairs: built.flow.pairs.filter(({ pair }) => ![pair.from, pair.to].includes(end!.id)),
      },
    };
    const { found, solved } = answerAsked(
      { ends: { from: id(scene, 0), to: { feature: bed.id } }, stand: null, goals: null },
      apart,
      today,
      without,
      null,
    );
    expect(solved).toBeNull();
    expect(found.between!.necks[0]!.before).toBe(0);
    expect(found.between!.necks[0]!.after).toBeGreaterThan(0.9);
  });

  it('is nothing at all when the plan does not hold it', () => {
    const { between } = ask(null, { feature: 'not drawn' }).found;
    expect(between!.ofAll).toBe(0);
    expect(between!.necks.every(({ before, after }) => before === 0 && after === 0)).toBe(true);
  });
});

describe('closures for goals', () => {
  it('gather at a spot instead of a neck, and tell both effects', () => {
    const { inputs, built } = tried([fence, gate(100), gate(200), gate(300)], []);
    const goals = {
      gather: { at: [300, 200] as Point, reach: 25 },
      keepOut: { at: [300, 80] as Point, reach: 50, windFrom: 180 },
    };
    const { goal, closures } = nextClosures(inputs, built, null, goals);
    expect(goal).toBeNull();
    expect(closures.length).toBeGreaterThan(0);
    for (const { effect, neckAfter, path } of closures) {
      expect(effect!.gather!.after).toBeCloseTo(neckAfter, 9);
      expect(effect!.gather!.after).toBeGreaterThan(effect!.gather!.before);
      // At the gates to either side, never at the spot itself.
      expect(path.every(([, y]) => Math.abs(y - 200) > 25)).toBe(true);
    }
    const south = closures.find(({ path }) => path.some(([, y]) => Math.abs(y - 100) < 20))!;
    expect(south.effect!.keepOut!.after).toBeLessThan(south.effect!.keepOut!.before);
  });
});
