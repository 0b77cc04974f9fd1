import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import { cellAt, cellCount, type Frame, type Point } from '../../../core/grid/frame.ts';
import { pathLength } from '../../../core/grid/simplify.ts';
import { travelAssumptions, weightsOf } from '../../../core/travel/assumptions.ts';
import type { Barrier } from '../../../core/travel/barriers.ts';
import { accumulateCost } from '../../../core/travel/cost.ts';
import { edgeCosts, moveCosts } from '../../../core/travel/edges.ts';
import { type PairFlow, passageOf, shareAcross } from '../../../core/travel/flow.ts';
import { planPairs } from '../../../core/travel/plan-travel.ts';
import { solveFlow } from '../../../core/travel/solve-flow.ts';
import { type Trail, trailsOf, visitTrailMoves, visitTrailSides } from '../../../core/travel/trails.ts';
import { solveBuilt, solveToday } from '../../../core/travel/what-if.ts';
import { box, feature, frameOf, gridOf, line, runScene } from './scene.ts';

const frame = frameOf(60, 60, 5);
const dear = gridOf(frame, () => 4);
const FACTOR = 0.5;
const ON = 1 + FACTOR * 3;

const underfoot = (path: Point[], lane = 5) => ({
  relief: null,
  trails: [{ path, lane }] as Trail[],
  trailFactor: FACTOR,
});
const one = (at: Point, on: Frame = frame): Int32Array => {
  const labels = new Int32Array(cellCount(on));
  labels[cellAt(on, ...at)] = 1;
  return labels;
};
const costs = (path: Point[], barriers: Barrier[] = []) =>
  moveCosts(frame, barriers, { resistance: dear, underfoot: underfoot(path) });
/** Through the middle at an angle, and ends inside the frame. */
const turned = (degrees: number, along: number, off = 0): Point => {
  const a = (degrees * Math.PI) / 180;
  return [151.3 + along * Math.cos(a) - off * Math.sin(a), 148.9 + along * Math.sin(a) + off * Math.cos(a)];
};
const ANGLES = [0, 10, 26.565, 45, 63, 90, 117, 160];

describe('the steps of a trail', () => {
  it.each(ANGLES)('join neighbours and add up to its length at %d degrees', (degrees) => {
    const path = [turned(degrees, -110), turned(degrees, 20, 3), turned(degrees, 110)];
    for (const [visit, corners] of [
      [visitTrailSides, false],
      [visitTrailMoves, true],
    ] as const) {
      let total = 0;
      let at = cellAt(frame, ...path[0]!);
      visit(frame, path, (cell, dx, dy, length) => {
        expect(cell).toBe(at);
        expect(Math.abs(dx) + Math.abs(dy)).toBeLessThanOrEqual(corners ? 2 : 1);
        expect(Math.max(Math.abs(dx), Math.abs(dy))).toBe(1);
        total += length;
        at = cell + dx + dy * frame.width;
      });
      expect(at).toBe(cellAt(frame, ...path.at(-1)!));
      expect(Math.abs(total - pathLength(path))).toBeLessThan(8);
    }
  });

  it('stop where the trail leaves the map and start again where it comes back', () => {
    const cells: number[] = [];
    const path: Point[] = [
      [-40, 152],
      [40, 152],
      [40, -60],
      [80, -60],
      [80, 20],
    ];
    visitTrailSides(frame, path, (cell, dx, dy) => cells.push(cell, cell + dx + dy * 60));
    expect(Math.min(...cells)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...cells)).toBeLessThan(3600);
    expect(cells).toContain(cellAt(frame, 80, 20));
    expect(cells).toContain(cellAt(frame, 2, 152));
  });
});

