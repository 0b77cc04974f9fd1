import { describe, expect, test } from 'vitest';
import type { Feature } from '../../../core/features/feature.ts';
import type { Point } from '../../../core/grid/frame.ts';
import { type CaseVerdict, HUNTED, type StandCases } from '../../../core/stands/case-verdict.ts';
import { closeGround } from '../../../core/stands/closed-ground.ts';
import { type ApproachGround, readyGround } from '../../../core/stands/judge-way.ts';
import { quietGrounds } from '../../../core/stands/quiet-ground.ts';
import { seasonSheet } from '../../../core/stands/season-sheet.ts';
import { type StandWays, standWays, type WayTaken, wayAt } from '../../../core/stands/stand-ways.ts';
import { standVerdict } from '../../../core/stands/verdict.ts';
import { needsOf, withWays } from '../../../core/stands/with-ways.ts';
import type { Neck } from '../../../core/travel/types.ts';
import { feature, frameOf, gridOf, line, point, sightGround, standAt } from './scene.ts';

const frame = frameOf(120, 100, 5);
const yard = { ...feature('access', point(52, 252), { type: 'parking' }), name: 'Yard' };
/** A wall across the map with one gate in it. */
const wall = feature('fence', line([300, 0], [300, 500]), { height: 2.4 });
const gate = feature('gap', point(300, 250), { type: 'gate' });
const neck = {
  id: 'neck-1',
  rank: 1,
  share: 0.3,
  at: [300, 250],
  line: [
    [300, 235],
    [300, 265],
  ],
} as unknown as Neck;

const groundOf = (features: Feature[], necks: Neck[] = []): ApproachGround => ({
  ...sightGround(frame, () => 100),
  features,
  areas: { frame, cells: new Int32Array(frame.width * frame.height) },
  travelAreas: [],
  routes: [],
  necks,
});
const options = {
  mode: 'foot' as const,
  allowNeighbour: false,
  dryLeaves: true,
  from: null,
  legs: { pace: 1, longest: null },
  airBearing: gridOf(frame, () => 180),
  convergence: 0,
};
const spot = standAt(500, 250);
const waysOn = (ground: ApproachGround, closed: Feature[] = []): StandWays =>
  standWays(
    [spot],
    [
      [
        { time: 'dawn', wind: 'W' },
        { time: 'midday', wind: 'calm' },
      ],
    ],
    closeGround(readyGround(ground, 'off'), quietGrounds(closed)),
    options,
    'us',
  )[0]!;

describe('ways to stands wind by wind', () => {
  test('a clean way is told for each time and wind that is needed, and no other', () => {
    const ways = waysOn(groundOf([yard]));
    expect(Object.keys(ways.scented).sort()).toEqual(['dawn W', 'midday calm']);
    expect(wayAt(ways, 'dawn', 'W')).toMatchObject({ clean: true, start: 'Yard', against: null });
    expect(wayAt(ways, 'dawn', 'W')!.length).toBeCloseTo(448, -1);
    // Not looked at in that wind: what holds in any wind stands in.
    expect(wayAt(ways, 'dawn', 'E')).toMatchObject({ clean: true });
    expect(wayAt(ways, 'dark', 'W')).toBeNull();
  });

  test('where every way must pass the one gate in a neck, the stand is lost in every wind without looking at them', () => {
    const ways = waysOn(groundOf([yard, wall, gate], [neck]));
    expect(ways.unscented.dawn).toMatchObject({ clean: false, lost: true });
    expect(ways.scented).toEqual({});
    expect(wayAt(ways, 'dawn', 'NNE')!.against).toMatch(/walks through neck 1/);
  });

  test('nobody’s ground is walked round, and a stand it shuts off has no way', () => {
    const belt = (top: number) => ({
      ...feature('quiet', {
        type: 'Polygon',
        coordinates: [
          [
            [250, 0],
            [350, 0],
            [350, top],
            [250, top],
            [250, 0],
          ],
        ],
      }),
    });
    const ground = groundOf([yard]);
    const round = wayAt(waysOn(ground, [belt(400)]), 'dawn', 'W')!;
    expect(round.clean).toBe(true);
    // Over the top of the belt: by Pythagoras at least two legs of 248 by 148 m and the belt’s 100 m.
    expect(round.length).toBeGreaterThan(448 + 60);
    for (const [x, y] of densely(round.path)) expect(x > 255 && x < 345 && y < 395).toBe(false);
    expect(waysOn(ground, [belt(500)]).unscented.dawn).toMatchObject({ clean: false, lost: true });
  });

  test('where nobody knows where people come from nothing is judged', () => {
    expect(wayAt(waysOn(groundOf([])), 'dawn', 'W')!.clean).toBeNull();
  });
});

