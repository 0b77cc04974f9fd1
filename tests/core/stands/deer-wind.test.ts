import { expect, test } from 'vitest';
import type { Frame, Point } from '../../../core/grid/frame.ts';
import { bedSpots, deerWinds, sharedWinds, trailWind } from '../../../core/stands/deer-wind.ts';
import type { ScentCase } from '../../../core/stands/scent-study.ts';
import type { Route } from '../../../core/travel/types.ts';

const frame: Frame = {
  epsg: 26917,
  west: 0,
  north: 1000,
  cellSize: 10,
  width: 100,
  height: 100,
  longitude: -82,
  latitude: 38,
  convergence: 0,
};
/** 300 m north, then 100 m east. */
const route: Route = {
  id: 'r',
  from: 'a',
  to: 'b',
  when: 'any',
  path: [
    [500, 200],
    [500, 500],
    [600, 500],
  ],
  length: 400,
  minutes: 5,
  share: 1,
};

test('shares of a bent trail, by hand', () => {
  expect(trailWind(route, 0, [])).toMatchObject({ into: 0.75, across: 0.25, with: 0 });
  expect(trailWind(route, 180, [])).toMatchObject({ into: 0, across: 0.25, with: 0.75 });
  expect(trailWind(route, 90, [])).toMatchObject({ into: 0.25, across: 0.75, with: 0 });
  expect(trailWind(route, 270, [])).toMatchObject({ into: 0, across: 0.75, with: 0.25 });
  for (let from = 0; from < 360; from += 7) {
    const { into, across, with: behind } = trailWind(route, from, []);
    expect(into + across + behind).toBeCloseTo(1, 9);
    // The other way round, into and with change places.
    const back = trailWind({ ...route, path: route.path.toReversed() }, from, []);
    expect(back.into).toBeCloseTo(behind, 9);
  }
});

test('each piece of a trail is told apart', () => {
  expect(trailWind(route, 0, []).legs).toBe('ia');
  expect(trailWind(route, 270, []).legs).toBe('aw');
});

test('bedding is checked from its downwind side only, and near enough', () => {
  const bed = (at: Point) => [{ name: 'Thicket', cells: [at] }];
  // The bed lies 100 m west of the trail: a west wind brings its air to the trail.
  expect(trailWind(route, 270, bed([400, 350])).checks).toEqual([{ area: 'Thicket', distance: 100 }]);
  expect(trailWind(route, 90, bed([400, 350])).checks).toEqual([]);
  expect(trailWind(route, 0, bed([400, 350])).checks).toEqual([]);
  expect(trailWind(route, 270, bed([300, 350])).checks).toEqual([]);
});

test('a trail does not check the bedding it starts or ends in', () => {
  const bed = [{ name: 'a', cells: [[400, 350] as Point] }];
  expect(trailWind(route, 270, bed).checks).toEqual([]);
});

test('bedding areas come as spots inside them', () => {
  const cells = new Int32Array(10_000);
  for (let y = 20; y < 30; y++) for (let x = 40; x < 50; x++) cells[y * 100 + x] = 2;
  const spots = bedSpots({ frame, cells }, [
    { id: 2, kind: 'bedding', name: 'Bed', source: 'drawn', centre: [0, 0], area: 1 },
    { id: 3, kind: 'food', name: 'Corn', source: 'drawn', centre: [0, 0], area: 1 },
  ]);
  expect(spots).toHaveLength(1);
  expect(spots[0]!.cells).toHaveLength(25);
  expect(spots[0]!.cells.every(([x, y]) => x > 400 && x < 500 && y > 700 && y < 800)).toBe(true);
});

test('winds that serve both leave out those that spoil or that deer walk with', () => {
  const winds = deerWinds(frame, [route], []);
  expect(winds).toHaveLength(16);
  const one = (wind: string, spoiled: number, hours: number): ScentCase => ({
    stand: 's',
    part: 'morning',
    wind,
    speed: 3,
    share: { share: hours, low: 0, high: 1 },
    cloud: 0,
    air: 'D',
    finding: {
      hangs: false,
      eddying: false,
      followed: 900,
      carry: { usual: 1, low: 1, high: 1 },
      beyond: { usual: false, low: false, high: false },
      bearing: 0,
      travel: { usual: spoiled, low: spoiled, high: spoiled },
      bedding: [],
      creek: null,
      verdict: '',
    },
  });
  const found = sharedWinds(
    [one('N', 0, 0.1), one('S', 0, 0.3), one('E', 0.2, 0.2), one('W', 0.01, 0.2), one('calm', 0, 0.4)],
    winds,
    [route],
  );
  // South is walked with, east spoils, a calm has no direction.
  expect(found.map(({ wind }) => wind)).toEqual(['W', 'N']);
  expect(found[1]!.deer).toBeCloseTo(1, 9);
});