describe('accumulated cost with a trail', () => {
  it.each(ANGLES)('costs its own length along it and as before across it at %d degrees', (degrees) => {
    const path = [turned(degrees, -110), turned(degrees, 110)];
    const surface = accumulateCost(dear, one(path[0]!), { crossings: costs(path) });
    const along = surface.cost[cellAt(frame, ...path[1]!)]!;
    // In closed form: the trail's length at what the ground costs on it, but for the half cells at its ends.
    expect(Math.abs(along - 220 * ON)).toBeLessThan(8 * ON);
    // Straight over it nothing is saved.
    const side = turned(degrees, 0, 60);
    const over = turned(degrees, 0, -60);
    const bare = accumulateCost(dear, one(side)).cost[cellAt(frame, ...over)]!;
    const crossed = accumulateCost(dear, one(side), { crossings: costs(path) }).cost[cellAt(frame, ...over)]!;
    expect(crossed).toBeLessThanOrEqual(bare + 1e-9);
    expect(crossed).toBeGreaterThan(bare - 5 * 4);
  });

  it('draws the cheapest way onto it only where that pays', () => {
    const path: Point[] = [
      [20, 200],
      [280, 200],
    ];
    const { cost } = accumulateCost(dear, one([22, 182]), { crossings: costs(path) });
    // Over to the trail, along it and back, against the straight way.
    const end = cellAt(frame, 277, 182);
    const straight = accumulateCost(dear, one([22, 182])).cost[end]!;
    expect(straight).toBeCloseTo(255 * 4, 6);
    expect(cost[end]!).toBeLessThan(straight - 0.25 * 255);
    expect(cost[end]!).toBeGreaterThan(255 * ON);
  });

  it('is exact: the same as relaxing every move until nothing changes (Bellman 1958)', () => {
    const small = frameOf(14, 12, 5);
    const ground = gridOf(small, (x, y) => 1.2 + ((x * 7 + y * 13) % 5));
    const path: Point[] = [
      [4, 6],
      [31, 22],
      [33, 51],
      [66, 52],
    ];
    const crossings = moveCosts(small, [], { resistance: ground, underfoot: underfoot(path) });
    const { cost } = accumulateCost(ground, one([3, 3], small), { crossings, neighbours: 8 });
    const best = new Float64Array(cost.length).fill(Number.POSITIVE_INFINITY);
    best[cellAt(small, 3, 3)] = 0;
    const moves = [
      [1, 0],
      [1, 1],
      [0, 1],
      [-1, 1],
      [-1, 0],
      [-1, -1],
      [0, -1],
      [1, -1],
    ];
    for (let round = 0; round < 60; round++)
      for (let i = 0; i < best.length; i++)
        moves.forEach(([dx, dy], k) => {
          const [x, y] = [(i % 14) + dx!, Math.floor(i / 14) + dy!];
          if (x < 0 || y < 0 || x >= 14 || y >= 12) return;
          const to = y * 14 + x;
          const plain = ((ground.cells[i]! + ground.cells[to]!) / 2) * 5 * Math.hypot(dx!, dy!);
          const step = plain + crossings.extra[crossings.slot[i]! * 16 + k]!;
          expect(step).toBeGreaterThan(0);
          if (best[i]! + step < best[to]!) best[to] = best[i]! + step;
        });
    for (let i = 0; i < best.length; i++) expect(cost[i]!).toBeCloseTo(best[i]!, 9);
  });
});

describe('flow with a trail', () => {
  const ends = (): Int32Array => {
    const labels = new Int32Array(cellCount(frame));
    for (let row = 0; row < 60; row++) {
      labels[row * 60] = 1;
      labels[row * 60 + 59] = 2;
    }
    return labels;
  };
  const solve = (path: Point[], lane: number, barriers: Barrier[] = [], focus = 0) => {
    const edges = edgeCosts(dear, barriers, underfoot(path, lane));
    const pair = { from: 1, to: 2, share: 1 };
    return solveFlow(edges, ends(), [pair], focus, moveCosts(frame, barriers, edges), { accuracy: 1e-7 });
  };
  const right: Point[] = [
    [-5, 152.5],
    [305, 152.5],
  ];

  it.each([2.5, 5, 20])(
    'conducts side by side with the ground, with a lane of %d m, in closed form',
    (lane) => {
      const passage = passageOf(solve(right, lane), dear).cells;
      // Rows in parallel: a plain one conducts 1/4 a metre of width, the trail's row by its lane and what is beside it.
      const share = lane / 5;
      const row = Math.max(0, 1 - share) / 4 + share / ON;
      // But for what has not yet spread from the ends, where every row gets as much.
      const all = row + 59 / 4;
      expect(Math.abs((passage[cellAt(frame, 152, 152)]! * all) / row - 1)).toBeLessThan(0.025);
      expect(Math.abs(passage[cellAt(frame, 152, 202)]! * all * 4 - 1)).toBeLessThan(0.025);
    },
  );

  it('wears its walkers off by its own length alone, whatever the ground beside it, as its lane widens', () => {
    // A walker who keeps to the trail is as rare at its far end as the trail is dear: e^(-theta cost).
    const labels = new Int32Array(cellCount(frame));
    labels[cellAt(frame, 52, 152)] = 1;
    labels[cellAt(frame, 252, 152)] = 2;
    const wear = (lane: number): number => {
      const edges = edgeCosts(dear, [], underfoot(right, lane));
      const pair = { from: 1, to: 2, share: 1 };
      const flow = solveFlow(edges, labels, [pair], 10, moveCosts(frame, [], edges), { accuracy: 1e-9 });
      const [{ cost, window, spread }] = flow.pairs as [PairFlow];
      expect(cost).toBeCloseTo(200 * ON, 6);
      const at = (x: number): number =>
        spread!.a[
          (Math.floor((300 - 152) / 5) - window.row) * window.width + Math.floor(x / 5) - window.column
        ]!;
      return Math.log(at(102) / at(202)) / ((10 / cost) * 100);
    };
    // The bound mode of a lane of width w in a plane, z = e^(-k x - m |y|): in the plane k² + m² = theta² r²; on the lane,
    // what it loses to its sides adds to its own wear, k² = theta² r_t² + 2 m r_t / (r w).
    const closed = (lane: number): number => {
      const theta = 10 / (200 * ON);
      const side = (2 * ON) / (4 * lane);
      const m = (-side + Math.sqrt(side ** 2 + 4 * theta ** 2 * (4 ** 2 - ON ** 2))) / 2;
      return Math.sqrt(ON ** 2 + (m * side) / theta ** 2);
    };
    for (const lane of [30, 60, 120, 400]) expect(Math.abs(wear(lane) / closed(lane) - 1)).toBeLessThan(0.03);
    expect(wear(5000)).toBeCloseTo(ON, 1);
  });

  it('gathers as much on wider cells', () => {
    const share = (cellSize: number): number => {
      const f = frameOf(300 / cellSize, 300 / cellSize, cellSize);
      const ground = gridOf(f, () => 4);
      const labels = new Int32Array(cellCount(f));
      labels[cellAt(f, 35, 155)] = 1;
      labels[cellAt(f, 265, 155)] = 2;
      const path: Point[] = [
        [20, 175],
        [280, 175],
      ];
      const edges = edgeCosts(ground, [], underfoot(path, 30));
      const pair = { from: 1, to: 2, share: 1 };
      const flow = solveFlow(edges, labels, [pair], 10, moveCosts(f, [], edges));
      return shareAcross(flow, [
        [150, 165],
        [150, 185],
      ]).share;
    };
    const fine = share(5);
    expect(fine).toBeGreaterThan(0.5);
    expect(share(10) / fine).toBeGreaterThan(0.9);
    expect(share(10) / fine).toBeLessThan(1.1);
  });

  it('gathers more of the travel that seeks the cheapest way than of travel at random', () => {
    const on = (focus: number) => passageOf(solve(right, 5, [], focus), dear).cells[cellAt(frame, 152, 152)]!;
    expect(on(10)).toBeGreaterThan(1.5 * on(0));
  });

  it('keeps no flow up where it crosses a closed line, and passes where the line has a gap', () => {
    const wall: Barrier = {
      feature: 'wall',
      name: null,
      kind: 'fence',
      path: [
        [140, -10],
        [163, 310],
      ],
      cost: Number.POSITIVE_INFINITY,
      openings: [],
    };
    for (const focus of [0, 10]) {
      expect(solve(right, 5, [wall], focus).pairs).toHaveLength(0);
      expect(solve(right, 5, [wall], focus).cutOff).toHaveLength(1);
    }
    const { cost } = accumulateCost(dear, one([2, 152]), { crossings: costs(right, [wall]) });
    expect(cost[cellAt(frame, 297, 152)]!).toBe(Number.POSITIVE_INFINITY);
    // Round a spot, a ring the trail runs straight through lets less than a billionth in.
    const ring: Barrier = {
      ...wall,
      path: [
        [120, 120],
        [180, 125],
        [178, 180],
        [122, 184],
        [120, 120],
      ],
    };
    for (const focus of [0, 10]) {
      const passage = passageOf(solve(right, 5, [ring], focus), dear).cells;
      expect(passage[cellAt(frame, 150, 152)]!).toBeLessThan(1e-9);
    }
  });
});

