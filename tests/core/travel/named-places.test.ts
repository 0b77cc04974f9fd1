import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import type { Feature } from '../../../core/features/feature.ts';
import type { Point } from '../../../core/grid/frame.ts';
import { travelAssumptions, weightsOf } from '../../../core/travel/assumptions.ts';
import { gentlestBank } from '../../../core/travel/banks.ts';
import { barriersOf } from '../../../core/travel/barriers.ts';
import { shareAcross } from '../../../core/travel/flow.ts';
import { landmarksAt, landmarksOf } from '../../../core/travel/landmarks.ts';
import { linesAt } from '../../../core/travel/lines-at.ts';
import { planPairs } from '../../../core/travel/plan-travel.ts';
import { solveBuilt } from '../../../core/travel/what-if.ts';
import { outside } from '../../outside.ts';
import { box, feature, frameOf, gridOf, line, point, runScene } from './scene.ts';

const bed = (x: number, y: number) => feature('bedding', box(x - 30, y - 30, x + 30, y + 30));
const food = (x: number, y: number) => feature('food', box(x - 30, y - 30, x + 30, y + 30));

describe('a neck is named by the ground it falls on', () => {
  const weights = weightsOf(travelAssumptions({}));
  const namesAt = (
    [x, y]: Point,
    features: Feature[],
    saddles: { at: Point; width: number | null }[] = [],
  ) => {
    const sources = {
      saddles: saddles as unknown as Parameters<typeof landmarksOf>[0]['saddles'],
      benches: [],
      draws: [],
      features,
      barriers: barriersOf(features, weights),
    };
    const across: [Point, Point] = [
      [x, y - 15],
      [x, y + 15],
    ];
    return landmarksAt(across, landmarksOf(sources), sources, 5);
  };
  const field = feature('crop', {
    type: 'Polygon',
    // Timber reaches into the field from the south-east as far as 300, 300.
    coordinates: [
      [
        [100, 100],
        [300, 100],
        [300, 300],
        [500, 300],
        [500, 500],
        [100, 500],
        [100, 100],
      ],
    ],
  });
  const creek = feature('creek', line([100, 100], [200, 100], [300, 100], [300, 200], [300, 300]));
  const fence = feature('fence', line([100, 100], [300, 100]));
  const road = feature('road', line([100, 100], [500, 100]));
  const pipe = feature('gap', point(300, 100), { type: 'culvert', width: 2 });
  it.each([
    ['saddle', [], [{ at: [300, 300] as Point, width: 40 }], [300, 300], [500, 300]],
    ['inside corner', [field], [], [300, 300], [100, 300]],
    ['creek bend', [creek], [], [300, 100], [150, 100]],
    ['end of a fence', [fence], [], [300, 100], [200, 100]],
    ['culvert', [road, pipe], [], [300, 100], [400, 100]],
  ] as const)('%s', (name, features, saddles, here, elsewhere) => {
    expect(namesAt(here as unknown as Point, [...features], [...saddles])).toContain(name);
    expect(namesAt(elsewhere as unknown as Point, [...features], [...saddles])).not.toContain(name);
  });

  it('in a whole scene: the end of a fence that deer walk round, and the culvert under a highway', () => {
    const frame = frameOf(120, 80, 5);
    const ends = [bed(80, 200), food(520, 200)];
    const round = runScene(
      frame,
      () => COVER.deciduous,
      [...ends, feature('fence', line([300, -10], [300, 260]), { height: 4 })],
      { runs: 0 },
    );
    expect(round.necks.flatMap(({ landmarks }) => landmarks)).toContain('end of a fence');
    const under = runScene(
      frame,
      () => COVER.deciduous,
      [
        ...ends,
        feature('road', line([300, -10], [300, 410]), { class: 'highway' }),
        feature('gap', point(300, 240), { type: 'culvert', width: 3 }),
      ],
      { runs: 0 },
    );
    expect(under.necks[0]!.landmarks).toContain('culvert');
    const [crossing] = under.crossings;
    expect(crossing!.easiest).toEqual({ at: [300, 240], what: 'culvert' });
  });
});

describe('the easiest bank of a creek', () => {
  const frame = frameOf(60, 60, 5);
  const path: Point[] = [
    [150, -10],
    [150, 310],
  ];
  // Banks of 30 degrees, but for a gentle place about y = 200.
  const slope = gridOf(frame, (_, y) => (Math.abs(y - 200) < 12 ? 8 : 30));
  it('is found up and down the stretch, and told with where it lies', () => {
    const bank = gentlestBank(path, 3, 150 + 10, 60, slope)!;
    expect(bank.slope).toBe(8);
    expect(bank.here).toBe(30);
    expect(Math.abs(bank.at[1] - 200)).toBeLessThan(13);
    expect(bank.reason).toBe('The gentlest banks near are 8° to the north, against 30° here.');
    expect(gentlestBank(path, 3, 200 + 10, 60, slope)!.reason).toContain('as gentle here as anywhere near');
  });
  it('is the steeper of both sides, and not guessed where the ground is unknown', () => {
    const oneSided = gridOf(frame, (x, y) => (Math.abs(y - 200) < 12 && x > 150 ? 8 : 30));
    expect(gentlestBank(path, 3, 160, 60, oneSided)!.slope).toBe(30);
    expect(
      gentlestBank(
        path,
        3,
        160,
        60,
        gridOf(frame, () => Number.NaN),
      ),
    ).toBeNull();
  });
  it('is named at the crossings of a creek, which are ranked by what crosses', () => {
    const wide = frameOf(120, 80, 5);
    const { crossings } = runScene(
      wide,
      () => COVER.deciduous,
      [
        bed(80, 120),
        bed(80, 300),
        food(520, 200),
        feature('creek', line([300, -10], [300, 410]), { width: 3 }),
      ],
      { runs: 0, slope: (x, y) => (Math.abs(x - 300) < 25 && Math.abs(y - 240) > 12 ? 25 : 5) },
    );
    expect(crossings.length).toBeGreaterThan(0);
    expect(
      crossings.every(({ kind, easiest }) => kind === 'creek' && easiest!.what === 'gentlest banks'),
    ).toBe(true);
    const shares = crossings.map(({ share }) => share);
    expect(shares).toEqual([...shares].sort((a, b) => b - a));
  });
});

