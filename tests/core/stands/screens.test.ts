import { describe, expect, test } from 'vitest';
import type { Point } from '../../../core/grid/frame.ts';
import { reachOf } from '../../../core/stands/look.ts';
import type { ReachGrid } from '../../../core/stands/reach.ts';
import { stoodIn } from '../../../core/stands/screen-growth.ts';
import { besidePath, crescent } from '../../../core/stands/screen-shapes.ts';
import {
  type Hidden,
  looksAt,
  type ScreenGround,
  screenTrial,
  type TriedScreen,
} from '../../../core/stands/screen-trial.ts';
import { leftBy, passedBy } from '../../../core/stands/screened-looks.ts';
import type { Route } from '../../../core/travel/types.ts';
import { frameOf, gridOf, sightGround, standAt } from './scene.ts';

const FOOT = 0.3048;

describe('growth', () => {
  // Common practice, no source: switchgrass 6 to 7 ft in its second season, 8 to 9 ft grown; giant miscanthus 15 ft.
  test('grasses reach the heights of the trade', () => {
    expect(stoodIn('switchgrass', 2).height / FOOT).toBeGreaterThanOrEqual(6);
    expect(stoodIn('switchgrass', 2).height / FOOT).toBeLessThanOrEqual(7);
    for (const season of [3, 6]) {
      expect(stoodIn('switchgrass', season).height / FOOT).toBeGreaterThanOrEqual(8);
      expect(stoodIn('switchgrass', season).height / FOOT).toBeLessThanOrEqual(9);
    }
    expect(stoodIn('giant miscanthus', 5).height / FOOT).toBeCloseTo(15, 6);
  });

  test.each(['switchgrass', 'giant miscanthus', 'conifers', 'brush'] as const)(
    '%s is nothing before it is planted and never grows down',
    (plant) => {
      expect(stoodIn(plant, 0)).toEqual({ height: 0, depth: 0 });
      for (let n = 1; n < 12; n++) {
        expect(stoodIn(plant, n + 1).height).toBeGreaterThanOrEqual(stoodIn(plant, n).height);
        expect(stoodIn(plant, n + 1).depth).toBeGreaterThanOrEqual(stoodIn(plant, n).depth);
      }
    },
  );
});

describe('shapes', () => {
  test('a crescent keeps its distance, is open at the back and nowhere else', () => {
    const ring = crescent([100, 200], 6, 180, 90);
    const bearings = ring.map(([x, y]) => ((Math.atan2(x - 100, y - 200) * 180) / Math.PI + 360) % 360);
    for (const [x, y] of ring) expect(Math.hypot(x - 100, y - 200)).toBeCloseTo(6, 9);
    // From south-west round by north to south-east: 270 degrees.
    expect(bearings[0]).toBeCloseTo(225, 6);
    expect(bearings.at(-1)).toBeCloseTo(135, 6);
    expect(bearings.every((b) => b <= 135.001 || b >= 224.999)).toBe(true);
  });

  test('a line beside a path stays at its distance, on its side, round a corner too', () => {
    const path: Point[] = [
      [0, 0],
      [100, 0],
      [100, 100],
    ];
    // Right of a path east, then north: south of it, then east of it.
    expect(besidePath(path, 4).map((p) => p.map((v) => Math.round(v * 1e6) / 1e6))).toEqual([
      [0, -4],
      [104, -4],
      [104, 100],
    ]);
    expect(besidePath(path, -4)[1]!.map((v) => Math.round(v * 1e6) / 1e6)).toEqual([96, 4]);
  });
});

describe('a look through a screen', () => {
  const level = () => 50;
  const look = { from: [0, 0] as Point, eye: 51.1, to: [100, 0] as Point, target: 51.7 };

  test('passes it at the height the line has there, through its width at the angle it is met', () => {
    // By similar triangles: 1.1 + 0.6 * 0.9 over the ground; met square, then at 30 degrees.
    const [square] = passedBy(
      look,
      [
        [90, -10],
        [90, 10],
      ],
      level,
      3,
    );
    expect(square!.over).toBeCloseTo(1.64, 9);
    expect(square!.through).toBeCloseTo(3, 9);
    const [slant] = passedBy(
      look,
      [
        [90 - 17.32, -10],
        [90 + 17.32, 10],
      ],
      level,
      3,
    );
    expect(slant!.through).toBeCloseTo(3 / Math.sin(Math.PI / 6), 3);
    expect(
      passedBy(
        look,
        [
          [90, 1],
          [90, 10],
        ],
        level,
        3,
      ),
    ).toEqual([]);
    // Beer's law; over the top nothing is lost.
    expect(leftBy([square!], { height: 2, depth: 1 })).toBeCloseTo(Math.exp(-3), 12);
    expect(leftBy([square!], { height: 1.6, depth: 1 })).toBe(1);
  });
});

