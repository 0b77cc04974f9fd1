import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import type { Frame, Grid } from '../../../core/grid/frame.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { travelAssumptions, weightsOf } from '../../../core/travel/assumptions.ts';
import { barriersOf } from '../../../core/travel/barriers.ts';
import { partsAt, type ResistanceInputs, resistanceOf } from '../../../core/travel/resistance.ts';
import { box, feature, frameOf, gridOf, line, point } from './scene.ts';

const weights = weightsOf(travelAssumptions({}));
const frame = frameOf(4, 1, 5);

function inputs(
  over: Partial<Record<keyof ResistanceInputs, number[]>>,
  features = [] as ReturnType<typeof feature>[],
) {
  const grid = (name: keyof ResistanceInputs, otherwise: number): Grid => ({
    frame,
    cells: Float32Array.from({ length: 4 }, (_, i) => over[name]?.[i] ?? otherwise),
  });
  return {
    cover: { frame, cells: Uint8Array.from(grid('cover', COVER.deciduous).cells) },
    canopy: grid('canopy', 0.8),
    screening: grid('screening', Number.NaN),
    footing: grid('footing', Number.NaN),
    slope: grid('slope', 0),
    edgeDistance: grid('edgeDistance', -50),
    features,
  };
}
const cells = (over: Parameters<typeof inputs>[0], features?: Parameters<typeof inputs>[1]): number[] => [
  ...resistanceOf(inputs(over, features), weights).cells,
];

describe('resistance', () => {
  it('is at least 1 everywhere, finite where the slope is known and NaN elsewhere', () => {
    const r = cells({ slope: [0, 89, Number.NaN, 20], cover: [COVER.water, COVER.built, COVER.open, 0] });
    expect(r[0]).toBeGreaterThan(20);
    expect(r[1]).toBeGreaterThan(30);
    expect(r[2]).toBeNaN();
    expect(r[3]).toBeGreaterThanOrEqual(1);
    expect(r.filter(Number.isFinite)).toHaveLength(3);
    const easy = cells({ cover: [3, 3, 3, 3], screening: [1, 1, 1, 1], footing: [1, 1, 1, 1] });
    for (const value of easy) expect(value).toBeGreaterThanOrEqual(1);
  });

  it('takes a metre climbed as Parker, Robbins & Hanley 1984 do', () => {
    // 5.9 kcal per kg and vertical km; value from memory: 2.97 W^-0.34 kcal per kg and level km, for a deer of 70 kg.
    const ratio = 5.9 / (2.97 * 70 ** -0.34);
    expect(weights.climb).toBeCloseTo(ratio, 1);
    // Of what it takes, 40-45% goes into lifting (the paper's abstract): 9.81 kJ a kg and km, 4.184 kJ a kcal.
    expect(9.81 / 4.184 / 5.9).toBeCloseTo(0.4, 2);
    // What it adds straight up the paper's own incline of 14.3 degrees; on the level ground itself nothing changes.
    const given = inputs({ slope: [0, 14.3] });
    const tangent = Math.tan((14.3 * Math.PI) / 180);
    expect(partsAt(given, weights)(1)!.up).toBeCloseTo(ratio * tangent, 1);
    const [flat, steep] = cells({ slope: [0, 14.3] });
    expect(steep!).toBe(flat!);
  });

  it('avoids steep faces whichever way they are walked and all but shuts those far beyond', () => {
    const r = cells({ slope: [30, 40, 52, 70] });
    expect(r[1]! - r[0]!).toBeCloseTo(weights.steep, 4);
    expect(r[2]! - r[0]!).toBeCloseTo(2.2 * weights.steep + weights.face, 3);
    expect(r[3]! - r[2]!).toBeCloseTo(1.8 * weights.steep, 3);
    // As dear as built-up ground, which nothing walks through that has a way round.
    expect(weights.face).toBeGreaterThanOrEqual(weights.built);
  });

  it('grows with exposure, away from cover, and falls with screening and along edges', () => {
    const open = cells({ cover: [1, 1, 1, 1], canopy: [0, 0, 0, 0], edgeDistance: [25, 50, 100, 200] });
    for (let k = 1; k < 4; k++) expect(open[k]!).toBeGreaterThan(open[k - 1]!);
    const screened = cells({
      cover: [1, 1, 1, 1],
      screening: [0, 0.5, 1, 1],
      edgeDistance: [50, 50, 50, 50],
    });
    expect(screened[0]!).toBeGreaterThan(screened[1]!);
    expect(screened[1]!).toBeGreaterThan(screened[2]!);
    const edge = cells({ edgeDistance: [-5, -60, 5, -60] });
    expect(edge[0]!).toBeLessThan(edge[1]!);
  });

  it('is the same beside a trail, higher by a building, and takes drawn creek beds out of the water', () => {
    const plain = cells({});
    expect(cells({}, [feature('trail', line([7.5, 0], [7.5, 5]))])).toEqual(plain);
    const house = cells({}, [feature('building', box(0, 0, 5, 5))]);
    expect(house[3]!).toBeGreaterThan(plain[3]!);
    const water = { cover: [6, 6, 6, 6] };
    const creek = cells(water, [feature('creek', line([2.5, 0], [2.5, 5]), { width: 4 })]);
    expect(creek[0]!).toBeLessThan(5);
    expect(creek[3]!).toBeGreaterThan(20);
  });

  it('ignores what is only proposed', () => {
    expect(cells({}, [feature('trail', line([0, 2], [20, 2]), {}, 'proposed')])).toEqual(cells({}));
  });

  it('can be asked for its parts, which add up', () => {
    const given = inputs({ slope: [12, 35], cover: [1, 2], edgeDistance: [10, -80] });
    const r = resistanceOf(given, weights).cells;
    const parts = partsAt(given, weights);
    for (const cell of [0, 1]) {
      const p = parts(cell)!;
      const sum = p.ground + p.exposure + p.footing + p.disturbance + p.interior;
      expect(1 + sum * p.factor + p.steep).toBeCloseTo(r[cell]!, 4);
    }
  });
});

