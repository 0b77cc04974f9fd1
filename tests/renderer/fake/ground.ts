import { contours as contourMaker } from 'd3-contour';
import type { FeatureCollection, Geometry } from 'geojson';
import type { FrameSummary } from '../../../electron/service/contract.ts';

/** A small made-up landscape for the window's own tests: a ridge with one saddle and a draw on either side. */

export const FRAME: FrameSummary = {
  epsg: 32616,
  west: 570_000,
  north: 4_365_000,
  cellSize: 6,
  width: 400,
  height: 320,
  longitude: -86.175,
  latitude: 39.4236,
  convergence: 0.524,
  proj4: '+proj=utm +zone=16 +datum=WGS84 +units=m +no_defs',
};

/** Elevation at column and row, m. */
export function elevation(column: number, row: number): number {
  const u = column / FRAME.width;
  const v = row / FRAME.height;
  const ridge = 60 * Math.exp(-(((v - 0.35 - 0.12 * Math.sin(u * 4)) / 0.13) ** 2));
  const saddle = -26 * Math.exp(-(((u - 0.55) / 0.07) ** 2) - ((v - 0.42) / 0.2) ** 2);
  const spurs = 14 * Math.sin(u * 21) * Math.exp(-(((v - 0.55) / 0.2) ** 2));
  const creek = -9 * Math.exp(-(((v - 0.8 - 0.03 * Math.sin(u * 9)) / 0.02) ** 2));
  return 210 + 45 * (1 - v) + ridge + saddle + spurs + creek;
}

export const at = (column: number, row: number): [number, number] => [
  FRAME.west + column * FRAME.cellSize,
  FRAME.north - row * FRAME.cellSize,
];

const line = (...cells: [number, number][]): [number, number][] => cells.map(([c, r]) => at(c, r));
const collection = (rows: [string | number, Geometry, object][]): FeatureCollection => ({
  type: 'FeatureCollection',
  features: rows.map(([id, geometry, properties]) => ({
    type: 'Feature',
    id,
    geometry,
    properties: { id, ...properties },
  })),
});

function contours(): FeatureCollection {
  const { width, height } = FRAME;
  const cells = Array.from({ length: width * height }, (_, i) => elevation(i % width, Math.floor(i / width)));
  const levels = Array.from({ length: 30 }, (_, i) => 195 + i * 5);
  return collection(
    contourMaker()
      .size([width, height])
      .thresholds(levels)(cells)
      .map((shape) => [
        `contour ${shape.value}`,
        {
          type: 'MultiLineString',
          coordinates: shape.coordinates.flat().map((ring) => ring.map(([c, r]) => at(c!, r!))),
        },
        { elevation: shape.value, index: shape.value % 25 === 0 },
      ]),
  );
}

const ring = (c: number, r: number, rx: number, ry: number): [number, number][] =>
  Array.from({ length: 25 }, (_, i) =>
    at(c + rx * Math.cos((i * Math.PI) / 12), r + ry * Math.sin((i * Math.PI) / 12)),
  );

const NECKS: [number, number, number, number, boolean, string[], string][] = [
  [220, 148, 42, 0.41, true, ['saddle'], 'inside'],
  [148, 205, 28, 0.22, true, ['inside corner', 'draw'], 'inside'],
  [300, 230, 19, 0.15, false, ['creek bend'], 'on the line'],
  [330, 120, 61, 0.11, true, ['bench'], 'neighbour'],
  [90, 150, 35, 0.08, false, [], 'inside'],
];