const trialOn = (
  ground: ScreenGround,
  hidden: Hidden[],
  screen: TriedScreen,
  seat: ReachGrid | null = null,
  leaves: 'on' | 'off' = 'off',
) => screenTrial(ground.elevation, looksAt(ground, hidden, leaves), screen, seat, 'us');

describe('hidden from when on', () => {
  const frame = frameOf(120, 120, 2.5);
  const route = (path: Point[]): Route => ({
    id: 'r',
    from: 'a',
    to: 'b',
    when: 'any',
    path,
    length: 0,
    minutes: 0,
    share: 1,
  });
  const areas = { frame, cells: new Int32Array(frame.width * frame.height) };
  const ground = {
    ...sightGround(frame, () => 50),
    routes: [
      route([
        [100, 250],
        [200, 250],
      ]),
    ],
    areas,
    travelAreas: [],
  };
  const spot = standAt(150, 150, { seatHeight: 1, range: 40 });
  const foot = [{ name: 'Foot', places: [spot.at], height: 1.7 }];
  const trial = (plant: 'switchgrass' | 'giant miscanthus', line: Point[], width = 2.7) =>
    trialOn(ground, foot, { lines: [line], plant, width });

  test('open ground: switchgrass in front hides somebody standing from its second season on', () => {
    const front = crescent(spot.at, 5, 180, 90);
    const { seasons, hiddenFrom, sentences } = trial('switchgrass', front);
    // Nothing stands there yet: all of every look is left.
    expect(seasons[0]!.seen[0]!.most).toBeCloseTo(1, 6);
    // The looks pass the grass at about 1.67 m: over 2.5 ft, under 6.5 ft.
    expect(seasons[1]!.seen[0]!.travel).toBeCloseTo(1, 6);
    const { depth } = stoodIn('switchgrass', 2);
    expect(seasons[2]!.seen[0]!.travel!).toBeCloseTo(Math.exp(-depth * 2.7), 1);
    expect(hiddenFrom).toEqual([{ name: 'Foot', season: 2 }]);
    expect(sentences[0]).toMatch(/hidden from season 2 on/);
    expect(seasons[2]!.seen[0]!.bedding).toBeNull();
  });

  test('a crescent turned with its opening to the travel hides nothing, and says so', () => {
    const { hiddenFrom, sentences } = trial('giant miscanthus', crescent(spot.at, 5, 0, 120));
    expect(hiddenFrom[0]!.season).toBeNull();
    expect(sentences[0]).toMatch(/not hidden by this screen/);
  });

  test('tall grass close round a low seat closes the shots, and the sentence says so', () => {
    const seat = reachOf(spot, ground, 'off').grid;
    const lines = [crescent(spot.at, 5, 180, 90)];
    const tried = trialOn(ground, foot, { lines, plant: 'giant miscanthus', width: 2.7 }, seat);
    expect(tried.seasons[0]!.shots).toBe(1);
    // Three quarters of the circle lie behind the crescent.
    expect(tried.seasons.at(-1)!.shots!).toBeGreaterThan(0.2);
    expect(tried.seasons.at(-1)!.shots!).toBeLessThan(0.3);
    expect(tried.sentences.at(-1)).toMatch(/closes 7\d% of the ground/);
  });

  test('without anything that looks nothing is claimed', () => {
    const none = { ...ground, routes: [] };
    const tried = trialOn(none, foot, { lines: [], plant: 'brush', width: 2 });
    expect(tried.hiddenFrom[0]!.season).toBeNull();
    expect(tried.seasons[0]!.seen[0]!.most).toBeNull();
    expect(tried.sentences[0]).toMatch(/nothing can be told/);
  });

  test('in timber that hides already it says so', () => {
    const thick = {
      ...ground,
      ...sightGround(
        frame,
        () => 50,
        () => 2,
      ),
      screening: gridOf(frame, () => 0.98),
    };
    const tried = trialOn(thick, foot, { lines: [], plant: 'brush', width: 2 }, null, 'on');
    expect(tried.hiddenFrom[0]!.season).toBe(0);
  });
});
