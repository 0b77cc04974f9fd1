import { describe, expect, test } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import type { Feature } from '../../../core/features/feature.ts';
import type { Frame, Point } from '../../../core/grid/frame.ts';
import { approachTo } from '../../../core/stands/approach.ts';
import { type ApproachGround, readyGround, type Walk } from '../../../core/stands/judge-way.ts';
import { exposureOf, walkAir } from '../../../core/stands/walk-price.ts';
import type { Neck, Route, TravelArea } from '../../../core/travel/types.ts';
import { feature, frameOf, gridOf, line, point, sightGround, standAt } from './scene.ts';

const frame = frameOf(120, 100, 5);

/** 600 m by 500 m of level open ground; bedding where a box says. */
function scene(
  features: Feature[],
  more: {
    cover?: (x: number, y: number) => number;
    bedding?: readonly [number, number, number, number];
    routes?: Route[];
    necks?: Neck[];
    frame?: Frame;
  } = {},
): ApproachGround {
  const over = more.frame ?? frame;
  const bed = more.bedding;
  const areas = {
    frame: over,
    cells: Int32Array.from(
      gridOf(over, (x, y) => (bed && x > bed[0] && y > bed[1] && x < bed[2] && y < bed[3] ? 1 : 0)).cells,
    ),
  };
  const travelAreas: TravelArea[] = bed
    ? [
        {
          id: 1,
          kind: 'bedding',
          name: 'The thicket',
          source: 'drawn',
          centre: [(bed[0] + bed[2]) / 2, (bed[1] + bed[3]) / 2],
          area: (bed[2] - bed[0]) * (bed[3] - bed[1]),
        },
      ]
    : [];
  return {
    ...sightGround(over, () => 100, more.cover),
    features,
    areas,
    travelAreas,
    routes: more.routes ?? [],
    necks: more.necks ?? [],
  };
}

const walk: Walk = {
  time: 'midday',
  mode: 'foot',
  air: { kind: 'wind', towards: 0 },
  wind: 'south wind',
  from: null,
  allowNeighbour: false,
  dryLeaves: true,
  legs: { pace: 1, longest: null },
};
const go = (ground: ApproachGround, spot = standAt(500, 250), more: Partial<Walk> = {}) =>
  approachTo(spot, readyGround(ground, 'off'), { ...walk, ...more }, 'us').approach;
const yard = { ...feature('access', point(52, 252), { type: 'parking' }), name: 'Yard' };
const route = (path: Point[], share: number): Route => ({
  id: 'r',
  from: 'a',
  to: 'b',
  when: 'any',
  path,
  length: 0,
  minutes: 0,
  share,
});

