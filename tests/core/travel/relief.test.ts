import { describe, expect, it } from 'vitest';
import { cellAt, cellCount, type Grid } from '../../../core/grid/frame.ts';
import { travelAssumptions, weightsOf } from '../../../core/travel/assumptions.ts';
import { accumulateCost, traceCells } from '../../../core/travel/cost.ts';
import { edgeCosts, moveCosts } from '../../../core/travel/edges.ts';
import { shareAcross } from '../../../core/travel/flow.ts';
import { bothWays, oneWay, type Relief, reliefGround, reliefOf } from '../../../core/travel/relief.ts';
import { solveFlow } from '../../../core/travel/solve-flow.ts';
import { feature, frameOf, gridOf, point, runScene } from './scene.ts';

const weights = weightsOf(travelAssumptions({}));
const frame = frameOf(41, 41, 5);
const even = gridOf(frame, () => 1.5);
const degrees = (angle: number): number => Math.tan((angle * Math.PI) / 180);

/** A plane that rises by a tangent towards a bearing, degrees clockwise from north. */
const plane = (tangent: number, bearing: number): Grid =>
  gridOf(
    frame,
    (x, y) => tangent * (x * Math.sin((bearing * Math.PI) / 180) + y * Math.cos((bearing * Math.PI) / 180)),
  );
const walking = (relief: Relief, ground: Grid = even) =>
  moveCosts(ground.frame, [], {
    resistance: ground,
    underfoot: { relief, trails: [], trailFactor: 1 },
  });
const from = (cell: number): Int32Array => {
  const labels = new Int32Array(cellCount(frame));
  labels[cell] = 1;
  return labels;
};
const middle = cellAt(frame, 102.5, 102.5);

describe('accumulated cost on an even slope, in closed form', () => {
  const tangent = degrees(20);
  const relief = reliefOf(reliefGround(plane(tangent, 0)), weights);
  const { cost } = accumulateCost(even, from(middle), { crossings: walking(relief) });
  const at = (x: number, y: number): number => cost[cellAt(frame, 102.5 + x, 102.5 + y)]!;

  it('pays for every metre climbed on the way up and for braking on the way down', () => {
    expect(at(0, 100)).toBeCloseTo(100 * (1.5 + weights.climb * tangent), 2);
    expect(at(0, -100)).toBeCloseTo(100 * (1.5 + weights.descent * tangent), 2);
    // A metre of way up the 14.3 degrees of Parker et al. takes 5.9 / (2.97 * 70^-0.34) * tan more of them.
    expect(at(0, 100)).toBeGreaterThan(2 * at(0, -100));
  });

  it('pays for sidehill along the slope, by the square of its tangent', () => {
    const along = 100 * (1.5 + weights.sidehill * tangent ** 2);
    expect(at(100, 0)).toBeCloseTo(along, 2);
    expect(at(-100, 0)).toBeCloseTo(along, 2);
    // Between, the part of the slope that lies across: half of the square on a diagonal.
    expect(at(50, 50)).toBeCloseTo(
      Math.hypot(50, 50) * (1.5 + (weights.sidehill * tangent ** 2) / 2) + weights.climb * 50 * tangent,
      2,
    );
  });

  it('costs a knight move by the height of the two cells it passes between', () => {
    const length = 5 * Math.sqrt(5);
    const across = weights.sidehill * tangent ** 2 * (1 - 1 / 5);
    expect(at(10, 5)).toBeCloseTo(length * (1.5 + across) + weights.climb * 5 * tangent, 3);
  });

  it('is the same whichever way the slope faces', () => {
    for (const bearing of [90, 180, 270]) {
      const other = accumulateCost(even, from(middle), {
        crossings: walking(reliefOf(reliefGround(plane(tangent, bearing)), weights)),
      }).cost;
      const up = { 90: [100, 0], 180: [0, -100], 270: [-100, 0] }[bearing]!;
      expect(other[cellAt(frame, 102.5 + up[0]!, 102.5 + up[1]!)]!).toBeCloseTo(at(0, 100), 2);
    }
  });
});

