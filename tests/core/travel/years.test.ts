import { expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import { travelAssumptions } from '../../../core/travel/assumptions.ts';
import { shareAcross } from '../../../core/travel/flow.ts';
import { travelByYear } from '../../../core/travel/years.ts';
import { box, feature, frameOf, line, point, runScene } from './scene.ts';

it('a closed gate opens again as its barricade rots, by the same as if it were not there', () => {
  const gate = (y: number) => feature('gap', point(300, y), { type: 'gate', width: 5 });
  const drawn = [
    feature('bedding', box(50, 150, 110, 250)),
    feature('food', box(490, 150, 550, 250)),
    feature('fence', line([300, -10], [300, 410]), { height: 4 }),
    gate(140),
    gate(260),
  ];
  const tops = feature('barricade', line([300, 130], [300, 150]), { height: 2, lasts: 3 }, 'proposed');
  const scene = runScene(frameOf(120, 80, 5), () => COVER.deciduous, drawn, { runs: 0 });
  const inputs = { ...scene.inputs, ...scene, assumptions: travelAssumptions({}) };
  const nothing = { ends: null, stand: null, goals: null };
  const now = { date: null, year: 0 };
  const found = travelByYear(inputs, [...drawn, tops], now, [0, 1, 2, 3], nothing, () => {});
  const neck = scene.necks.find(({ at }) => Math.abs(at[1] - 140) < 10)!;
  const of = (k: number) => found[k]!.necks.find(({ id }) => id === neck.id)!;
  const today = shareAcross(scene.todayTravel.flow, neck.line).share;
  for (let k = 0; k < 4; k++) expect(of(k).asIs).toBeCloseTo(today, 6);
  expect(of(0).planned).toBeLessThan(today / 4);
  for (let k = 1; k < 4; k++) expect(of(k).planned).toBeGreaterThanOrEqual(of(k - 1).planned - 1e-6);
  expect(of(3).planned).toBeCloseTo(today, 6);
  expect(found.map(({ gone }) => gone.length)).toEqual([0, 0, 0, 1]);
});