describe('trails drawn', () => {
  const weights = weightsOf(travelAssumptions({}));
  it('count when they stand, with the lane assumed or their own width where that is more', () => {
    const trail = (width: number | null, status: 'existing' | 'proposed' = 'existing') =>
      feature('trail', line([0, 0], [50, 0]), width === null ? {} : { width }, status);
    expect(trailsOf([trail(null), trail(1.5), trail(90), trail(1, 'proposed')], weights)).toMatchObject([
      { lane: weights.trailLane },
      { lane: weights.trailLane },
      { lane: 90 },
    ]);
  });
});

describe('a cleared trail in a what-if', () => {
  // Between bedding and food 600 m apart in brush, a little off the straight way.
  const scene = frameOf(160, 80, 5);
  const ends = [feature('bedding', box(60, 180, 100, 220)), feature('food', box(700, 180, 740, 220))];
  const cleared = feature(
    'trail',
    line([100, 215], [160, 237], [640, 237], [700, 215]),
    { width: 1.2, method: 'clear' },
    'proposed',
  );
  const span: [Point, Point] = [
    [400, 225],
    [400, 250],
  ];
  const found = runScene(scene, () => COVER.brush, ends, { runs: 0 });
  const given = { ...found.inputs, ...found, assumptions: travelAssumptions({}) };
  const today = solveToday(planPairs(given));
  const built = solveBuilt(planPairs({ ...given, features: [...ends, cleared] }), today);

  it('draws travel onto its line and leaves the ground as it was', () => {
    const before = shareAcross(today.flow, span).share;
    const after = shareAcross(built.flow, span).share;
    expect(after).toBeGreaterThan(1.5 * before);
    expect(built.ground).toBe(today.costs.resistance);
  });

  it('costs what it would as if it had always been there, and taken back leaves travel as it was', () => {
    const standing = { ...cleared, status: 'existing' as const };
    const cold = solveToday(planPairs({ ...given, features: [...ends, standing] }));
    expect(built.costs.east).toEqual(cold.costs.east);
    expect(built.costs.south).toEqual(cold.costs.south);
    const again = solveBuilt(planPairs({ ...given, features: ends }), today, built);
    expect(shareAcross(again.flow, span).share).toBeCloseTo(shareAcross(today.flow, span).share, 6);
  });
});
