import { expect, test } from 'vitest';
import type { NightAir } from '../../../core/air/carry.ts';
import type { PartTable, SeasonWind } from '../../../core/air/season.ts';
import { SECTORS } from '../../../core/air/types.ts';
import type { Feature } from '../../../core/features/feature.ts';
import type { Frame, Grid, Point } from '../../../core/grid/frame.ts';
import { approachDrags, flipAt, moreReasons } from '../../../core/stands/risk-more.ts';

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
const all = (value: number): Grid => ({ frame, cells: new Float32Array(10_000).fill(value) });
/** Cold air that slides east everywhere. */
const air: NightAir = {
  coldAir: all(5),
  poolDepth: all(0),
  airSpeed: all(0.6),
  airBearing: all(90),
  pools: [],
};
const areas = { frame, cells: new Int32Array(10_000) };
// A bed from 400 to 500 m east, 700 to 800 m north.
for (let y = 20; y < 30; y++) for (let x = 40; x < 50; x++) areas.cells[y * 100 + x] = 3;
const beds = {
  areas,
  travelAreas: [
    {
      id: 3,
      kind: 'bedding' as const,
      name: 'Pines',
      source: 'drawn' as const,
      centre: [450, 750] as Point,
      area: 1,
    },
  ],
};
const way = (x: number): Feature => ({
  id: 'w',
  kind: 'access',
  status: 'existing',
  name: 'North lane',
  geometry: {
    type: 'LineString',
    coordinates: [
      [x, 950],
      [x, 350],
    ],
  },
  attributes: {},
  source: 'drawn',
});
const stand: Point = [300, 340];

test('a way uphill of bedding drags scent into it, one below does not, and one that leads elsewhere is not asked', () => {
  const [drag] = approachDrags(stand, [way(300)], air, beds);
  expect(drag!.bedding).toEqual(['Pines']);
  // A hundred metres of the way lie abreast of the bed.
  expect(Math.abs(drag!.length - 100)).toBeLessThanOrEqual(40);
  expect(approachDrags([600, 340], [way(600)], air, beds)).toEqual([]);
  expect(approachDrags([800, 340], [way(300)], air, beds)).toEqual([]);
  expect(moreReasons([drag!], null, 'metric')[0]).toMatch(
    /^The way in by North lane drags scent through bedding \(Pines\)/,
  );
});

test('a stand flips where the evening wind carries against the morning drainage', () => {
  const evening = (wind: string): SeasonWind => ({
    season: null,
    notes: [],
    parts: [
      {
        part: 'evening',
        total: 100,
        calms: 0,
        variable: 0,
        sectors: SECTORS.map((name) => ({
          hours: name === wind ? 60 : 1,
          share: { share: name === wind ? 0.6 : 0.01, low: 0, high: 1 },
          speed: 3,
          cloud: null,
        })),
        calmShare: { share: 0, low: 0, high: 1 },
        calmCloud: null,
        gustiness: null,
        unsteadiness: null,
        stability: {},
      } satisfies PartTable,
    ],
  });
  // Drainage goes east; wind from the east carries west.
  expect(flipAt(stand, air, evening('E'))).toEqual({ wind: 'E', share: 0.6 });
  expect(flipAt(stand, air, evening('W'))).toBeNull();
  expect(flipAt(stand, air, null)).toBeNull();
  expect(flipAt(stand, { ...air, airSpeed: all(0) }, evening('E'))).toBeNull();
  expect(moreReasons([], flipAt(stand, air, evening('E')), 'us')[0]).toMatch(
    /^It flips: .* from E \(60% of the hours\)/,
  );
});
