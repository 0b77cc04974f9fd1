import { describe, expect, it } from 'vitest';
import { cellCentre, cellCount, type Point } from '../../../core/grid/frame.ts';
import { seededRandom } from '../../../core/grid/random.ts';
import { travelAssumptions, weightsOf } from '../../../core/travel/assumptions.ts';
import { type Barrier, barriersOf, footOn } from '../../../core/travel/barriers.ts';
import { accumulateCost } from '../../../core/travel/cost.ts';
import { CIRCUIT_MOVES, visitCrossedMoves } from '../../../core/travel/crossed-moves.ts';
import { edgeCosts, moveCosts } from '../../../core/travel/edges.ts';
import { edgeFlow } from '../../../core/travel/flow.ts';
import { solveFlow } from '../../../core/travel/solve-flow.ts';
import { outside } from '../../outside.ts';
import { feature, frameOf, gridOf, line, point } from './scene.ts';

const CELL = 5;
const SIZE = 40;
const SPAN = SIZE * CELL;
const frame = frameOf(SIZE, SIZE, CELL);
const random = seededRandom(11);
const bumpy = gridOf(frame, () => 1 + 3 * random());
const weights = weightsOf(travelAssumptions({}));

/** A line nothing passes, with a gate where asked for. */
function wall(path: Point[], gate: { at: Point; width: number } | null): Barrier[] {
  const fence = feature('fence', line(...path));
  const gap = gate && feature('gap', point(...gate.at), { type: 'gate', width: gate.width });
  return barriersOf(gap ? [fence, gap] : [fence], weights).map((barrier) => ({
    ...barrier,
    cost: Number.POSITIVE_INFINITY,
  }));
}

/** The cell farthest to either side of the line. */
function sidesOf(path: readonly Point[]): [number, number] {
  const away = gridOf(frame, (x, y) => footOn(path, [x, y])!.distance).cells;
  const sideOf = (cell: number): number => {
    const at = cellCentre(frame, cell);
    const foot = footOn(path, at)!;
    return Math.sign((at[0] - foot.at[0]) * foot.heading[1] - (at[1] - foot.at[1]) * foot.heading[0]);
  };
  const best = (side: number): number => {
    let found = -1;
    for (let i = 0; i < away.length; i++)
      if (sideOf(i) === side && (found < 0 || away[i]! > away[found]!)) found = i;
    return found;
  };
  return [best(1), best(-1)];
}

const labelled = (...groups: number[][]): Int32Array => {
  const labels = new Int32Array(cellCount(frame));
  groups.forEach((cells, k) => {
    for (const cell of cells) labels[cell] = k + 1;
  });
  return labels;
};

function flowPast(barriers: Barrier[], ends: [number, number], focus: number) {
  return solveFlow(
    edgeCosts(bumpy, barriers),
    labelled([ends[0]], [ends[1]]),
    [{ from: 1, to: 2, share: 1 }],
    focus,
    moveCosts(frame, barriers),
    { accuracy: 1e-7 },
  );
}

const leastCost = (barriers: Barrier[], [from, to]: [number, number]): number =>
  accumulateCost(bumpy, labelled([from]), { crossings: moveCosts(frame, barriers) }).cost[to]!;

/** Net flow across the line near a spot, and all that crosses it farther off. */
function over(
  barriers: Barrier[],
  path: Point[],
  at: Point,
  reach: number,
  ends: [number, number],
  focus: number,
) {
  const flow = flowPast(barriers, ends, focus);
  // A line that wavers crosses some ways there and back, which is not crossing it.
  const net = new Map<string, { value: number; near: boolean }>();
  visitCrossedMoves(frame, path, CIRCUIT_MOVES, ({ cell, move, x, y, side }) => {
    const key = `${cell} ${move}`;
    const so = net.get(key) ?? { value: 0, near: false };
    if (flow.pairs.length > 0) so.value += side * edgeFlow(flow, 0, cell, move);
    so.near ||= Math.hypot(x - at[0], y - at[1]) <= reach;
    net.set(key, so);
  });
  let [near, far] = [0, 0];
  for (const { value, near: isNear } of net.values()) {
    if (isNear) near += value;
    else far += Math.abs(value);
  }
  return { near: Math.abs(near), far };
}

const straight = (degrees: number): Point[] => {
  const a = (degrees * Math.PI) / 180;
  const off = 30 * (random() - 0.5);
  const along = (t: number): Point => [
    SPAN / 2 + t * Math.cos(a) - off * Math.sin(a),
    SPAN / 2 + t * Math.sin(a) + off * Math.cos(a),
  ];
  return [along(-SPAN), along(SPAN)];
};
const traced = (count: number, at: (t: number) => Point): Point[] =>
  Array.from({ length: count + 1 }, (_, k) => at(k / count));
