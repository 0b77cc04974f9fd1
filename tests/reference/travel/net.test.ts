import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { createSolver } from '../../../core/travel/multigrid.ts';

interface Fixture {
  width: number;
  height: number;
  east: number[];
  south: number[];
  ground: number[];
  start: number;
  end: number;
  potential: number[];
  leaky: number[];
}
const fixture: Fixture = JSON.parse(
  readFileSync(new URL('../fixtures/travel/net.json', import.meta.url), 'utf8'),
);
const { width, height, start, end } = fixture;
const net = (ground: Float64Array | null) => ({
  width,
  height,
  east: Float64Array.from(fixture.east),
  south: Float64Array.from(fixture.south),
  ground,
});

describe('the net solver against SciPy spsolve', () => {
  it('gives the same potentials where nothing leaks', () => {
    const injected = new Float64Array(width * height);
    injected[start] = 1;
    injected[end] = -1;
    const potential = new Float64Array(width * height);
    createSolver(net(null)).solve(injected, potential, { tolerance: 1e-12 });
    const shift = potential[end]!;
    const scale = fixture.potential[start]!;
    fixture.potential.forEach((value, i) => {
      expect(Math.abs(potential[i]! - shift - value)).toBeLessThan(1e-8 * scale);
    });
  });

  it('gives the same potentials in a leaky net', () => {
    const injected = new Float64Array(width * height);
    injected[start] = 1;
    const potential = new Float64Array(width * height);
    createSolver(net(Float64Array.from(fixture.ground))).solve(injected, potential, { tolerance: 1e-12 });
    fixture.leaky.forEach((value, i) => {
      expect(Math.abs(potential[i]! - value)).toBeLessThan(1e-9 * fixture.leaky[start]!);
    });
  });
});
