import { CRUISING, type PartTable } from '../../../core/air/season.ts';
import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import { DEFAULT_SETTINGS, type Settings } from '../../../core/analysis/settings.ts';
import type { Frame, Grid } from '../../../core/grid/frame.ts';

/** A made-up property of four by four cells with one of everything, small enough to count by hand. */
export const FRAME: Frame = {
  epsg: 32617,
  west: 440_000,
  north: 4_350_400,
  cellSize: 100,
  width: 4,
  height: 4,
  longitude: -81.7,
  latitude: 39.3,
  convergence: -0.44,
};

export const SETTINGS: Settings = { ...DEFAULT_SETTINGS, name: 'Test ground', invented: true };

const floats = (value: (cell: number) => number): Grid => ({
  frame: FRAME,
  cells: Float32Array.from({ length: 16 }, (_, i) => value(i)),
});
const bytes = (value: (cell: number) => number): Grid<Uint8Array> => ({
  frame: FRAME,
  cells: Uint8Array.from({ length: 16 }, (_, i) => value(i)),
});
const ints = (): Grid<Int32Array> => ({ frame: FRAME, cells: new Int32Array(16) });

/** Ten hours of mornings: two calm, five from the south-west at 10 mph, three from the west. */
const morning: PartTable = {
  part: 'morning',
  total: 10,
  calms: 2,
  variable: 0,
  sectors: Array.from({ length: 16 }, (_, k) => ({
    hours: k === 10 ? 5 : k === 12 ? 3 : 0,
    share: { share: k === 10 ? 0.5 : k === 12 ? 0.3 : 0, low: 0.1, high: 0.6 },
    speed: k === 10 ? 4.4704 : k === 12 ? 2 : null,
    cloud: null,
  })),
  calmShare: { share: 0.2, low: 0.06, high: 0.51 },
  calmCloud: null,
  gustiness: 1.46,
  unsteadiness: 0.5,
  stability: {},
};

/** The west half, 200 by 400 m, is the client's. */
const boundary = {
  id: 'boundary',
  kind: 'boundary',
  status: 'existing',
  name: null,
  geometry: {
    type: 'Polygon',
    coordinates: [
      [
        [440_000, 4_350_000],
        [440_200, 4_350_000],
        [440_200, 4_350_400],
        [440_000, 4_350_400],
        [440_000, 4_350_000],
      ],
    ],
  },
  attributes: {},
  source: 'test',
} as const;

const creek = {
  id: 'creek-1',
  kind: 'creek',
  status: 'existing',
  name: 'Stony Run',
  geometry: {
    type: 'LineString',
    coordinates: [
      [440_000, 4_350_020],
      [440_400, 4_350_020],
    ],
  },
  attributes: {},
  source: 'test',
} as const;