describe('a neck does not depend on the size of the cells', () => {
  it.each([
    [
      'a strip of timber across a field',
      (x: number, y: number) =>
        x < 200 || x > 500 || Math.abs(y - 200) < 30 || Math.abs(y - 340) < 30 ? COVER.deciduous : COVER.open,
      [],
    ],
    [
      'a gate in a tall fence',
      () => COVER.deciduous,
      [
        feature('fence', line([350, -10], [350, 410]), { height: 4 }),
        feature('gap', point(350, 230), { type: 'gate', width: 10 }),
        feature('gap', point(350, 330), { type: 'gate', width: 10 }),
      ],
    ],
  ] as const)('%s: share and width on cells of 5 and 10 m', (_name, cover, features) => {
    const [fine, wide] = [5, 10].map((cell) => {
      const scene = runScene(
        frameOf(700 / cell, 400 / cell, cell),
        cover,
        [bed(80, 200), food(620, 200), ...features],
        {
          runs: 0,
        },
      );
      return scene.necks[0]!;
    }) as [ReturnType<typeof runScene>['necks'][0], ReturnType<typeof runScene>['necks'][0]];
    expect(Math.hypot(fine.at[0] - wide.at[0], fine.at[1] - wide.at[1])).toBeLessThan(120);
    expect(fine.share).toBeGreaterThan(0.5);
    const check = outside({
      room: 'travel',
      method: 'Share of a neck on cells of 5 and of 10 m',
      source: 'net flow across a line does not depend on the cells',
      unit: 'of all travel',
      allowed: 0.05,
    });
    check.compare(wide.share, fine.share);
    check.done();
    expect(Math.abs(wide.width - fine.width)).toBeLessThanOrEqual(20);
  });
});

describe('several parallel trails', () => {
  // Five strips of brush through open ground, as wide as each other (common practice, no source: closing all but one
  // of several parallel trails gathers nearly all travel on the one left).
  const frame = frameOf(120, 100, 5);
  const rows = [60, 155, 250, 345, 440];
  const cover = (x: number, y: number): number =>
    x < 130 || x > 470 || rows.some((row) => Math.abs(y - row) < 13) ? COVER.deciduous : COVER.open;
  const ends = [feature('bedding', box(30, 200, 90, 300)), feature('food', box(510, 200, 570, 300))];
  it('closed but for one, gather nearly all travel on the one left', () => {
    const before: number[] = [];
    const check = outside({
      room: 'travel',
      method: 'Travel off the one trail left of five',
      source: 'common practice, no source: nearly all gathers on it',
      unit: 'of all travel',
      allowed: 0.07,
    });
    for (const left of [155, 250, 345]) {
      // Barricades across the other strips and the field between, up to the trail left open, as a crew would lay them.
      const closed = [line([300, 10], [300, left - 22]), line([300, left + 22], [300, 490])].map((laid) =>
        feature('barricade', laid, { height: 2.4, density: 'tight' }, 'proposed'),
      );
      const features = [...ends, ...closed];
      const scene = runScene(frame, cover, features, { runs: 0 });
      const given = { ...scene.inputs, ...scene, assumptions: travelAssumptions({}), features };
      const built = solveBuilt(planPairs(given), scene.todayTravel);
      const trail: [Point, Point] = [
        [300, left - 20],
        [300, left + 20],
      ];
      before.push(shareAcross(scene.todayTravel.flow, trail).share);
      check.compare(shareAcross(built.flow, trail).share, 1);
    }
    check.done();
    expect(Math.max(...before)).toBeLessThan(0.8);
    expect(Math.min(...before)).toBeLessThan(0.2);
  });
});

describe('a spot asked why', () => {
  it('names the lines to cross there, the dearest first, each at its opening within reach', () => {
    const weights = weightsOf(travelAssumptions({}));
    const fence = feature('fence', line([300, 0], [300, 400]), { height: 2.4 });
    const creek = feature('creek', line([310, 0], [310, 400]), { width: 2 });
    const gate = feature('gap', point(300, 200), { type: 'gate', width: 4 });
    const barriers = barriersOf([fence, creek, gate], weights);
    const away = linesAt(barriers, [305, 100], 15);
    expect(away.map(({ kind, opening }) => [kind, opening])).toEqual([
      ['fence', null],
      ['creek', null],
    ]);
    // 25 for 1.2 m, by the sixth power of height; banks, width and depth of the creek.
    expect(away[0]!.cost).toBeCloseTo(weights.fence * 2 ** 6, 6);
    expect(away[1]!.cost).toBeCloseTo(
      weights.creekBank + 2 * weights.creekWidth + 0.3 * weights.creekDepth,
      6,
    );
    const at = linesAt(barriers, [305, 205], 15);
    expect(at.map(({ kind, opening }) => [kind, opening])).toEqual([
      ['creek', null],
      ['fence', 'gate'],
    ]);
    expect(linesAt(barriers, [400, 100], 15)).toEqual([]);
  });
});