const densely = (path: readonly Point[]): Point[] =>
  path.slice(1).flatMap(([x, y], k) => {
    const [px, py] = path[k]!;
    return Array.from({ length: 40 }, (_, n): Point => [px + ((x - px) * n) / 40, py + ((y - py) * n) / 40]);
  });

const way = (clean: boolean | null): WayTaken => ({
  clean,
  start: 'Yard',
  minutes: 10,
  length: 500,
  driven: 0,
  path: [],
  against: clean ? null : 'It walks through neck 1.',
});
const caseOf = (part: CaseVerdict['part'], wind: string, sat: boolean): CaseVerdict =>
  ({
    part,
    wind,
    speed: 3,
    share: { share: 0.5, low: 0, high: 1 },
    fate: { clean: 0.3, spoiled: 0, never: 0.7, alarmed: 0 },
    clean: { usual: 0.3, low: 0.2, high: 0.4 },
    directions: [],
    bedding: [],
    hangs: false,
    spoilt: null,
    hunt: { usual: sat, keen: sat, dull: sat },
    why: sat ? 'Good.' : 'Bad air.',
  }) as unknown as CaseVerdict;
const stand = {
  stand: { type: 'stand', id: 's', name: 'S', at: [0, 0], proposed: false },
  cases: [caseOf('morning', 'W', true), caseOf('morning', 'E', false), caseOf('evening', 'W', true)],
  reach: { 'before sunrise': 0.3, morning: 0.3, midday: 0.3, evening: 0.3 },
  inView: 10,
  routes: [],
  reached: new Int32Array(),
  scented: [new Int32Array(), new Int32Array(), new Int32Array()],
  spacing: 1,
} as StandCases;

describe('verdicts with ways', () => {
  test('ways are needed for cases that can be hunted: in, and in the evening out after dark too', () => {
    expect(needsOf(stand, HUNTED)).toEqual([
      { time: 'dawn', wind: 'W' },
      { time: 'midday', wind: 'W' },
      { time: 'dark', wind: 'W' },
    ]);
    expect(needsOf(stand, ['morning'])).toEqual([{ time: 'dawn', wind: 'W' }]);
  });

  test('a case without a clean way in or out is ruled out, the verdict and the sheet say why', () => {
    const ways: StandWays = {
      stand: 's',
      unscented: {},
      scented: { 'dawn W': way(false), 'midday W': way(true), 'dark W': way(true) },
    };
    const ruled = withWays(stand, ways);
    expect(ruled.cases[0]).toMatchObject({
      hunt: { usual: false },
      why: 'No clean way in before first light. It walks through neck 1.',
    });
    // What the air spoils keeps its own reason.
    expect(ruled.cases[1]!.why).toBe('Bad air.');
    expect(ruled.cases[2]).toMatchObject({ hunt: { usual: true }, why: 'Good.' });
    const lawful = { 'before sunrise': 0, morning: 20, midday: 0, evening: 20, night: 0 };
    const verdict = standVerdict(ruled, lawful, { rest: 4, sit: 4 });
    expect(verdict.spoils).toContainEqual({ cause: 'no clean way in before first light', hours: 10 });
    const sheet = seasonSheet([ruled], [], () => null, 100);
    const line = (part: string) => sheet.cases.find((each) => each.part === part && each.wind === 'W')!;
    expect(line('morning').home).toMatch(/S: No clean way in before first light/);
    expect(line('evening').choices[0]!.ways.map(({ clean }) => clean)).toEqual([true, true]);
    const dark = withWays(stand, { ...ways, scented: { ...ways.scented, 'dark W': way(false) } });
    expect(dark.cases[2]!.why).toMatch(/^No clean way out after dark/);
  });

  test('what was not judged rules nothing out', () => {
    const unknown = withWays(stand, { stand: 's', unscented: {}, scented: { 'dawn W': way(null) } });
    expect(unknown.cases[0]!.hunt.usual).toBe(true);
    expect(withWays(stand, { stand: 's', unscented: {}, scented: {} }).cases[0]!.hunt.usual).toBe(true);
  });
});
