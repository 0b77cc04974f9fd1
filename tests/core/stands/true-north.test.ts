import { expect, test } from 'vitest';
import { airClock } from '../../../core/air/clock.ts';
import { prevailingByDay } from '../../../core/air/prevailing.ts';
import { CRUISING, seasonWind } from '../../../core/air/season.ts';
import { sunriseSunset } from '../../../core/air/sun.ts';
import type { WindRecord } from '../../../core/air/types.ts';
import type { Frame, Point } from '../../../core/grid/frame.ts';
import { daylightWinds } from '../../../core/stands/bedding-proposal.ts';
import { deerWinds } from '../../../core/stands/deer-wind.ts';
import { flipAt } from '../../../core/stands/risk-more.ts';
import { scentStudy, seasonAir } from '../../../core/stands/scent-study.ts';
import { towardsOf } from '../../../core/stands/sitting.ts';
import type { Route } from '../../../core/travel/types.ts';

// Bearings of a record and of the sun are true. On a grid turned by a right angle a wind from true west comes from
// grid south: not turned at all it would come from grid west, and turned twice from grid east.
const TURNED = 90;
const frame: Frame = {
  epsg: 26917,
  west: 400_000,
  north: 4_200_000,
  cellSize: 40,
  width: 30,
  height: 25,
  longitude: -82,
  latitude: 38,
  convergence: TURNED,
};
const cells = frame.width * frame.height;
const level = { frame, cells: new Float32Array(cells).fill(200) };
const none = { frame, cells: new Float32Array(cells) };
const start = Date.parse('2022-10-25T00:00:00Z') / 3_600_000;
const hours = Int32Array.from({ length: 20 * 24 }, (_, k) => start + k);
const west: WindRecord = {
  station: 'invented',
  hours,
  direction: new Float32Array(hours.length).fill(270),
  speed: new Float32Array(hours.length).fill(4),
  temperature: new Float32Array(hours.length).fill(Number.NaN),
  sky: new Float32Array(hours.length),
  notes: [],
};
const middle: Point = [frame.west + 600, frame.north - 500];
const noon = Date.parse('2022-11-05T17:00:00Z') / 3_600_000;

test('scent of a stand goes with the wind of the record, turned once', () => {
  const inputs = {
    elevation: level,
    cover: { frame, cells: new Uint8Array(cells).fill(1) },
    canopy: none,
    poolDepth: none,
    wind: west,
    ground: {
      areas: { frame, cells: new Int32Array(cells) },
      travelAreas: [],
      routes: [],
      channels: [],
      features: [],
    },
  };
  const air = seasonAir(inputs, CRUISING, noon, 50);
  const stand = { type: 'stand', id: 's', name: 'S', at: middle, seatHeight: 2, proposed: false } as const;
  const midday = scentStudy(stand, inputs, air, 'metric').find(
    ({ part, wind }) => part === 'midday' && wind === 'W',
  )!;
  expect(midday.share.share).toBe(1);
  const { bearing, carry } = midday.finding;
  expect(carry.usual).toBeGreaterThan(50);
  expect(Math.min(bearing, 360 - bearing)).toBeLessThan(5);
});

test('deer on a trail, the prevailing wind, daylight winds, ways and flips take it once as well', () => {
  const south: Route = {
    id: 'r',
    from: 'a',
    to: 'b',
    when: 'any',
    path: [middle, [middle[0], middle[1] - 300]],
    length: 300,
    minutes: 5,
    share: 1,
  };
  const walked = deerWinds(frame, [south], []).find(({ wind }) => wind === 'W')!;
  expect(walked.into).toBe(1);
  const season = seasonWind(west, frame.longitude, frame.latitude, CRUISING);
  const either = { ...west, direction: west.direction.map((_, k) => 247.5 + 22.5 * (k % 3)) };
  const round = seasonWind(either, frame.longitude, frame.latitude, CRUISING);
  expect(prevailingByDay(round, TURNED)!.from).toBe(180);
  expect(daylightWinds(season.parts, TURNED)[12]).toEqual({ from: 180, share: 1 });
  expect(towardsOf('W', TURNED)).toBe(0);
  const drainage = (bearing: number) => ({
    airSpeed: { frame, cells: new Float32Array(cells).fill(1) },
    airBearing: { frame, cells: new Float32Array(cells).fill(bearing) },
  });
  // It blows towards grid north: drainage south is against it, drainage north with it, and neither side is.
  expect(flipAt(middle, drainage(180), season)!.wind).toBe('W');
  for (const bearing of [0, 90, 270]) expect(flipAt(middle, drainage(bearing), season)).toBeNull();
});

test('the morning sun comes from true east: on a grid turned half round it lights the slope that faces grid west', () => {
  const half = { ...frame, convergence: 180 };
  const valley = {
    frame: half,
    cells: level.cells.map((_, i) => 300 + 0.3 * Math.abs((i % 30) - 14.5) * 40 - 2 * Math.floor(i / 30)),
  };
  const clock = airClock(
    valley,
    { frame: half, cells: new Uint8Array(cells).fill(1) },
    { frame: half, cells: none.cells },
    noon,
    50,
    () => ({ wind: 0, cloud: 0 }),
  );
  const { frame: coarse } = clock.ground;
  const row = Math.floor(coarse.height / 2) * coarse.width;
  const facesEast = row + 2;
  const facesWest = row + coarse.width - 3;
  const rise = sunriseSunset(noon + 24, frame.longitude, frame.latitude)!.rise;
  const { sunReaches } = clock.turns;
  expect(sunReaches[facesWest]!).toBeGreaterThan(rise);
  expect(sunReaches[facesWest]!).toBeLessThan(sunReaches[facesEast]! - 0.3);
});
