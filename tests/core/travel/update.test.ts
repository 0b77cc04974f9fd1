import { describe, expect, it } from 'vitest';
import { cellCount, type Point } from '../../../core/grid/frame.ts';
import type { Barrier } from '../../../core/travel/barriers.ts';
import { edgeCosts, moveCosts } from '../../../core/travel/edges.ts';
import { type Flow, netAcross, passageOf } from '../../../core/travel/flow.ts';
import { pairFlow } from '../../../core/travel/pair-flow.ts';
import { solveFlow, updateFlow } from '../../../core/travel/solve-flow.ts';
import { frameOf, gridOf } from './scene.ts';

const frame = frameOf(140, 100, 5);
const resistance = gridOf(
  frame,
  (x, y) => 1.5 + Math.sin(x / 37) * Math.cos(y / 29) + (y > 320 && y < 400 ? 30 : 0),
);
const areas = new Int32Array(cellCount(frame));
gridOf(frame, (x, y) =>
  x < 40 && y < 300 ? 1 : x > 660 && y < 300 ? 2 : y > 480 ? (x < 100 ? 3 : x > 600 ? 4 : 0) : 0,
).cells.forEach((area, i) => {
  areas[i] = area;
});
const pairs = [
  { from: 1, to: 2, share: 0.7 },
  { from: 3, to: 4, share: 0.3 },
];
const barricade = (cost: number, ...path: Point[]): Barrier => ({
  feature: 'new',
  name: null,
  kind: 'barricade',
  path,
  cost,
  openings: [],
});

describe('a flow updated after an edit', () => {
  const before = edgeCosts(resistance, []);
  const today = solveFlow(before, areas, pairs, 10, moveCosts(frame, []), { accuracy: 1e-8 });

  const cold = (barriers: Barrier[], flow: Flow): Flow => ({
    ...flow,
    // The same theta and window, from nothing.
    pairs: flow.pairs.map(
      ({ pair, cost, window }) =>
        pairFlow(edgeCosts(resistance, barriers), areas, pair, cost, 10, window, 1e-8)!,
    ),
  });

  it.each([
    ['a barricade', 300],
    ['an impassable one', Number.POSITIVE_INFINITY],
  ])('agrees with a cold solve to 1e-6 for %s', (_name, cost) => {
    const barriers = [barricade(cost, [350, 100], [350, 260])];
    const after = edgeCosts(resistance, barriers);
    const crossings = () => moveCosts(frame, barriers);
    const { flow } = updateFlow(today, before, after, areas, 10, crossings, 1e-8);
    const wanted = passageOf(cold(barriers, flow), resistance).cells;
    const got = passageOf(flow, resistance).cells;
    for (let i = 0; i < got.length; i++) expect(Math.abs(got[i]! - wanted[i]!)).toBeLessThan(1e-6);
    expect(
      Math.abs(
        netAcross(flow, [
          [350, 100],
          [350, 260],
        ])[0]!,
      ),
    ).toBeLessThan(
      Math.abs(
        netAcross(today, [
          [350, 100],
          [350, 260],
        ])[0]!,
      ),
    );
  });

  it('solves only the pairs that come by', () => {
    const barriers = [barricade(300, [350, 20], [350, 120])];
    const { flow, solved } = updateFlow(today, before, edgeCosts(resistance, barriers), areas, 10, () =>
      moveCosts(frame, barriers),
    );
    expect(solved.map(({ from }) => from)).toEqual([1]);
    expect(flow.pairs[1]).toBe(today.pairs[1]);
  });

  it('keeps everything when nothing changed, and says when a pair is cut off', () => {
    expect(updateFlow(today, before, before, areas, 10, () => moveCosts(frame, [])).solved).toEqual([]);
    const wall = [barricade(Number.POSITIVE_INFINITY, [350, -10], [350, 510])];
    const { flow } = updateFlow(today, before, edgeCosts(resistance, wall), areas, 10, () =>
      moveCosts(frame, wall),
    );
    expect(flow.cutOff).toHaveLength(2);
  });
});
