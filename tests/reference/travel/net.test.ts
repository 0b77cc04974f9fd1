import { readFileSync } from 'node:fs';
import { describe, it } from 'vitest';
import { createSolver } from '../../../core/travel/multigrid.ts';
import { outside } from '../../outside.ts';

interface Fixture {
  versions: Record<string, string>;
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

const against = (method: string, allowed: number) =>
  outside({
    room: 'travel',
    method,
    source: `SciPy ${fixture.versions.scipy} spsolve`,
    unit: 'of the potential at the start',
    allowed,
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
    const check = against('Potentials of a net with walls', 1e-8);
    fixture.potential.forEach((value, i) => {
      check.compare(potential[i]! - shift, value, scale);
    });
    check.done();
  });

  it('gives the same potentials in a leaky net', () => {
    const injected = new Float64Array(width * height);
    injected[start] = 1;
    const potential = new Float64Array(width * height);
    createSolver(net(Float64Array.from(fixture.ground))).solve(injected, potential, { tolerance: 1e-12 });
    const check = against('Potentials of a leaky net', 1e-9);
    fixture.leaky.forEach((value, i) => {
      check.compare(potential[i]!, value, fixture.leaky[start]!);
    });
    check.done();
  });
});
