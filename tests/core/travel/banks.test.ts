import { describe, expect, it } from 'vitest';
import { cellAt, cellCount, type Point } from '../../../core/grid/frame.ts';
import { surfaceOf } from '../../../core/terrain/slope.ts';
import { travelAssumptions, weightsOf } from '../../../core/travel/assumptions.ts';
import { bankSlopes } from '../../../core/travel/banks.ts';
import { barriersOf, costAlong, costBetween } from '../../../core/travel/barriers.ts';
import { accumulateCost, traceCells } from '../../../core/travel/cost.ts';
import { edgeCosts, moveCosts } from '../../../core/travel/edges.ts';
import { shareAcross } from '../../../core/travel/flow.ts';
import { solveFlow } from '../../../core/travel/solve-flow.ts';
import { feature, frameOf, gridOf, line, point, runScene } from './scene.ts';

const weights = weightsOf(travelAssumptions({}));
const frame = frameOf(160, 160, 2.5);
const even = gridOf(frame, () => 1.5);
const tangent = (degrees: number): number => Math.tan((degrees * Math.PI) / 180);

/** A ditch along x = 200 with a flat bed 4 m wide, and banks whose tangent depends on the way along it and the side. */
const ditch = (bank: (y: number, side: 1 | -1) => number, high = 40) =>
  gridOf(frame, (x, y) => {
    const off = Math.max(0, Math.abs(x - 200) - 2);
    return Math.min(high, bank(y, x < 200 ? 1 : -1) * off);
  });
const slopeOf = (ground: ReturnType<typeof ditch>) => surfaceOf(ground, { azimuth: 315, altitude: 45 }).slope;
const path: [Point, Point] = [
  [200, -10],
  [200, 410],
];
const creek = feature('creek', line(...path), { width: 4, depth: 0.5 });
const others = weights.creekWidth * 4 + weights.creekDepth * 0.5;
/** What the banks cost, in closed form: the mean of both squared tangents against those of 30 degrees. */
const banksOf = (left: number, right: number): number =>
  (weights.creekBank * (tangent(left) ** 2 + tangent(right) ** 2)) / 2 / tangent(30) ** 2;

describe('the banks of a ditch', () => {
  it.each([
    [20, 20],
    [40, 40],
    [12, 35],
  ])('have the slopes they were made with: %i and %i degrees', (left, right) => {
    const slope = slopeOf(ditch((_, side) => tangent(side === 1 ? left : right)));
    const found = bankSlopes(path, 4, slope, 5).slice(4, -4);
    expect(found.length).toBeGreaterThan(60);
    for (const both of found) {
      // Looked along the path, which runs north, the west bank is the left one.
      expect(both![0]).toBeCloseTo(left, 1);
      expect(both![1]).toBeCloseTo(right, 1);
    }
  });

  it('are unknown off the map, on ground without data and on cells too wide to show them', () => {
    const slope = slopeOf(ditch((y) => (y > 200 ? Number.NaN : 0.5)));
    const found = bankSlopes(path, 4, slope, 5);
    expect(found[0]).toBeNull();
    expect(found.at(-1)).toBeNull();
    expect(found.filter((both) => both !== null).length).toBeGreaterThan(30);
    const wide = gridOf(frameOf(40, 40, 10), () => 30);
    expect(bankSlopes(path, 4, wide, 5)).toEqual([]);
    expect(barriersOf([creek], weights, wide)[0]!.profile).toBeNull();
  });
});

describe('a creek costs', () => {
  it('by the steepness of its banks, beside width and depth, in closed form', () => {
    for (const [left, right] of [
      [30, 30],
      [12, 35],
      [45, 45],
    ] as const) {
      const slope = slopeOf(ditch((_, side) => tangent(side === 1 ? left : right)));
      const [barrier] = barriersOf([creek], weights, slope);
      expect(costAlong(barrier!, 200)).toBeCloseTo(others + banksOf(left, right), 1);
    }
    // Banks of 30 degrees are what the assumption is stated for.
    expect(banksOf(30, 30)).toBeCloseTo(weights.creekBank, 9);
  });

  it('no more than banks of 60 degrees, and as with usual ones where nothing shows them', () => {
    const [cliff] = barriersOf(
      [creek],
      weights,
      gridOf(frame, () => 85),
    );
    expect(costAlong(cliff!, 200)).toBeCloseTo(others + 9 * weights.creekBank, 6);
    const [unknown] = barriersOf([creek], weights);
    expect(costAlong(unknown!, 200)).toBe(others + weights.creekBank);
    expect(costBetween(unknown!, 10, 20)).toBe(others + weights.creekBank);
  });

  it('is less at a ford still, which costs what a ford does', () => {
    const slope = gridOf(frame, () => 40);
    const ford = feature('gap', point(200, 300), { type: 'ford' });
    const [barrier] = barriersOf([creek, ford], weights, slope);
    expect(barrier!.openings).toHaveLength(1);
    const { slot, extra } = moveCosts(frame, [barrier!]);
    const over = (y: number): number => extra[slot[cellAt(frame, 198.7, y)]! * 16]!;
    expect(over(300)).toBe(weights.ford);
    expect(over(200)).toBeCloseTo(others + banksOf(40, 40), 1);
  });
});