const CURVES: [string, Point[]][] = [
  ['a wave', traced(300, (t) => [-20 + 240 * t, 100 + 25 * Math.sin(9 * t)])],
  ['a wave upright', traced(300, (t) => [90 + 30 * Math.sin(7 * t), -20 + 240 * t])],
  [
    'a ring',
    traced(200, (t) => [100 + 55 * Math.cos(2 * Math.PI * t), 104 + 55 * Math.sin(2 * Math.PI * t)]),
  ],
  [
    'an oval aslant',
    traced(90, (t) => {
      const [u, v] = [70 * Math.cos(2 * Math.PI * t), 40 * Math.sin(2 * Math.PI * t)];
      return [101 + 0.8 * u - 0.6 * v, 99 + 0.6 * u + 0.8 * v];
    }),
  ],
  ['a line walked with a phone', traced(60, (t) => [-20 + 240 * t, 90 + 40 * t + 6 * (random() - 0.5)])],
  [
    'a zigzag with teeth under a cell',
    traced(120, (t) => [-20 + 240 * t, 103 + (Math.round(120 * t) % 2) * 3.7]),
  ],
  [
    'steps',
    [
      [-20, 60],
      [70, 60],
      [70, 100],
      [130, 100],
      [130, 140],
      [220, 140],
    ],
  ],
];

describe('a closed line nothing passes', () => {
  it('lets no path and no flow through at any angle, and both at one open span', () => {
    const closed = outside({
      room: 'travel',
      method:
        'What passes a closed line across the map at every second degree, by path (16 neighbours) and by flow',
      source: 'Jordan curve theorem: no way leads across',
      unit: 'of what is sent',
      allowed: 1e-9,
    });
    const opened = outside({
      room: 'travel',
      method: 'What passes a line with one open span elsewhere than there, at every second degree',
      source: 'Jordan curve theorem: the span is the only way',
      unit: 'of what is sent',
      allowed: 1e-9,
    });
    for (let degrees = 0; degrees < 180; degrees += 2) {
      const path = straight(degrees);
      const ends = sidesOf(path);
      const shut = wall(path, null);
      expect(leastCost(shut, ends)).toBe(Number.POSITIVE_INFINITY);
      const at = footOn(path, [100 + 60 * (random() - 0.5), 100 + 60 * (random() - 0.5)])!.at;
      const gated = wall(path, { at, width: 2 + 6 * random() });
      expect(leastCost(gated, ends)).toBeLessThan(Number.POSITIVE_INFINITY);
      for (const focus of [0, 10]) {
        const { near, far } = over(shut, path, at, 2 * CELL, ends, focus);
        closed.compare(near + far, 0);
        const through = over(gated, path, at, 4 + 1.5 * CELL, ends, focus);
        opened.compare(through.far, 0);
        expect(through.near, `${degrees} degrees`).toBeCloseTo(1, 5);
      }
    }
    closed.done();
    opened.done();
  });

  it.each(CURVES)(
    'lets nothing through when it is %s, and all at one open span, wherever that is',
    (name, path) => {
      const check = outside({
        room: 'travel',
        method: 'What passes a curved line elsewhere than at its open span, or anywhere when it is closed',
        source: 'Jordan curve theorem',
        unit: 'of what is sent',
        allowed: 1e-9,
      });
      const ends = sidesOf(path);
      const shut = wall(path, null);
      expect(leastCost(shut, ends)).toBe(Number.POSITIVE_INFINITY);
      for (let k = 0; k < 20; k++) {
        const at = path[Math.floor(path.length * random())]!;
        // Near the edge of the map a gate may lie beyond the last cells' centres.
        if (Math.min(at[0], at[1], SPAN - at[0], SPAN - at[1]) < 2 * CELL) continue;
        const gated = wall(path, { at, width: 2 + 6 * random() });
        expect(leastCost(gated, ends), `${name} ${at}`).toBeLessThan(Number.POSITIVE_INFINITY);
        for (const focus of [0, 10]) {
          const { near, far } = over(shut, path, at, 2 * CELL, ends, focus);
          check.compare(near + far, 0);
          const through = over(gated, path, at, 4 + 2 * CELL, ends, focus);
          check.compare(through.far, 0);
          expect(through.near, `${name} ${at}`).toBeCloseTo(1, 5);
        }
      }
      check.done();
    },
  );
});

it('a fence drawn unsteadily is paid for once, by path and by flow, as a straight one is', () => {
  const even = gridOf(frame, () => 1);
  const fence = (path: Point[]): Barrier[] =>
    barriersOf([feature('fence', line(...path))], weights).map((barrier) => ({ ...barrier, cost: 40 }));
  // Right between two rows of cells, off by up to a cell and a half to either side.
  const unsteady = traced(160, (t) => [-20 + 240 * t, 100 + 14 * (random() - 0.5)]);
  const steady: Point[] = [
    [-20, 100],
    [220, 100],
  ];
  const ends: [number, number] = [20, 39 * SIZE + 20];
  const crossed = [steady, unsteady].map((path) => {
    const cost = accumulateCost(even, labelled([ends[0]]), { crossings: moveCosts(frame, fence(path)) });
    return cost.cost[ends[1]]!;
  });
  expect(crossed[0]!).toBeCloseTo(39 * CELL + 40, 6);
  expect(crossed[1]!).toBeCloseTo(crossed[0]!, 6);
  // Every edge is crossed once or not at all, however often the line passes over it.
  const { south } = edgeCosts(even, fence(unsteady));
  for (const cost of south) expect([CELL, CELL + 40, Number.POSITIVE_INFINITY]).toContain(Math.round(cost));
});