describe('a way in', () => {
  test('over level open ground takes as long as Tobler says, off a path and on one', () => {
    const { ways, clean, verdict } = go(scene([yard]));
    expect(ways[0]!.length).toBeCloseTo(448, -1);
    // Tobler 1993: 5.037 km/h on the level, 3/5 of it off a path.
    expect(ways[0]!.minutes).toBeCloseTo((0.448 / (5.037 * 0.6)) * 60, 0);
    expect(clean).toBe(true);
    expect(verdict).toContain('A clean way in from Yard');
    const lane = feature('road', line([50, 252.5], [500, 252.5]), { class: 'lane' });
    expect(go(scene([yard, lane])).ways[0]!.minutes).toBeCloseTo((0.448 / 5.037) * 60, 0);
    // 5 m/s by vehicle.
    const driven = go(scene([yard, lane]), undefined, { mode: 'vehicle' }).ways[0]!;
    expect(driven.driven).toBeGreaterThan(430);
    expect(driven.minutes).toBeCloseTo(448 / 5 / 60, 0);
  });

  test('takes longer for a slower walker, and is none for who does not walk so far', () => {
    const slow = go(scene([yard]), undefined, { legs: { pace: 0.5, longest: 450 } });
    // Half of Tobler's speed takes twice the time.
    expect(slow.ways[0]!.minutes).toBeCloseTo((0.448 / (5.037 * 0.6 * 0.5)) * 60, 0);
    expect(slow.clean).toBe(true);
    const short = go(scene([yard]), undefined, { legs: { pace: 1, longest: 400 } });
    expect(short.clean).toBe(false);
    expect(short.ways[0]!.faults[0]!.sentence).toMatch(/^It is 49\d yd on foot, farther than 437 yd/);
    // What is driven is not walked.
    const lane = feature('road', line([50, 252.5], [500, 252.5]), { class: 'lane' });
    const driven = go(scene([yard, lane]), undefined, { mode: 'vehicle', legs: { pace: 1, longest: 100 } });
    expect(driven.clean).toBe(true);
  });

  test('sets out where they park, and anywhere once that place is gone', () => {
    const near = {
      ...feature('access', point(580, 252), { type: 'parking' }),
      id: 'near',
      name: 'Near gate',
    };
    expect(go(scene([yard, near])).ways[0]!.start).toBe('Near gate');
    expect(go(scene([yard, near]), undefined, { from: yard.id }).ways[0]!.start).toBe('Yard');
    expect(go(scene([yard]), undefined, { from: 'gone' }).ways[0]!.start).toBe('Yard');
  });

  test('keeps off the neighbour’s ground unless that is allowed', () => {
    // The client's ground is shaped like a U: the straight way runs across the neighbour.
    const mine = feature('boundary', {
      type: 'Polygon',
      coordinates: [
        [
          [20, 20],
          [580, 20],
          [580, 400],
          [420, 400],
          [420, 120],
          [180, 120],
          [180, 400],
          [20, 400],
          [20, 20],
        ],
      ],
    });
    const round = go(scene([yard, mine]));
    expect(round.ways.length).toBeGreaterThan(0);
    for (const way of round.ways) {
      expect(way.acrossNeighbour).toBe(0);
      expect(way.length).toBeGreaterThan(520);
    }
    const across = go(scene([yard, mine]), undefined, { allowNeighbour: true });
    const straight = across.ways.find(({ acrossNeighbour }) => acrossNeighbour > 0)!;
    expect(straight.acrossNeighbour).toBeGreaterThan(200);
    expect(straight.faults.some(({ key }) => key === 'neighbour')).toBe(true);
  });

  test('goes to the gate of a fence nobody climbs, and finds none where there is no gate', () => {
    const fence = feature('fence', line([300, -10], [300, 510]), { height: 2.7 });
    expect(go(scene([yard, fence])).ways).toEqual([]);
    expect(go(scene([yard, fence])).verdict).toContain('No way leads here');
    const gate = feature('gap', point(300, 402), { type: 'gate', width: 5 });
    const { ways } = go(scene([yard, fence, gate]));
    expect(ways[0]!.crossings).toMatchObject([{ kind: 'gate', seconds: 10 }]);
    expect(ways[0]!.crossings[0]!.at[1]).toBeCloseTo(402, -1);
    // A low fence is climbed, and that takes its time.
    const low = feature('fence', line([300, -10], [300, 510]), { height: 1.2 });
    const over = go(scene([yard, low])).ways[0]!;
    expect(over.crossings).toMatchObject([{ kind: 'fence' }]);
    expect(over.minutes - go(scene([yard])).ways[0]!.minutes).toBeCloseTo(over.crossings[0]!.seconds / 60, 1);
  });

  test('a road carries over a creek that is waded elsewhere', () => {
    const creek = feature('creek', line([300, -10], [300, 510]), { width: 8, depth: 1 });
    const road = feature('road', line([40, 200], [560, 200]), { class: 'lane' });
    const waded = go(scene([yard, creek])).ways[0]!;
    expect(waded.faults.some(({ key }) => key === 'creek')).toBe(true);
    const bridged = go(scene([yard, creek, road])).ways[0]!;
    expect(bridged.faults.some(({ key }) => key === 'creek')).toBe(false);
  });

  test('is hidden from bedding behind a strip of timber when that is put first', () => {
    const pines = (_: number, y: number) => (y > 330 && y < 380 ? COVER.evergreen : COVER.open);
    // The straight way passes a thicket that sees it; behind the pines nothing does.
    const ground = scene([yard], { bedding: [220, 100, 380, 180], cover: pines });
    const { ways } = go(ground);
    const quickest = ways.find(({ kind }) => kind === 'quickest')!;
    const best = ways.reduce((a, b) => (b.seenByBedding < a.seenByBedding ? b : a));
    expect(quickest.seenByBedding).toBeGreaterThan(1);
    expect(quickest.clean).toBe(false);
    expect(best.seenByBedding).toBeLessThan(0.5 * quickest.seenByBedding);
    expect(best.minutes).toBeGreaterThan(quickest.minutes);
    // In the dark the same view hardly matters.
    const dark = go(ground, undefined, { time: 'dark' }).ways.find(({ kind }) => kind === 'quickest');
    expect(
      (dark ?? go(ground, undefined, { time: 'dark' }).ways[0]!).faults.some(
        ({ key }) => key === 'seen by bedding',
      ),
    ).toBe(false);
  });

  test('that every way walks through a neck is said of all of them', () => {
    const fence = feature('fence', line([300, -10], [300, 510]), { height: 2.7 });
    const gate = feature('gap', point(300, 252), { type: 'gate', width: 5 });
    const neck = {
      id: 'neck-1',
      rank: 1,
      at: [300, 252],
      line: [
        [300, 240],
        [300, 264],
      ],
      share: 0.6,
    } as Neck;
    const ground = scene([yard, fence, gate], {
      necks: [neck],
      routes: [
        route(
          [
            [280, 400],
            [320, 100],
          ],
          1,
        ),
      ],
    });
    const approach = go(ground);
    expect(approach.clean).toBe(false);
    expect(approach.verdict).toContain(
      'No clean way in. Every way found has this: It walks through neck 1, which 60%',
    );
    for (const way of approach.ways) {
      expect(way.necks).toEqual(['neck-1']);
      expect(way.crossesTravel).toBe(1);
    }
  });
});

