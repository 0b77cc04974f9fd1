import { expect, test } from 'vitest';
import { fillPools } from '../../../core/air/pools.ts';
import { poolsAt } from '../../../core/air/pools-at.ts';
import { fillDepressions } from '../../../core/terrain/filling.ts';
import { airFrame, groundOf, total } from './ground.ts';

const frame = airFrame(80, 60, 2);
// Two hollows in ground that slopes south, and a cell that nobody measured.
const raw = groundOf(frame, (x, y) => {
  const hole = (east: number, deep: number) => Math.max(0, deep - 0.3 * Math.hypot(x - east, y - 50));
  return 110 - 0.02 * y - hole(40, 6) - hole(110, 4);
});
raw.cells[3] = Number.NaN;
const night = fillPools(raw, fillDepressions(raw), () => 1e9).depth;

test('through the night each pool holds its share of the whole, with a level top, and none at its beginning', () => {
  const known = (cells: Float32Array) => cells.map((d) => (Number.isNaN(d) ? 0 : d));
  const whole = total(known(night.cells));
  for (const share of [0.1, 0.5, 0.9]) {
    const { cells } = poolsAt(raw, night, share);
    expect(cells[3]).toBeNaN();
    expect(total(known(cells)) / whole).toBeCloseTo(share, 3);
    for (const [from, to] of [
      [0, 37],
      [38, 80],
    ] as const) {
      const tops = [...cells.keys()]
        .filter((i) => cells[i]! > 0 && i % 80 >= from && i % 80 < to)
        .map((i) => raw.cells[i]! + cells[i]!);
      expect(tops.length).toBeGreaterThan(10);
      expect(Math.max(...tops) - Math.min(...tops)).toBeLessThan(1e-3);
    }
  }
  expect(poolsAt(raw, night, 1)).toBe(night);
  expect(total(known(poolsAt(raw, night, 0).cells))).toBe(0);
});