/** Banks of 45 degrees but for a gentle place, 25 m long, about y = 235. */
const gentle = (y: number): boolean => Math.abs(y - 235) < 12.5;
const slope = gridOf(frame, (_, y) => (gentle(y) ? 8 : 45));
const barriers = barriersOf([creek], weights, slope);

describe('a gentle place in steep banks', () => {
  it('is where the cheapest way crosses, in cost and in the edges of the circuit alike', () => {
    const labels = new Int32Array(cellCount(frame));
    labels[cellAt(frame, 60, 200)] = 1;
    const end = cellAt(frame, 340, 200);
    const crossingAt = (lines: typeof barriers): number => {
      const surface = accumulateCost(even, labels, { crossings: moveCosts(frame, lines) });
      const way = traceCells(surface, 160, end);
      const last = way.findLast((cell) => cell % 160 < 80)!;
      return 400 - (Math.floor(last / 160) + 0.5) * 2.5;
    };
    // To the cell: the move across starts on one side and ends on the other.
    expect(Math.abs(crossingAt(barriers) - 235)).toBeLessThan(12.5 + 2.5);
    expect(Math.abs(crossingAt(barriersOf([creek], weights)) - 200)).toBeLessThan(10);
    const { east } = edgeCosts(even, barriers);
    const face = (y: number): number => east[cellAt(frame, 198.7, y)]! - 2.5 * 1.5;
    expect(face(236)).toBeCloseTo(others + banksOf(8, 8), 6);
    expect(face(100)).toBeCloseTo(others + banksOf(45, 45), 6);
  });

  it('draws the flow to it', () => {
    const labels = new Int32Array(cellCount(frame));
    labels[cellAt(frame, 60, 200)] = 1;
    labels[cellAt(frame, 340, 200)] = 2;
    const share = (lines: typeof barriers, cellSize: number): number => {
      const f = frameOf(400 / cellSize, 400 / cellSize, cellSize);
      const ground = gridOf(f, () => 1.5);
      const ends = new Int32Array(cellCount(f));
      ends[cellAt(f, 60, 200)] = 1;
      ends[cellAt(f, 340, 200)] = 2;
      const costs = edgeCosts(ground, lines);
      const pair = { from: 1, to: 2, share: 1 };
      const flow = solveFlow(costs, ends, [pair], 10, moveCosts(f, lines));
      return shareAcross(flow, [
        [200, 220],
        [200, 250],
      ]).share;
    };
    const fine = share(barriers, 2.5);
    expect(fine).toBeGreaterThan(1.25 * share(barriersOf([creek], weights), 2.5));
    // Places stand side by side, so wider cells see a gentle place as wide as it is.
    const wide = share(barriers, 10) / fine;
    expect(wide).toBeGreaterThan(0.8);
    expect(wide).toBeLessThan(1.25);
  });

  it('is named by the crossing there as the easiest bank', () => {
    const scene = frameOf(160, 120, 5);
    const water = feature('creek', line([400, -10], [400, 610]), { width: 4, depth: 0.5 });
    const ends = [feature('bedding', point(150, 300)), feature('food', point(650, 300))];
    const { crossings } = runScene(scene, () => 3, [...ends, water], {
      runs: 0,
      slope: (_, y) => (Math.abs(y - 330) < 15 ? 8 : 45),
    });
    const [best] = crossings;
    expect(best!.kind).toBe('creek');
    expect(best!.easiest).toMatchObject({ what: 'gentlest banks' });
    expect(Math.abs(best!.easiest!.at[1] - 330)).toBeLessThan(20);
  });
});