test('scent goes down the wind, noise all round, and nothing of either far off', () => {
  const { surface, watchers } = readyGround(scene([yard], { bedding: [295, 295, 305, 305] }), 'off');
  const at = (cells: ArrayLike<number>, x: number, y: number) =>
    cells[Math.floor((500 - y) / 5) * frame.width + Math.floor(x / 5)]!;
  // Towards the north: a walker south of the bedding is smelled there, one north of it is not.
  const north = exposureOf(surface, watchers, walkAir(0, 'midday', surface.elevation), true);
  expect(at(north.scent.bedding.cells, 300, 200)).toBeGreaterThan(0.4);
  expect(at(north.scent.bedding.cells, 300, 400)).toBe(0);
  expect(at(north.scent.bedding.cells, 300, 20)).toBe(0);
  expect(at(north.noise.bedding.cells, 300, 250)).toBeGreaterThan(0.05);
  expect(at(north.noise.bedding.cells, 300, 347)).toBeCloseTo(at(north.noise.bedding.cells, 300, 252), 1);
  expect(at(north.noise.bedding.cells, 300, 150)).toBe(0);
  // Draining to the east at dawn; in a calm by day it hangs round the walker.
  const drained = exposureOf(
    surface,
    watchers,
    walkAir(
      null,
      'dawn',
      gridOf(frame, () => 90),
    ),
    true,
  );
  expect(at(drained.scent.bedding.cells, 200, 300)).toBeGreaterThan(0.4);
  expect(at(drained.scent.bedding.cells, 400, 300)).toBe(0);
  const still = exposureOf(
    surface,
    watchers,
    walkAir(
      null,
      'midday',
      gridOf(frame, () => 90),
    ),
    true,
  );
  expect(at(still.scent.bedding.cells, 272, 300)).toBeCloseTo(at(still.scent.bedding.cells, 327, 300), 1);
  expect(at(still.scent.bedding.cells, 200, 300)).toBe(0);
  // Damp leaves are quieter than dry ones in timber.
  const timber = readyGround(
    scene([yard], { bedding: [295, 295, 305, 305], cover: () => COVER.deciduous }),
    'off',
  );
  const heard = (dry: boolean) =>
    at(exposureOf(timber.surface, timber.watchers, { kind: 'still' }, dry).noise.bedding.cells, 300, 260);
  expect(heard(false)).toBeLessThan(0.5 * heard(true));
});
