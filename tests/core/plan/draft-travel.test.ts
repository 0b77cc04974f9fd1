import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import type { Feature } from '../../../core/features/feature.ts';
import { pathsOf } from '../../../core/features/shapes.ts';
import type { Point } from '../../../core/grid/frame.ts';
import { draftBeds } from '../../../core/plan/draft-beds.ts';
import { buildable, placesAlong } from '../../../core/plan/draft-ground.ts';
import { beginTrials, draftTravel } from '../../../core/plan/draft-travel.ts';
import { rateOf, rateTable } from '../../../core/plan/rates.ts';
import { travelAssumptions } from '../../../core/travel/assumptions.ts';
import { shareAcross } from '../../../core/travel/flow.ts';
import { isInside } from '../../../core/travel/owner.ts';
import { planPairs } from '../../../core/travel/plan-travel.ts';
import { solveBuilt } from '../../../core/travel/what-if.ts';
import { box, feature, frameOf, line, point, runScene } from '../travel/scene.ts';

const ends = [feature('bedding', box(50, 150, 110, 250)), feature('food', box(490, 150, 550, 250))];
/** A fence no deer jumps, from north to south across the map, with gates. */
const fence = feature('fence', line([300, -10], [300, 410]), { height: 4 });
const gate = (y: number) => feature('gap', point(300, y), { type: 'gate', width: 5 });
const rules = { rate: rateOf(rateTable({})), units: 'us' as const, prefix: 'draft' };

function drafted(more: Feature[]) {
  const features = [...ends, fence, gate(120), gate(200), gate(280), ...more];
  const scene = runScene(frameOf(120, 80, 5), () => COVER.deciduous, features, { runs: 0 });
  const inputs = { ...scene.inputs, ...scene, assumptions: travelAssumptions({}), features };
  const trials = beginTrials(inputs, rules);
  return { inputs, trials, found: draftTravel(trials) };
}

describe('a draft for travel', () => {
  it('closes gates on the client’s own ground alone, each gain being that of the what-if with it alone', () => {
    // The gate at 280 is the neighbour's.
    const boundary = feature('boundary', box(20, 20, 580, 240));
    const { inputs, trials, found } = drafted([boundary]);
    const ring = pathsOf(boundary.geometry)[0]!;
    expect(found.ideas.filter(({ feature: { kind } }) => kind === 'barricade').length).toBeGreaterThan(0);
    for (const idea of found.ideas) {
      expect(idea.feature.status).toBe('proposed');
      for (const at of placesAlong(pathsOf(idea.feature.geometry)[0]!))
        expect(isInside([ring], at)).toBe(true);
      if (idea.needs.length > 0) continue;
      const neck = trials.own.find(({ rank }) => idea.feature.name!.endsWith(`neck ${rank}`))!;
      const built = solveBuilt(
        { ...planPairs(inputs), features: [...inputs.features, idea.feature] },
        inputs.todayTravel,
      );
      const gain =
        shareAcross(built.flow, neck.line).share - shareAcross(inputs.todayTravel.flow, neck.line).share;
      expect(idea.gain).toBeCloseTo(gain, 6);
      expect(idea.gain).toBeGreaterThanOrEqual(0.001);
    }
  });

  it('lays nothing across a way, and says so', () => {
    const boundary = feature('boundary', box(20, 20, 580, 380));
    const lane = feature('road', line([20, 200], [580, 200]), { class: 'track' });
    const { found } = drafted([boundary, lane]);
    const barricades = found.ideas.filter(({ feature: made }) => made.kind === 'barricade');
    const across = barricades.filter(({ feature: made }) => {
      const ys = pathsOf(made.geometry).flatMap((path) => path.map(([, y]) => y));
      return Math.min(...ys) < 220 && Math.max(...ys) > 180;
    });
    for (const { feature: made } of across)
      for (const path of pathsOf(made.geometry))
        for (const [, y] of placesAlong(path)) expect(Math.abs(y - 200)).toBeGreaterThan(5);
    // Each is told to be open there, or it was passed over.
    const told = [...across.flatMap(({ cautions }) => cautions), ...found.passed.map(({ why }) => why)].join(
      ' ',
    );
    expect(told).toContain('a road');
  });

  it('builds of a line what lies on own ground and off ways', () => {
    const ring: Point[][] = [
      [
        [0, 0],
        [100, 0],
        [100, 100],
        [0, 100],
        [0, 0],
      ],
    ];
    const lane = { ...feature('road', line([50, -10], [50, 110])), name: 'Lane' };
    // Looked at every 5 m: more than 10 m off the line of the ground and more than 5 m off the lane.
    const { pieces, openFor } = buildable([lane], ring, [
      [-20, 50],
      [120, 50],
    ]);
    expect(openFor).toEqual(['Lane']);
    expect(pieces.map((path) => [path[0]![0], path.at(-1)![0]])).toEqual([
      [15, 40],
      [60, 85],
    ]);
    const free: Point[] = [
      [20, 20],
      [40, 30],
    ];
    expect(buildable([lane], ring, free)).toEqual({ pieces: [free], openFor: [] });
  });

  it('passes over bedding that would come over the property line, or stands in the open', () => {
    const { trials } = drafted([feature('boundary', box(20, 20, 580, 380))]);
    const bed = (at: Point) => ({ at, checked: 0.5, route: 'route-1', distance: 60 });
    const near = draftBeds(trials, [bed([30, 30])], () => 'by the fence');
    expect(near.ideas).toEqual([]);
    expect(near.passed[0]!.why).toContain('of the property line or over it');
    const drawn = feature('bedding', box(180, 280, 220, 320), {}, 'proposed');
    const inputs = { ...trials.inputs, features: [...trials.inputs.features, drawn] };
    const twice = draftBeds({ ...trials, inputs }, [bed([200, 340])], () => 'by the fence');
    expect(twice.passed[0]!.why).toContain('Bedding is proposed within');
    trials.inputs.cover.cells.fill(COVER.open);
    const open = draftBeds(trials, [bed([200, 300])], () => 'by the fence');
    expect(open.passed[0]!.why).toContain('Too little brush or timber');
  });
});
