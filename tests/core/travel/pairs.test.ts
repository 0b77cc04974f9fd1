import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import { travelAssumptions, weightsOf } from '../../../core/travel/assumptions.ts';
import { accumulateCost, sourcesOf } from '../../../core/travel/cost.ts';
import { choosePairs, neighbouringAreas } from '../../../core/travel/pairs.ts';
import type { TravelArea } from '../../../core/travel/types.ts';
import { drawWeights } from '../../../core/travel/uncertainty.ts';
import { box, feature, frameOf, gridOf, runScene } from './scene.ts';

const weights = weightsOf(travelAssumptions({}));

describe('pairs', () => {
  it('join neighbours only: of three areas in a row the ends are no pair', () => {
    const frame = frameOf(60, 10, 5);
    const even = gridOf(frame, () => 2);
    const labels = new Int32Array(600);
    [5, 30, 55].forEach((column, k) => {
      for (let row = 0; row < 10; row++) labels[row * 60 + column] = k + 1;
    });
    const surface = accumulateCost(even, labels);
    // 25 cells of 5 m at 2 apart, but for the step in the middle.
    expect(neighbouringAreas(sourcesOf(surface, labels, 60), surface.cost, 60)).toEqual([
      { from: 1, to: 2, cost: 240 },
      { from: 2, to: 3, cost: 240 },
    ]);
  });

  it('weigh feeding more, skip food to food, and share out to one', () => {
    const area = (id: number, kind: TravelArea['kind']): TravelArea => ({
      id,
      kind,
      name: `${kind} ${id}`,
      source: 'drawn',
      centre: [0, 0],
      area: 1,
    });
    const areas = [area(1, 'bedding'), area(2, 'food'), area(3, 'bedding'), area(4, 'food')];
    const touches = [
      { from: 1, to: 2, cost: 500 },
      { from: 1, to: 3, cost: 500 },
      { from: 2, to: 4, cost: 100 },
    ];
    const pairs = choosePairs(touches, areas, weights, 12);
    expect(pairs.map(({ from, to }) => `${from}-${to}`)).toEqual(['1-2', '1-3']);
    expect(pairs[0]!.share / pairs[1]!.share).toBeCloseTo(weights.feeding, 9);
    expect(pairs.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    expect(choosePairs(touches, areas, weights, 1)).toHaveLength(1);
    // Some places stay for travel that is not to food.
    const many = [
      ...[2, 4].map((to) => ({ from: 1, to, cost: 100 })),
      ...[2, 4].map((to) => ({ from: 3, to, cost: 100 })),
      { from: 1, to: 3, cost: 2000 },
    ];
    const two = choosePairs(many, areas, weights, 2);
    expect(two.map(({ from, to }) => `${from}-${to}`)).toContain('1-3');
  });
});

describe('areas and corridors', () => {
  it('let drawn areas override computed ones', () => {
    const frame = frameOf(120, 60, 5);
    const drawn = [feature('bedding', box(40, 100, 120, 200)), feature('food', box(480, 100, 560, 200))];
    const { table, corridors } = runScene(frame, () => COVER.deciduous, drawn, { runs: 0 });
    expect(table.map(({ kind, source }) => [kind, source])).toEqual([
      ['bedding', 'drawn'],
      ['food', 'drawn'],
    ]);
    const [corridor] = corridors;
    expect(corridors).toHaveLength(1);
    // 360 m between the boxes; centres of the facing cells are a cell apart more.
    expect(corridor!.length).toBeGreaterThanOrEqual(360);
    expect(corridor!.length).toBeLessThan(380);
    expect(corridor!.band!.length).toBeGreaterThan(0);
    expect(corridor!.share).toBeCloseTo(1, 9);
  });

  it('take drawn crops as food where no food is drawn, and keep drawn bedding', () => {
    const frame = frameOf(160, 100, 5);
    const cover = (x: number) => (x > 400 ? COVER.open : COVER.deciduous);
    const crop = feature('crop', box(420, 100, 700, 400));
    const bed = feature('bedding', box(60, 200, 120, 260));
    const kinds = (features: ReturnType<typeof feature>[]) =>
      runScene(frame, cover, features, { runs: 0 }).table.map(({ kind, source }) => `${source} ${kind}`);
    expect(kinds([crop])).toContain('computed food');
    expect(kinds([crop])).toContain('computed block');
    const withBed = kinds([crop, bed]);
    expect(withBed).toContain('drawn bedding');
    expect(withBed).not.toContain('computed block');
    const food = feature('food', box(500, 200, 560, 260));
    expect(kinds([crop, bed, food])).toEqual(['drawn bedding', 'drawn food']);
  });

  it('spreads spots through a block too large to be one place', () => {
    const frame = frameOf(300, 300, 10);
    const { table } = runScene(frame, (x) => (x > 2900 ? COVER.open : COVER.deciduous), [], {
      runs: 0,
      maxPairs: 3,
    });
    expect(table.length).toBeGreaterThan(4);
    for (const a of table)
      for (const b of table)
        if (a.id < b.id)
          expect(Math.hypot(a.centre[0] - b.centre[0], a.centre[1] - b.centre[1])).toBeGreaterThan(400);
  });
});

describe('uncertain weights', () => {
  it('stay in their ranges, fill every part of them once, and repeat with the seed', () => {
    const assumptions = travelAssumptions({});
    const drawn = drawWeights(assumptions, 10, 5);
    expect(drawWeights(assumptions, 10, 5)).toEqual(drawn);
    expect(drawWeights(assumptions, 10, 6)).not.toEqual(drawn);
    for (const { key, low, value, high } of assumptions) {
      const values = drawn.map((run) => run[key as keyof typeof run]);
      const below = values.filter((v) => v < value).length / values.length;
      for (const v of values) {
        expect(v).toBeGreaterThanOrEqual(low);
        expect(v).toBeLessThanOrEqual(high);
      }
      // The share of a triangular distribution below its mode, within one of ten strata.
      if (high > low) expect(Math.abs(below - (value - low) / (high - low))).toBeLessThanOrEqual(0.1001);
    }
  });
});
