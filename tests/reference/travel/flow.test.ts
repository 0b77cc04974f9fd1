import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { cellAt, cellCount, type Frame, type Point } from '../../../core/grid/frame.ts';
import { edgeCosts, moveCosts } from '../../../core/travel/edges.ts';
import { type Flow, netAcross, type PairFlow } from '../../../core/travel/flow.ts';
import { pairFlow } from '../../../core/travel/pair-flow.ts';
import { solveFlow } from '../../../core/travel/solve-flow.ts';
import { frameOf, gridOf } from '../../core/travel/scene.ts';
import { outside } from '../../outside.ts';

type Cells = (number | null)[];
interface Paths {
  width: number;
  height: number;
  resistance: Cells;
  start: number;
  end: number;
  least: number;
  path: number[];
  cases: { focus: number; east: number[]; south: number[] }[];
}
interface Fixture {
  versions: { scipy: string };
  electrical: {
    width: number;
    height: number;
    resistance: Cells;
    areas: number[];
    east: number[];
    south: number[];
  };
  eight: { spans: [number, number][]; shares: number[] };
  paths: Paths[];
  plane: { focus: number; stretches: [number, number][]; shares: number[] }[];
}
const fixture: Fixture = JSON.parse(
  readFileSync(new URL('../fixtures/travel/flow.json', import.meta.url), 'utf8'),
);
const SCIPY = `SciPy ${fixture.versions.scipy}`;
const pair = { from: 1, to: 2, share: 1 };
const costsOf = (frame: Frame, cells: Cells) =>
  edgeCosts({ frame, cells: Float32Array.from(cells, (r) => r ?? Number.NaN) }, []);

function flowBetween(paths: Paths, focus: number): PairFlow {
  const frame = frameOf(paths.width, paths.height, 1);
  const areas = new Int32Array(cellCount(frame));
  areas[paths.start] = 1;
  areas[paths.end] = 2;
  const window = { column: 0, row: 0, width: paths.width, height: paths.height };
  return pairFlow(costsOf(frame, paths.resistance), areas, pair, paths.least, focus, window, 1e-8)!;
}

/** Net flow along every step of a way. */
const along = ({ east, south }: { east: ArrayLike<number>; south: ArrayLike<number> }, way: number[]) =>
  way.slice(1).map((cell, k) => {
    const from = way[k]!;
    const flow = (Math.abs(cell - from) === 1 ? east : south)[Math.min(cell, from)]!;
    return cell > from ? flow : -flow;
  });

describe('the electrical flow (Doyle & Snell 1984)', () => {
  it('equals SciPy spsolve on bumpy ground with holes, and loses nothing on the way', () => {
    const { width, height, resistance, areas, east, south } = fixture.electrical;
    const frame = frameOf(width, height, 1);
    const costs = costsOf(frame, resistance);
    const flow = solveFlow(costs, Int32Array.from(areas), [pair], 0, moveCosts(frame, []), {
      accuracy: 1e-9,
    });
    const found = flow.pairs[0]!;
    expect(found.window.width).toBe(width);
    const check = outside({
      room: 'travel',
      method: 'Electrical flow between two areas, every edge',
      source: `${SCIPY} spsolve`,
      unit: 'of what is sent',
      allowed: 1e-7,
    });
    for (let i = 0; i < areas.length; i++) {
      check.compare(found.east[i]!, east[i]!);
      check.compare(found.south[i]!, south[i]!);
    }
    check.done();
    const kirchhoff = outside({
      room: 'travel',
      method: 'Largest imbalance over the cells that are no end, 64-bit',
      source: 'Kirchhoff’s current law',
      unit: 'of what is sent',
      allowed: 1e-6,
    });
    for (let i = 0; i < areas.length; i++) {
      if (areas[i] !== 0) continue;
      const west = i % width > 0 ? found.east[i - 1]! : 0;
      const north = i >= width ? found.south[i - width]! : 0;
      kirchhoff.compare(west + north - found.east[i]! - found.south[i]!, 0);
    }
    kirchhoff.done();
  });

  it('passes gaps in the same shares as a net of 8 neighbours', () => {
    const frame = frameOf(120, 80, 5);
    const belt = gridOf(frame, (x, y) =>
      Math.abs(x - 300) < 20 && Math.abs(y - 200) > 22 && Math.abs(y - 330) > 15 ? 30 : 1.2,
    );
    const ends = gridOf(frame, (x, y) =>
      Math.hypot(x - 100, y - 200) <= 20 ? 1 : Math.hypot(x - 500, y - 200) <= 20 ? 2 : 0,
    );
    const flow = solveFlow(edgeCosts(belt, []), Int32Array.from(ends.cells), [pair], 0, moveCosts(frame, []));
    const check = outside({
      room: 'travel',
      method: 'Shares of the electrical flow through gaps and between them, 4 against 8 neighbours',
      source: `${SCIPY} spsolve on 8 neighbours`,
      unit: 'of what is sent',
      allowed: 0.02,
    });
    fixture.eight.spans.forEach(([from, to], k) => {
      const line: Point[] = [
        [300, from],
        [300, to],
      ];
      check.compare(netAcross(flow, line)[0]!, fixture.eight.shares[k]!);
    });
    check.done();
  });
});