export function smallArtifacts(): Artifacts {
  return {
    elevation: floats((i) => 100 + 0.3048 * i),
    imagery: null,
    landcover: null,
    vegetation: null,
    surroundings: null,
    marginShares: null,
    holes: null,
    features: [structuredClone(boundary), structuredClone(creek)] as unknown as Artifacts['features'],
    wind: {
      station: 'an invented station',
      hours: Int32Array.from([438_288, 438_289, 438_290, 438_291]),
      direction: Float32Array.from([225, 225, Number.NaN, 0]),
      speed: Float32Array.from([4.4704, 8.9408, 0, 2.2352]),
      temperature: new Float32Array(4),
      sky: new Float32Array(4),
      notes: ['1 hour was missing.'],
    },
    slope: floats((i) => (i % 4 < 1 ? 3 : 20)),
    aspect: floats(() => 0),
    shade: bytes(() => 200),
    filled: floats((i) => 100 + 0.3048 * i),
    water: floats((i) => 100 + 0.3048 * i),
    waterWork: bytes(() => 0),
    waterChanges: { cuts: [], sinks: [] },
    drainageStart: { cells: 4, area: 40_000, how: 'common size' },
    channels: [2.4384, 3.048, 3.6576].map((depth, k) => ({
      id: `ch${k}`,
      line: 'd1',
      at: [440_010, 4_350_010],
      along: 25 * k,
      left: depth,
      right: depth + 1,
      width: 9.144,
      source: 'elevation',
    })),
    flowDirection: bytes(() => 1),
    accumulation: { frame: FRAME, cells: new Uint32Array(16).fill(1) },
    drainageLines: [
      {
        id: 'd1',
        order: 1,
        path: [[440_001, 4_350_001]],
        length: 91.44,
        catchment: 40_468.564224,
        drop: 3,
        next: 'd3',
      },
      {
        id: 'd2',
        order: 1,
        path: [[440_001, 4_350_001]],
        length: 91.44,
        catchment: 4046.8564224,
        drop: 3,
        next: 'd3',
      },
      {
        id: 'd3',
        order: 2,
        path: [[440_001, 4_350_001]],
        length: 45.72,
        catchment: 50_000,
        drop: 1,
        next: null,
      },
    ],
    forms: bytes(() => 1),
    saddles: [
      {
        id: 's1',
        at: [440_015, 4_350_015],
        elevation: 120,
        rise: 6.096,
        falls: [12.192, 18.288],
        width: null,
      },
    ],
    benches: [],
    ridges: [],
    draws: [],
    contours: [],
    formsLeftOut: { faintSaddles: 0, lesserSaddles: 0, roadBeds: 0 },
    groundDoubts: ['a doubt of the ground'],
    cover: bytes((i) => (i % 4 === 0 ? 1 : 3)),
    canopy: floats(() => 1),
    screening: floats((i) => (i % 4 === 0 ? 0 : Number.NaN)),
    footing: floats(() => 1),
    coverSource: 'imagery',
    coverDoubts: [],
    blocks: ints(),
    coverBlocks: [],
    edgeDistance: floats(() => 0),
    assumptions: [
      {
        key: 'climb',
        label: 'Cost of a metre climbed',
        unit: 'm',
        value: 8.4,
        low: 6,
        high: 11,
        source: 'a paper',
      },
      { key: 'fence', label: 'Fence', unit: 'm', value: 25, low: 10, high: 60, source: 'our assumption' },
    ],
    resistance: floats(() => 1),
    areas: ints(),
    travelAreas: [
      { id: 1, kind: 'bedding', name: 'Briars', source: 'drawn', centre: [440_005, 4_350_005], area: 100 },
      {
        id: 2,
        kind: 'block',
        name: 'Big timber',
        source: 'computed',
        centre: [440_035, 4_350_035],
        area: 100,
      },
    ],
    corridors: [
      {
        id: 'c1',
        from: 1,
        to: 2,
        cost: 100,
        there: 100,
        back: 100,
        length: 45.72,
        path: [],
        share: 0.6,
        band: [],
      },
    ],
    passage: floats(() => 0.5),
    necks: [
      {
        id: 'n1',
        rank: 1,
        at: [440_030, 4_350_020],
        line: [
          [440_030, 4_350_010],
          [440_030, 4_350_030],
        ],
        width: 18.288,
        share: 0.4,
        spread: { low: 0.25, high: 0.5, runs: 8 },
        firm: true,
        pairs: [],
        owner: 'neighbour',
        landmarks: ['saddle', 'inside corner'],
        reasons: ['Timber narrows here.'],
      },
      {
        id: 'n2',
        rank: 2,
        at: [440_010, 4_350_020],
        line: [
          [440_010, 4_350_010],
          [440_010, 4_350_030],
        ],
        width: 36.576,
        share: 0.3,
        spread: { low: 0.001, high: 0.4, runs: 8 },
        firm: false,
        pairs: [],
        owner: 'inside',
        landmarks: [],
        reasons: [],
      },
    ],
    crossings: [
      {
        id: 'x1',
        kind: 'creek',
        feature: 'creek-1',
        at: [440_020, 4_350_020],
        share: 0.3,
        corridors: ['c1'],
        owner: 'on the line',
        reasons: [],
      },
    ],
    junctions: [
      {
        id: 'j1',
        rank: 1,
        at: [440_020, 4_350_020],
        reach: 90,
        share: 0.45,
        arms: [
          { bearing: 10, share: 0.45 },
          { bearing: 130, share: 0.25 },
          { bearing: 250, share: 0.2 },
        ],
        owner: 'inside',
        reasons: [],
      },
    ],
    routes: [
      {
        id: 'r-1',
        from: 'Pines',
        to: 'Beans',
        when: 'any',
        path: [
          [440_000, 4_350_020],
          [440_400, 4_350_020],
        ],
        length: 400,
        minutes: 6,
        share: 0.4,
      },
    ],
    todayTravel: {
      factor: 1,
      costs: {
        resistance: floats(() => 1),
        underfoot: { relief: null, trails: [], trailFactor: 1 },
        east: new Float64Array(0),
        south: new Float64Array(0),
        plain: new Float32Array(0),
        lanes: [],
      },
      areas: new Int32Array(0),
      flow: { frame: floats(() => 1).frame, pairs: [], cutOff: [] },
    },
    sought: { pinches: [], places: [], junctions: [], crossings: [] },
    trials1: [],
    trials2: [],
    trials3: [],
    trials4: [],
    planTravel: {
      necks: [{ id: 'n2', before: 0.3, after: 0.31 }],
      barricades: [
        {
          feature: 'b1',
          name: 'Felled tops',
          at: [440_010, 4_350_010],
          before: 0.2,
          after: 0.02,
          ends: [],
          cheapest: 'round its west end',
          ways: [
            { way: 'round its west end', cost: 80 },
            { way: 'over it', cost: 300 },
            { way: 'under it', cost: null },
          ],
          detour: 80,
          crossing: 300,
          holds: false,
          reasons: ['Deer get by close at hand.'],
        },
      ],
      goal: 'n2',
      closures: [
        {
          id: 'k1',
          path: [
            [440_000, 4_350_000],
            [440_000, 4_350_046],
          ],
          length: 45.72,
          work: 40,
          owner: 'inside',
          leak: 0.05,
          neckAfter: 0.35,
          neckBefore: 0.3,
          effect: null,
          reasons: [],
        },
      ],
      doubts: ['a doubt of the plan'],
    },
    travelDoubts: [],
    coldAir: floats(() => 1),
    poolDepth: floats((i) => (i === 0 || i === 3 ? 1.2 : 0)),
    airSpeed: floats(() => 0.3),
    windSeason: {
      cruising: { season: CRUISING, parts: [morning], notes: ['a doubt of the wind'] },
      year: { season: null, parts: [], notes: [] },
    },
    airBearing: floats(() => 180),
    pools: [],
    carries: [],
    airDoubts: [],
    deerSeason: {
      winds: [
        { wind: 'N', hours: 0.1, into: 0.2, across: 0.5, checks: [] },
        { wind: 'W', hours: 0.4, into: 0.3, across: 0.6, checks: [{ area: 'Pines', distance: 80 }] },
      ],
      bedding: [{ at: [440_100, 4_350_100], checked: 0.31, route: 'r-1', distance: 60 }],
    },
    standReaches: [],
    standRisks: [
      {
        id: 'r1',
        subject: { type: 'stand', id: 'st1', name: 'Oak stand' },
        at: [440_005, 4_350_035],
        level: 'high',
        inPool: true,
        poolDepth: 1.2192,
        carry: [],
        meets: [],
        owner: 'inside',
        verdict: 'Sits in a pool of cold air.',
        reasons: ['Still air stands here.'],
        doubts: ['night only'],
      },
    ],
  };
}
