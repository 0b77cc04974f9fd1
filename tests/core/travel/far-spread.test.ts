import { expect, it } from 'vitest';
import { mendFar } from '../../../core/travel/far-spread.ts';
import { createSolver } from '../../../core/travel/multigrid.ts';

// A row of leaky conductors: z falls as e^(-k x) with 2 cosh k = 2 + g (the ladder of Kirchhoff's equations).
const width = 60;
const leak = 2;
const net = {
  width,
  height: 1,
  east: Float64Array.from({ length: width }, (_, i) => (i + 1 < width ? 1 : 0)),
  south: new Float64Array(width),
  ground: new Float64Array(width).fill(leak),
};
const start = Float64Array.from({ length: width }, (_, i) => (i === 0 ? 1 : 0));

it('tells what arrives a long way off as the closed form of a ladder of resistors does', () => {
  const spread = new Float64Array(width);
  createSolver(net).solve(start, spread, { tolerance: 1e-15 });
  const rough = spread.slice();
  mendFar(net, spread, [width - 1]);
  const fall = Math.acosh(1 + leak / 2);
  // The far end has no neighbour beyond: the waves out and back add up there.
  const exact = (i: number): number => Math.cosh(fall * (width - 0.5 - i));
  for (let i = 0; i < width; i++) expect(spread[i]! / spread[0]!).toBeCloseTo(exact(i) / exact(0), 9);
  for (let i = 0; i < width; i++)
    expect(Math.abs((spread[i]! * exact(0)) / (spread[0]! * exact(i)) - 1)).toBeLessThan(1e-5);
  expect(Math.abs((rough[width - 1]! * exact(0)) / (rough[0]! * exact(width - 1)) - 1)).toBeGreaterThan(0.01);
});

it('leaves alone what is told well, and what nothing reaches', () => {
  const spread = new Float64Array(width);
  createSolver(net).solve(start, spread, { tolerance: 1e-15 });
  const before = spread.slice();
  mendFar(net, spread, [5]);
  expect(spread).toEqual(before);
  const parted = { ...net, east: net.east.map((g, i) => (i === 20 ? 0 : g)) };
  const part = new Float64Array(width);
  createSolver(parted).solve(start, part, { tolerance: 1e-15 });
  mendFar(parted, part, [width - 1]);
  expect(part.slice(21).every((value) => value === 0)).toBe(true);
});