describe('assumptions', () => {
  it('hold their own range and name a source', () => {
    for (const { value, low, high, source } of travelAssumptions({})) {
      expect(low).toBeLessThanOrEqual(value);
      expect(high).toBeGreaterThanOrEqual(value);
      expect(source).toMatch(/our assumption|\d{4}/);
    }
  });

  it('take overrides by key and refuse what they do not know', () => {
    const changed = travelAssumptions({ fence: 500 }).find(({ key }) => key === 'fence')!;
    expect(changed).toMatchObject({ value: 500, high: 500, source: 'set by the user' });
    expect(() => travelAssumptions({ fense: 1 })).toThrow(Problem);
    expect(() => travelAssumptions({ fence: -1 })).toThrow(Problem);
    expect(() => travelAssumptions({ focus: 60 })).toThrow(/focus/);
  });
});

describe('barriers', () => {
  const here = (...features: ReturnType<typeof feature>[]) => barriersOf(features, weights);
  const wire = (height: number) => feature('fence', line([0, 0], [100, 0]), { height });

  it('cost by height, width, depth and class', () => {
    expect(here(wire(2.4))[0]!.cost).toBeGreaterThan(20 * here(wire(1.2))[0]!.cost);
    const creek = (width: number, depth: number) =>
      here(feature('creek', line([0, 0], [9, 0]), { width, depth }))[0]!.cost;
    expect(creek(8, 1)).toBeGreaterThan(creek(3, 0.2));
    const road = (name: string) => here(feature('road', line([0, 0], [9, 0]), { class: name }))[0]!.cost;
    expect(road('highway')).toBeGreaterThan(road('county'));
    expect(road('county')).toBeGreaterThan(road('lane'));
    expect(road('lane')).toBeGreaterThan(road('track'));
  });

  it('open at gaps that belong to them', () => {
    const openings = (kind: 'fence' | 'creek', type: string, attributes = {}) =>
      here(feature(kind, line([0, 0], [100, 0])), feature('gap', point(50, 4), { type, ...attributes }))[0]!
        .openings;
    expect(openings('fence', 'gate')).toHaveLength(1);
    expect(openings('fence', 'ford')).toHaveLength(0);
    expect(openings('creek', 'ford')).toHaveLength(1);
    expect(openings('fence', 'gate', { width: 6 })[0]!.halfWidth).toBe(3);
    expect(openings('fence', 'gate')[0]!.at).toEqual([50, 0]);
    expect(openings('fence', 'gate', { width: 0.9 })).toHaveLength(0);
    expect(openings('fence', 'gate', { crosses: 'another line' })).toHaveLength(0);
  });
});

describe('the frame', () => {
  it('must be one for all inputs', () => {
    const other: Frame = frameOf(3, 1, 5);
    expect(() => resistanceOf({ ...inputs({}), slope: gridOf(other, () => 0) }, weights)).toThrow(/frame/);
  });
});
