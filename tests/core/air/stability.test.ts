import { expect, test } from 'vitest';
import { netRadiationIndex, stabilityOf, turnerIndex } from '../../../core/air/stability.ts';
import { outside } from '../../outside.ts';

// Turner (1964), J. Applied Meteorology 3, 83-91, as printed by the EPA ("Meteorological Monitoring Guidance", table
// 6-4): wind in knots by net radiation index 4, 3, 2, 1, 0, -1, -2.
const PUBLISHED: [number[], number[]][] = [
  [
    [0, 1],
    [1, 1, 2, 3, 4, 6, 7],
  ],
  [
    [2, 3],
    [1, 2, 2, 3, 4, 6, 7],
  ],
  [
    [4, 5],
    [1, 2, 3, 4, 4, 5, 6],
  ],
  [[6], [2, 2, 3, 4, 4, 5, 6]],
  [[7], [2, 2, 3, 4, 4, 4, 5]],
  [
    [8, 9],
    [2, 3, 3, 4, 4, 4, 5],
  ],
  [[10], [3, 3, 4, 4, 4, 4, 5]],
  [[11], [3, 3, 4, 4, 4, 4, 4]],
  [
    [12, 13, 20, 40],
    [3, 4, 4, 4, 4, 4, 4],
  ],
];

test('the index table, entry by entry', () => {
  const check = outside({
    room: 'air',
    method: 'Classes of stability, entry by entry',
    source: 'Turner 1964, as printed by the EPA',
    unit: 'classes',
    allowed: 0,
  });
  for (const [knots, row] of PUBLISHED)
    for (const knot of knots)
      row.forEach((index, column) => {
        check.compare(turnerIndex((knot * 1852) / 3600, 4 - column), index);
      });
  check.done();
});

test('net radiation: insolation by sun height, cut by cloud, and the two night values', () => {
  expect([61, 60, 36, 35, 16, 15, 1].map((height) => netRadiationIndex(height, false, 0))).toEqual([
    4, 3, 3, 2, 2, 1, 1,
  ]);
  expect(netRadiationIndex(65, false, 5)).toBe(4);
  expect(netRadiationIndex(65, false, 6)).toBe(2);
  expect(netRadiationIndex(20, false, 9)).toBe(1);
  expect(netRadiationIndex(65, false, 10)).toBe(0);
  expect([0, 4, 5, 9, 10].map((cloud) => netRadiationIndex(-10, true, cloud))).toEqual([-2, -2, -1, -1, 0]);
});

test('a ceiling that is told: low cloud takes two classes of sun, middle cloud one, high cloud none', () => {
  // Turner (1964) as printed by the EPA ("Meteorological Monitoring Guidance", 6.4.1): 7,000 and 16,000 ft.
  const check = outside({
    room: 'air',
    method: 'Net radiation index under cloud of a told ceiling',
    source: 'Turner 1964, as printed by the EPA',
    unit: 'classes',
    allowed: 0,
  });
  const feet = (height: number) => height * 0.3048;
  for (const [cloud, ceiling, index] of [
    [6, 6900, 2],
    [6, 7100, 3],
    [6, 15_900, 3],
    [6, 16_100, 4],
    [10, 6900, 0],
    [10, 7100, 3],
    [10, 20_000, 3],
    [5, 1000, 4],
  ] as const)
    check.compare(netRadiationIndex(65, false, cloud, feet(ceiling)), index);
  for (const [cloud, ceiling, index] of [
    [10, 6900, 0],
    [10, 7100, -1],
    [4, 1000, -2],
  ] as const)
    check.compare(netRadiationIndex(-10, true, cloud, feet(ceiling)), index);
  check.done();
  expect(netRadiationIndex(20, false, 9, feet(8000))).toBe(1);
});

test('a slow wind at night is drainage, class 7 counts as F', () => {
  expect(stabilityOf(1.5, -20, true, 0)).toBe('calm drainage');
  expect(stabilityOf(2.1, -20, true, 0)).toBe('F');
  expect(stabilityOf(7, -20, true, 10)).toBe('D');
  expect(stabilityOf(1, 65, false, 0)).toBe('A');
});