describe('one way and back', () => {
  it('differ by (climb - descent) times the rise between any two places, on the roughest ground', () => {
    const ground = gridOf(frame, (x, y) => 12 * Math.sin(x / 17) * Math.cos(y / 23) + 0.2 * x);
    const base = reliefGround(ground);
    const there = reliefOf(base, weights);
    const forth = accumulateCost(even, from(middle), { crossings: walking(there) }).cost;
    const mean = accumulateCost(even, from(middle), { crossings: walking(bothWays(there)) }).cost;
    const home = { ...there, up: there.down, down: there.up };
    const back = accumulateCost(even, from(middle), { crossings: walking(home) }).cost;
    for (let i = 0; i < mean.length; i += 7) {
      const rise = ground.cells[i]! - ground.cells[middle]!;
      expect(forth[i]!).toBeCloseTo(oneWay(mean[i]!, rise, there), 2);
      expect(back[i]!).toBeCloseTo(oneWay(mean[i]!, -rise, there), 2);
      expect(forth[i]! - back[i]!).toBeCloseTo((there.up - there.down) * rise, 2);
    }
  });

  it('is told of every corridor: who climbs pays more', () => {
    const ends = [feature('bedding', point(50, 150)), feature('food', point(450, 150))];
    const { corridors } = runScene(frameOf(100, 60, 5), () => 3, ends, {
      runs: 0,
      elevation: (x) => 0.15 * x,
    });
    expect(corridors).toHaveLength(1);
    const [{ cost, there, back, path }] = corridors as [(typeof corridors)[0]];
    const rise = 0.15 * (path.at(-1)![0] - path[0]![0]);
    expect(rise).toBeGreaterThan(30);
    expect(there - back).toBeCloseTo((weights.climb - weights.descent) * rise, 1);
    expect((there + back) / 2).toBeCloseTo(cost, 6);
  });

  it('go round a knoll that a straight way would climb, at the price of the longer way', () => {
    const knoll = gridOf(frame, (x, y) => 30 * Math.exp(-((x - 102.5) ** 2 + (y - 102.5) ** 2) / 800));
    const relief = reliefOf(reliefGround(knoll), weights);
    const end = cellAt(frame, 192.5, 102.5);
    const level = accumulateCost(even, from(cellAt(frame, 12.5, 102.5)));
    const surface = accumulateCost(even, from(cellAt(frame, 12.5, 102.5)), { crossings: walking(relief) });
    expect(traceCells(level, 41, end)).toContain(middle);
    expect(traceCells(surface, 41, end)).not.toContain(middle);
    expect(surface.cost[end]!).toBeGreaterThan(level.cost[end]!);
    expect(surface.cost[end]!).toBeLessThan(180 * 1.5 + 30 * (weights.climb + weights.descent));
  });
});

describe('conductors on a slope', () => {
  const tangent = degrees(25);
  const mean = (weights.climb + weights.descent) / 2;
  const edges = (bearing: number) =>
    edgeCosts(even, [], {
      relief: reliefOf(reliefGround(plane(tangent, bearing)), weights),
      trails: [],
      trailFactor: 1,
    });

  it('take the mean of up and down along the fall line and sidehill along the contour', () => {
    const { east, south } = edges(0);
    expect(south[middle]!).toBeCloseTo(5 * (1.5 + mean * tangent), 4);
    expect(east[middle]!).toBeCloseTo(5 * (1.5 + weights.sidehill * tangent ** 2), 4);
  });

  it('are the same for slopes that face opposite ways, and alike both ways on one between the axes', () => {
    const [up, down, slant] = [edges(0), edges(180), edges(45)];
    expect([...up.south]).toEqual([...down.south].map((value) => expect.closeTo(value, 3)));
    expect(slant.east[middle]!).toBeCloseTo(slant.south[middle]!, 3);
    expect(slant.east[middle]!).toBeCloseTo((up.east[middle]! + up.south[middle]!) / 2, 3);
  });

  it('let travel along a hillside keep to its bench', () => {
    // A hillside of 25 degrees with a level strip 30 m wide along it.
    const bench = gridOf(frame, (_, y) => tangent * (Math.min(y, 80) + Math.max(0, y - 110)));
    const labels = new Int32Array(cellCount(frame));
    for (let row = 0; row < 41; row++) {
      labels[row * 41] = 1;
      labels[row * 41 + 40] = 2;
    }
    const relief = bothWays(reliefOf(reliefGround(bench), weights));
    const share = (relief: Relief | null): number => {
      const underfoot = { relief, trails: [], trailFactor: 1 };
      const costs = edgeCosts(even, [], underfoot);
      const pair = { from: 1, to: 2, share: 1 };
      const flow = solveFlow(costs, labels, [pair], 0, moveCosts(frame, [], costs));
      return shareAcross(flow, [
        [100, 80],
        [100, 110],
      ]).share;
    };
    const level = share(null);
    expect(level).toBeCloseTo(30 / 205, 2);
    // Strips side by side conduct by 1 / resistance; those at the break of the slope count half of it.
    const hill = 1.5 + weights.sidehill * tangent ** 2;
    const steps = 1.5 + weights.sidehill * (tangent / 2) ** 2;
    const open = 4 / 1.5 + 2 / steps;
    expect(share(relief)).toBeCloseTo(open / (open + 35 / hill), 2);
    expect(share(relief)).toBeGreaterThan(1.25 * level);
  });
});
