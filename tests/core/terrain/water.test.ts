import { describe, expect, test } from 'vitest';
import type { Grid } from '../../../core/grid/frame.ts';
import { NEIGHBOURS_8 } from '../../../core/grid/neighbours.ts';
import { fillDepressions } from '../../../core/terrain/filling.ts';
import { accumulate, flowDirections } from '../../../core/terrain/flow.ts';
import { WATER_WORK } from '../../../core/terrain/types.ts';
import { BREACH_LIMITS, waterSurface } from '../../../core/terrain/water.ts';
import { elevationOf, groundCases, groundFrom, roughGround } from './grounds.ts';

/** A draw that falls south along x = 200, crossed at y = 200 by a fill of the given width and height. */
const crossed = (width: number, height: number): Grid<Float32Array> =>
  groundFrom(100, 120, 4, (x, y) => {
    const valley = 100 + 0.04 * y + 0.25 * Math.abs(x - 202);
    const fill = Math.abs(y - 202) <= width / 2 ? 100 + 0.04 * 202 + height : 0;
    return Math.max(valley, fill);
  });
const run = (elevation: Grid, mapped: Uint8Array | null = null) =>
  waterSurface(elevation, fillDepressions(elevation), mapped);

/** Every cell's end, by plain walking. */
function endsOf(water: Grid): Set<number> {
  const directions = flowDirections(water).cells;
  const ends = new Set<number>();
  for (let start = 0; start < directions.length; start++) {
    let i = start;
    if (directions[i] === 0) continue;
    for (let steps = 0; directions[i]! < 9; steps++) {
      if (steps > directions.length) throw new Error('water runs in a circle');
      const k = directions[i]! - 1;
      i += NEIGHBOURS_8.dx[k]! + NEIGHBOURS_8.dy[k]! * water.frame.width;
    }
    ends.add(i);
  }
  return ends;
}
const onEdge = (grid: Grid, i: number): boolean => {
  const { width, height } = grid.frame;
  return i % width === 0 || i % width === width - 1 || i < width || i >= width * (height - 1);
};

describe('a road fill across a draw', () => {
  test('is cut at the draw, where least has to be moved, and the draw above is not drowned', () => {
    const elevation = crossed(12, 3);
    const { water, work, cuts, sinks } = run(elevation);
    expect(sinks).toEqual([]);
    expect(cuts).toHaveLength(1);
    expect(Math.abs(cuts[0]!.from[0] - elevation.frame.west - 202)).toBeLessThanOrEqual(4);
    expect(cuts[0]!.depth).toBeGreaterThan(2);
    expect(cuts[0]!.depth).toBeLessThan(4);
    const filled = fillDepressions(elevation);
    let drowned = 0;
    let raised = 0;
    for (let i = 0; i < water.cells.length; i++) {
      if (filled.cells[i]! > elevation.cells[i]! + 0.05) drowned++;
      if (water.cells[i]! > elevation.cells[i]! + 0.05) raised++;
    }
    expect(drowned).toBeGreaterThan(30);
    expect(raised).toBe(0);
    expect(work.cells.filter((code) => code === WATER_WORK.cut).length).toBeLessThan(8);
    const area = accumulate(flowDirections(water)).cells;
    const below = 90 * 100 + 50;
    expect(Math.max(area[below - 1]!, area[below]!, area[below + 1]!)).toBeGreaterThan(5000);
  });
  test('too deep or too wide a fill stays shut unless a creek or culvert is mapped through it', () => {
    for (const [width, height] of [
      [12, 8],
      [80, 3],
    ] as const) {
      const elevation = crossed(width, height);
      expect(run(elevation).cuts).toEqual([]);
      expect(run(elevation).water.cells).toEqual(fillDepressions(elevation).cells);
      const mapped = new Uint8Array(elevation.cells.length);
      for (let y = 0; y < 120; y++) for (let x = 49; x <= 51; x++) mapped[y * 100 + x] = 1;
      expect(run(elevation, mapped).cuts).toHaveLength(1);
    }
  });
  test('two fills in a row are both cut, though the lower drowns the upper', () => {
    const elevation = groundFrom(100, 120, 4, (x, y) => {
      const valley = 100 + 0.02 * y + 0.25 * Math.abs(x - 202);
      const at = (middle: number, top: number): number => (Math.abs(y - middle) <= 6 ? top : 0);
      return Math.max(valley, at(102, 100 + 2 + 3.8), at(222, 100 + 4.4 + 1.2));
    });
    const { cuts, water } = run(elevation);
    expect(cuts).toHaveLength(2);
    for (const end of endsOf(water)) expect(onEdge(elevation, end)).toBe(true);
  });
});

describe('a sinkhole', () => {
  const elevation = groundFrom(80, 80, 3, (x, y) => {
    const r = Math.hypot(x - 121.5, y - 118.5);
    return 100 + 0.03 * x - (r < 20 ? 5 * (1 - r / 20) : 0);
  });
  test('is kept: its bottom drains nowhere, and nothing is filled above it', () => {
    const { sinks, work, water } = run(elevation);
    expect(sinks).toHaveLength(1);
    expect(sinks[0]!.depth).toBeGreaterThan(3);
    expect(work.cells.filter((code) => code === WATER_WORK.keptSink)).toHaveLength(1);
    const ends = [...endsOf(water)].filter((end) => !onEdge(elevation, end));
    expect(ends).toHaveLength(1);
    expect(work.cells[ends[0]!]).toBe(WATER_WORK.keptSink);
  });
  test('a long hollow of the same depth is not, and is filled', () => {
    const trench = groundFrom(
      80,
      80,
      3,
      (x, y) => 100 + 0.03 * x - (Math.abs(y - 120) < 5 && Math.abs(x - 120) < 60 ? 5 : 0),
    );
    const { sinks, water } = waterSurface(trench, fillDepressions(trench), null, {
      ...BREACH_LIMITS,
      length: 4,
    });
    expect(sinks).toEqual([]);
    for (const end of endsOf(water)) expect(onEdge(trench, end)).toBe(true);
  });
});

test.each([
  ['rough 3', roughGround(80, 60, 3)],
  ...groundCases.map((reference): [string, Grid] => [reference.name, elevationOf(reference)]),
] as [string, Grid][])(
  'on %s every cell drains to the edge, to no data or to a kept sink, and cuts only lower',
  (_, elevation) => {
    const filled = fillDepressions(elevation);
    const { water, work } = waterSurface(elevation, filled, null);
    const { width } = elevation.frame;
    for (const end of endsOf(water)) {
      if (onEdge(elevation, end) || work.cells[end] === WATER_WORK.keptSink) continue;
      let open = false;
      for (let k = 0; k < 8; k++)
        open ||= Number.isNaN(elevation.cells[end + NEIGHBOURS_8.dx[k]! + NEIGHBOURS_8.dy[k]! * width]!);
      expect(open).toBe(true);
    }
    for (let i = 0; i < water.cells.length; i++) {
      const [z, w] = [elevation.cells[i]!, water.cells[i]!];
      if (Number.isNaN(z)) expect(w).toBeNaN();
      else if (w < z) expect(work.cells[i]).toBe(WATER_WORK.cut);
      else if (w > z) {
        expect(work.cells[i]! & 3).toBeGreaterThan(0);
        expect(w).toBeLessThanOrEqual(filled.cells[i]!);
      }
    }
  },
);
