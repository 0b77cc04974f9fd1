import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import { cellAt, type Point } from '../../../core/grid/frame.ts';
import { netAcross } from '../../../core/travel/flow.ts';
import { PACE, sampleRoutes } from '../../../core/travel/routes.ts';
import { outside } from '../../outside.ts';
import { box, feature, frameOf, line, point, runScene } from './scene.ts';

describe('many routes drawn from a flow', () => {
  const frame = frameOf(100, 70, 5);
  const gates = [60, 150, 240, 300];
  const scene = runScene(
    frame,
    (x, y) => (Math.sin(x / 31) * Math.cos(y / 23) > 0.5 ? COVER.open : COVER.deciduous),
    [
      feature('bedding', box(40, 130, 90, 190)),
      feature('food', box(410, 140, 460, 200)),
      feature('fence', line([250, -10], [250, 360]), { height: 4 }),
      ...gates.map((y) => feature('gap', point(250, y), { type: 'gate', width: 6 })),
    ],
    { runs: 0 },
  );
  const { flow, areas } = scene.todayTravel;
  const each = 1500;
  const routes = sampleRoutes(flow, scene.table, 5, each);

  it('pass each gate as often as the flow does, to what chance leaves', () => {
    const of = routes.length;
    const check = outside({
      room: 'travel',
      method: 'Part of 3,000 routes drawn from a flow that passes each of four gates, against the flow',
      source: 'law of large numbers: within four standard errors of the binomial',
      unit: 'standard errors',
      allowed: 4,
    });
    expect(of).toBe(2 * each);
    for (const y of gates) {
      const gate: Point[] = [
        [250, y - 20],
        [250, y + 20],
      ];
      const wanted = Math.abs(netAcross(flow, gate)[0]!);
      const passed = routes.filter(({ path }) =>
        path.some((at, k) => {
          const next = path[k + 1];
          if (!next || at[0] < 250 === next[0] < 250) return false;
          const t = (250 - at[0]) / (next[0] - at[0]);
          return Math.abs(at[1] + t * (next[1] - at[1]) - y) <= 20;
        }),
      ).length;
      check.compare(passed / of, wanted, Math.sqrt((wanted * (1 - wanted)) / of) + 1e-6);
    }
    check.done();
  });

  it('run from one area to the other, by dusk to food and by dawn from it, at the stated pace', () => {
    const areaAt = (at: Point) => areas[cellAt(frame, ...at)];
    const id = (name: string) => scene.table.find((area) => area.name === name)!.id;
    for (const { path, from, to, when, length, minutes } of routes) {
      expect([areaAt(path[0]!), areaAt(path.at(-1)!)]).toEqual([id(from), id(to)]);
      expect(when).toBe(to.startsWith('Food') ? 'dusk' : 'dawn');
      expect(minutes * 60 * PACE).toBeCloseTo(length, 6);
    }
    expect(routes.filter(({ when }) => when === 'dusk')).toHaveLength(each);
  });

  it('are the same for the same seed and others for another', () => {
    const few = (seed: number) => sampleRoutes(flow, scene.table, seed, 5).map(({ path }) => path);
    expect(few(5)).toEqual(few(5));
    expect(few(6)).not.toEqual(few(5));
  });
});
