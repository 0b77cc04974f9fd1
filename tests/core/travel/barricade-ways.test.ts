import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import type { AttributeValue } from '../../../core/features/feature.ts';
import { travelAssumptions, weightsOf } from '../../../core/travel/assumptions.ts';
import { barricadeWays } from '../../../core/travel/barricade-ways.ts';
import { barriersOf } from '../../../core/travel/barriers.ts';
import { featuresAt } from '../../../core/travel/moment.ts';
import { planTravel } from '../../../core/travel/plan-travel.ts';
import { box, feature, frameOf, line, point, runScene } from './scene.ts';

const weights = weightsOf(travelAssumptions({}));
const laid = (attributes: Record<string, AttributeValue>) =>
  feature('barricade', line([0, 0], [0, 50]), attributes);

describe('the ways past a barricade', () => {
  it('cost more over a higher and wider one, through a thicker one, and under a lower one', () => {
    const ways = (attributes: Record<string, AttributeValue>) => barricadeWays(laid(attributes), weights);
    expect(ways({}).over).toBe(weights.barricade);
    expect(ways({}).through).toBeCloseTo(weights.barricadeThrough, 9);
    expect(ways({}).under).toBe(Number.POSITIVE_INFINITY);
    expect(ways({ height: 3 }).over).toBeCloseTo(4 * weights.barricade, 9);
    expect(ways({ width: 4 }).over).toBeCloseTo(2 * weights.barricade, 9);
    expect(ways({ density: 'loose' }).through).toBeLessThan(ways({ density: 'thick' }).through);
    expect(ways({ density: 'thick' }).through).toBeLessThan(ways({ density: 'tight' }).through);
    expect(ways({ density: 1 }).through).toBe(Number.POSITIVE_INFINITY);
    expect(ways({ clearance: 0.5 }).under).toBeCloseTo(weights.barricadeUnder, 9);
    expect(ways({ clearance: 0.35 }).under).toBeGreaterThan(ways({ clearance: 0.6 }).under);
    expect(ways({ clearance: 0.2 }).under).toBe(Number.POSITIVE_INFINITY);
  });

  it('count by the cheapest when travel meets it, and by years as it sinks and thins', () => {
    const cost = (attributes: Record<string, AttributeValue>, year = 0) =>
      barriersOf(featuresAt([laid(attributes)], { date: null, year }), weights)[0]!.cost;
    expect(cost({ clearance: 0.6 })).toBeLessThan(weights.barricadeUnder);
    expect(cost({ height: 3, density: 'loose' })).toBeCloseTo(weights.barricadeThrough / 4, 9);
    const thinning = [0, 1, 2].map((year) => cost({ height: 5, density: 'loose' }, year));
    expect(thinning[1]!).toBeLessThan(thinning[0]!);
    expect(thinning[2]!).toBeLessThan(thinning[1]!);
  });

  // A fence no deer jumps with one gate, and a barricade across the gate that reaches from fence to fence.
  const frame = frameOf(120, 80, 5);
  const ends = [feature('bedding', box(50, 150, 110, 250)), feature('food', box(490, 150, 550, 250))];
  const fence = feature('fence', line([300, -10], [300, 410]), { height: 4 });
  const gate = feature('gap', point(300, 200), { type: 'gate', width: 8 });
  const check = (attributes: Record<string, AttributeValue>, fenced = true) => {
    const built = feature('barricade', line([300, 185], [300, 215]), attributes, 'proposed');
    const features = [...ends, ...(fenced ? [fence, gate] : []), built];
    const scene = runScene(frame, () => COVER.deciduous, features, { runs: 0 });
    return planTravel({ ...scene.inputs, ...scene, assumptions: travelAssumptions({}), features })
      .barricades[0]!;
  };
  it.each([
    ['over it', { height: 0.8 }, true],
    ['through it', { height: 3, density: 'loose' }, true],
    ['under it', { height: 3, clearance: 0.6 }, true],
    ['round its', { height: 3, density: 'tight' }, false],
  ] as const)('are named when the cheapest is %s', (way, attributes, fenced) => {
    const { cheapest, ways, reasons, crossing } = check(attributes, fenced);
    expect(cheapest).toContain(way);
    expect(ways.map((one) => one.way.split(' ')[0]).sort()).toEqual(['over', 'round', 'through', 'under']);
    const costs = ways.map(({ cost }) => cost ?? Number.POSITIVE_INFINITY);
    expect(costs).toEqual([...costs].sort((a, b) => a - b));
    expect(reasons.join(' ')).toContain(`to go ${cheapest}`);
    if (fenced) expect(crossing).toBe(costs[0]);
  });
});
