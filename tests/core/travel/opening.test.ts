import { expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import { travelAssumptions } from '../../../core/travel/assumptions.ts';
import { planPairs, planTravel } from '../../../core/travel/plan-travel.ts';
import { shareWithin, solveBuilt } from '../../../core/travel/what-if.ts';
import { box, feature, frameOf, runScene } from './scene.ts';

it('an opening cut into timber turns travel by day aside, and a plan tells it', () => {
  const frame = frameOf(120, 80, 5);
  const opening = feature('opening', box(250, 120, 350, 280), {}, 'proposed');
  const features = [
    feature('bedding', box(50, 150, 110, 250)),
    feature('food', box(490, 150, 550, 250)),
    opening,
  ];
  const scene = runScene(frame, () => COVER.deciduous, features, { runs: 0 });
  const given = { ...scene.inputs, ...scene, assumptions: travelAssumptions({}), features };
  const built = solveBuilt(planPairs(given), scene.todayTravel);
  const middle: [number, number] = [300, 200];
  const before = shareWithin(scene.todayTravel.flow, middle, 35);
  expect(before).toBeGreaterThan(0.3);
  expect(shareWithin(built.flow, middle, 35)).toBeLessThan(before / 3);
  expect(planTravel(given).doubts.join(' ')).not.toContain('opening');
});
