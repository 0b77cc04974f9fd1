import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Point } from '../../../core/grid/frame.ts';
import { atLeast, blindTrial } from '../../../core/travel/blind-trial.ts';
import type { Neck } from '../../../core/travel/types.ts';
import { outside } from '../../outside.ts';
import { frameOf, gridOf } from './scene.ts';

const frame = frameOf(100, 100, 2);
const open = gridOf(frame, () => 1);
const neck = (id: string, x: number, y: number): Neck =>
  ({
    id,
    line: [
      [x - 5, y],
      [x + 5, y],
    ] as [Point, Point],
  }) as Neck;

test('marks within reach of a neck’s line find it, and each neck counts once', () => {
  const necks = [neck('a', 50, 50), neck('b', 150, 150)];
  const marks: Point[] = [
    [56, 53],
    [50, 41],
    [100, 100],
  ];
  const { marks: found, found: count, necksFound, chance } = blindTrial(marks, necks, open, 10);
  expect(found.map((mark) => mark.neck)).toEqual(['a', 'a', null]);
  expect(found[0]!.distance).toBeCloseTo(Math.hypot(1, 3), 6);
  expect([count, necksFound]).toEqual([2, 1]);
  // A line of 10 m with 10 m about it: a rectangle of 10 by 20 and a disc of radius 10, twice, of 200 by 200 m.
  expect(chance).toBeCloseTo((2 * (200 + Math.PI * 100)) / 40_000, 2);
});

test('the chance of luck equals the upper tail of the binomial by SciPy', () => {
  const {
    luck,
    versions,
  }: { luck: { found: number; of: number; chance: number; byLuck: number }[]; versions: { scipy: string } } =
    JSON.parse(readFileSync(new URL('../../reference/fixtures/travel/flow.json', import.meta.url), 'utf8'));
  const check = outside({
    room: 'travel',
    method: 'Chance that as many marks drawn at random would find as many necks',
    source: `SciPy ${versions.scipy} binom.sf`,
    unit: 'chance',
    allowed: 1e-12,
  });
  for (const { found, of, chance, byLuck } of luck) check.compare(atLeast(found, of, chance), byLuck);
  check.done();
});

test('luck is the upper tail of the binomial distribution', () => {
  // Necks over the whole of the west half: a chance of one half a mark.
  const { cells } = open;
  const half = {
    frame,
    cells: cells.map((value, i) => (i % 100 < 25 || i % 100 >= 75 ? Number.NaN : value)),
  };
  const wall: Neck = {
    id: 'w',
    line: [
      [75, 0],
      [75, 200],
    ],
  } as unknown as Neck;
  const marks: Point[] = [
    [76, 50],
    [74, 90],
    [140, 50],
  ];
  const trial = blindTrial(marks, [wall], half, 25.5);
  expect(trial.chance).toBeCloseTo(0.5, 1);
  const p = trial.chance;
  // Two or more of three: 3 p^2 (1 - p) + p^3.
  expect(trial.byLuck).toBeCloseTo(3 * p * p * (1 - p) + p ** 3, 12);
  expect(blindTrial(marks.slice(2), [wall], half, 25.5).byLuck).toBe(1);
  expect(blindTrial(marks, [], half, 25.5).byLuck).toBe(1);
});