export const TABLE_ROWS: Record<string, () => FeatureCollection> = {
  contours,
  drainage: () =>
    collection([
      [
        'd1',
        { type: 'LineString', coordinates: line([10, 262], [80, 258], [160, 252], [240, 262], [390, 255]) },
        { order: 3 },
      ],
      ['d2', { type: 'LineString', coordinates: line([180, 170], [172, 200], [160, 252]) }, { order: 1 }],
      ['d3', { type: 'LineString', coordinates: line([268, 180], [262, 215], [240, 262]) }, { order: 2 }],
    ]),
  channels: () =>
    collection([
      [
        'ch1',
        { type: 'Point', coordinates: at(80, 258) },
        { line: 'd1', along: 420, left: 1.2, right: 1.9, width: 20, source: 'elevation' },
      ],
      [
        'ch2',
        { type: 'Point', coordinates: at(240, 262) },
        { line: 'd1', along: 1400, left: 2.4, right: 2.1, width: 26, source: 'elevation' },
      ],
      [
        'ch3',
        { type: 'Point', coordinates: at(172, 200) },
        { line: 'd2', along: 190, left: null, right: null, width: null, source: 'cells too coarse' },
      ],
    ]),
  junctions: () =>
    collection([
      [
        'j1',
        { type: 'Point', coordinates: at(180, 140) },
        {
          rank: 1,
          at: at(180, 140),
          reach: 60,
          share: 0.52,
          arms: [
            { bearing: 20, share: 0.3 },
            { bearing: 135, share: 0.4 },
            { bearing: 268, share: 0.22 },
          ],
          owner: 'inside',
          reasons: ['Two draws meet the bench here.'],
        },
      ],
    ]),
  routes: () =>
    collection([['w1', { type: 'LineString', coordinates: line([120, 110], [180, 140], [280, 280]) }, {}]]),
  ridges: () =>
    collection([
      ['r1', { type: 'LineString', coordinates: line([20, 118], [120, 140], [220, 140], [380, 90]) }, {}],
    ]),
  draws: () => collection([]),
  saddles: () =>
    collection([
      [
        's1',
        { type: 'Point', coordinates: at(220, 140) },
        { at: at(220, 140), elevation: 262, rise: 21, falls: [18, 24], width: 44 },
      ],
    ]),
  benches: () =>
    collection([
      [
        'b1',
        { type: 'Polygon', coordinates: [ring(330, 125, 28, 8)] },
        { length: 310, width: 60, area: 15000, slopeAbove: 19, slopeBelow: 23, centre: at(330, 125) },
      ],
    ]),
  blocks: () =>
    collection([
      [1, { type: 'Polygon', coordinates: [ring(120, 110, 90, 60)] }, { area: 520_000 }],
      [2, { type: 'Polygon', coordinates: [ring(310, 130, 80, 60)] }, { area: 430_000 }],
    ]),
  areas: () =>
    collection([
      [1, { type: 'Point', coordinates: at(120, 110) }, { kind: 'bedding', name: 'North bedding' }],
      [2, { type: 'Point', coordinates: at(280, 280) }, { kind: 'food', name: 'Bottom field' }],
    ]),
  corridors: () =>
    collection([
      [
        'c1',
        { type: 'LineString', coordinates: line([120, 110], [180, 140], [220, 148], [260, 190], [280, 280]) },
        { share: 0.41 },
      ],
      [
        'c2',
        { type: 'LineString', coordinates: line([120, 110], [140, 160], [148, 205], [200, 250], [280, 280]) },
        { share: 0.22 },
      ],
    ]),
  necks: () =>
    collection(
      NECKS.map(([c, r, width, share, firm, landmarks, owner], i) => [
        `neck-${i + 1}`,
        { type: 'LineString', coordinates: [at(c - 4, r), at(c + 4, r + 3)] },
        {
          rank: i + 1,
          at: at(c, r + 1.5),
          line: [at(c - 4, r), at(c + 4, r + 3)],
          width,
          share,
          firm,
          spread: { low: share * 0.8, high: share * 1.15, runs: 8 },
          landmarks,
          owner,
          pairs: [{ from: 'North bedding', to: 'Bottom field', share }],
          reasons: [
            'The saddle is the lowest way over the ridge for half a mile.',
            'Open ground on both sides pushes travel into the timber.',
          ],
        },
      ]),
    ),
  crossings: () =>
    collection([
      [
        'x1',
        { type: 'Point', coordinates: at(262, 250) },
        {
          at: at(262, 250),
          kind: 'creek',
          feature: 'Mill Creek',
          share: 0.31,
          owner: 'inside',
          corridors: ['c1'],
          reasons: ['The bank is lowest here.'],
        },
      ],
    ]),
  pools: () =>
    collection([
      [
        'p1',
        { type: 'Point', coordinates: at(170, 245) },
        { at: at(170, 245), depth: 2.4, area: 9000, volume: 14000, sill: at(180, 252), sillElevation: 214 },
      ],
    ]),
  carries: () =>
    collection([
      [
        'stand-1',
        { type: 'LineString', coordinates: line([216, 150], [205, 180], [185, 215], [170, 245]) },
        { ends: 'pool' },
      ],
    ]),
  'stand-risks': () =>
    collection([
      [
        'stand-1',
        { type: 'Point', coordinates: at(216, 150) },
        {
          at: at(216, 150),
          subject: { type: 'stand', id: 'f-stand', name: 'Saddle stand' },
          level: 'high',
          inPool: false,
          poolDepth: 0,
          carry: line([216, 150], [170, 245]),
          meets: ['the north bedding', 'the second neck'],
          owner: 'inside',
          verdict: 'Night air carries scent down the draw through the bedding and into the pool.',
          reasons: ['The draw below the stand drains to the pool.'],
          doubts: ['Thermals after sunrise are not computed.'],
        },
      ],
    ]),
};

export const firstFeatures = (): FeatureCollection =>
  collection([
    [
      'f-boundary',
      { type: 'Polygon', coordinates: [[...line([60, 60], [340, 70], [350, 290], [50, 280], [60, 60])]] },
      { kind: 'boundary', status: 'existing', name: 'Boundary', attributes: {}, source: 'boundary.geojson' },
    ],
    [
      'f-fence',
      { type: 'LineString', coordinates: line([70, 220], [140, 225], [210, 240]) },
      {
        kind: 'fence',
        status: 'existing',
        name: null,
        attributes: { height: 1.2 },
        source: 'features.geojson',
      },
    ],
    [
      'f-road',
      { type: 'LineString', coordinates: line([0, 300], [200, 296], [400, 305]) },
      {
        kind: 'road',
        status: 'existing',
        name: 'County road',
        attributes: { class: 'county' },
        source: 'features.geojson',
      },
    ],
    [
      'f-barricade',
      { type: 'LineString', coordinates: line([235, 165], [252, 172]) },
      { kind: 'barricade', status: 'proposed', name: null, attributes: {}, source: 'drawn' },
    ],
    [
      'f-stand',
      { type: 'Point', coordinates: at(216, 150) },
      {
        kind: 'stand',
        status: 'existing',
        name: 'Saddle stand',
        attributes: { seatHeight: 5 },
        source: 'features.geojson',
      },
    ],
  ]);