describe('randomised shortest paths (Saerens et al. 2009; Kivimäki, Shimbo & Saerens 2014)', () => {
  const [small, large, labyrinth, beyond] = fixture.paths as [Paths, Paths, Paths, Paths];
  it.each([
    ['23 x 18 cells', small],
    ['50 x 50 cells', large],
    ['a maze of 49 x 49 cells', labyrinth],
  ])('equal SciPy’s, whose weights are scaled, on %s up to the largest focus', (name, paths) => {
    const check = outside({
      room: 'travel',
      method: `Randomised shortest paths, net flow on every edge, ${name}`,
      source: `${SCIPY} splu, weights scaled against underflow`,
      unit: 'of what is sent',
      allowed: 1e-4,
    });
    for (const { focus, east, south } of paths.cases) {
      const found = flowBetween(paths, focus);
      for (let i = 0; i < east.length; i++) {
        check.compare(found.east[i]!, east[i]!);
        check.compare(found.south[i]!, south[i]!);
      }
    }
    check.done();
  });

  it.each([
    ['23 x 18', small],
    ['50 x 50', large],
  ])('tend to the random walk as the focus falls, on %s', (_name, paths) => {
    const walk = flowBetween(paths, 0);
    const apart = [1, 0.3, 0.1].map((focus) => {
      const { east, south } = flowBetween(paths, focus);
      return Math.max(
        ...east.map((value, i) => Math.abs(value - walk.east[i]!)),
        ...south.map((value, i) => Math.abs(value - walk.south[i]!)),
      );
    });
    expect(apart[1]!).toBeLessThan(apart[0]! / 5);
    expect(apart[2]!).toBeLessThan(apart[1]! / 5);
    const check = outside({
      room: 'travel',
      method: 'Randomised shortest paths at a focus of 0.1 against the random walk',
      source: 'Kivimäki, Shimbo & Saerens 2014: the limit of no cost',
      unit: 'of what is sent',
      allowed: 1e-3,
    });
    check.compare(apart[2]!, 0);
    check.done();
  });

  it('tend to the shortest path as the focus rises', () => {
    const kept = (paths: Paths, focus: number): number => {
      const steps = along(flowBetween(paths, focus), paths.path);
      return steps.reduce((sum, flow) => sum + flow, 0) / steps.length;
    };
    for (const paths of [small, large, labyrinth]) {
      const held = [0, 1, 5, 10, 15, 20, 25].map((focus) => kept(paths, focus));
      for (let k = 1; k < held.length; k++) expect(held[k]!).toBeGreaterThan(held[k - 1]!);
    }
    // Of the starting walkers e^-430 arrive: nothing underflows, and dijkstra's path holds all but a near tie.
    const [far] = beyond.cases;
    const found = flowBetween(beyond, far!.focus);
    const check = outside({
      room: 'travel',
      method: 'Randomised shortest paths at a focus of 400, net flow on every edge of a maze',
      source: `${SCIPY} splu, weights scaled against underflow`,
      unit: 'of what is sent',
      allowed: 1e-6,
    });
    far!.east.forEach((value, i) => {
      check.compare(found.east[i]!, value);
      check.compare(found.south[i]!, far!.south[i]!);
    });
    check.done();
    const tie = outside({
      room: 'travel',
      method: 'Travel that keeps to the shortest path at a focus of 400, mean over its steps',
      source: `${SCIPY} dijkstra`,
      unit: 'of what is sent',
      allowed: 0.02,
    });
    tie.compare(kept(beyond, far!.focus), 1);
    tie.done();
  });
});

describe('the flow between two points of even ground', () => {
  it('crosses midway as the closed form of walkers who pay for their way (K0 and K1 of theta rho)', () => {
    const frame = frameOf(160, 160, 5);
    const even = gridOf(frame, () => 1);
    const areas = new Int32Array(cellCount(frame));
    areas[cellAt(frame, 302.5, 402.5)] = 1;
    areas[cellAt(frame, 507.5, 402.5)] = 2;
    const check = outside({
      room: 'travel',
      method:
        'Shares of the flow over stretches midway between two points of even ground, focus 5, 10 and 20',
      source: `-lap z + theta² z = 0 on the plane, ${SCIPY} k0, k1 and quad`,
      unit: 'of what is sent',
      allowed: 0.01,
    });
    for (const { focus, stretches, shares } of fixture.plane) {
      const flow: Flow = solveFlow(edgeCosts(even, []), areas, [pair], focus, moveCosts(frame, []));
      stretches.forEach(([near, far], k) => {
        const over = (from: number, to: number): number =>
          netAcross(flow, [
            [404, 402.5 + from],
            [404, 402.5 + to],
          ])[0]!;
        check.compare(over(near, far) + over(-far, -near), 2 * shares[k]!);
      });
    }
    check.done();
  });
});
