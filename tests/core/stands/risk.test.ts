import { expect, test } from 'vitest';
import type { Carry, Pool } from '../../../core/air/types.ts';
import type { Feature } from '../../../core/features/feature.ts';
import type { Frame, Grid, Point } from '../../../core/grid/frame.ts';
import { meetingsAlong, type Travelled } from '../../../core/stands/meetings.ts';
import { standRisk } from '../../../core/stands/risk.ts';
import { type Subject, standSubjects } from '../../../core/stands/subjects.ts';
import { type ChannelStation, LANDFORM } from '../../../core/terrain/types.ts';
import type { Neck } from '../../../core/travel/types.ts';

const frameOf = (cellSize: number): Frame => ({
  epsg: 26917,
  west: 0,
  north: 1000,
  cellSize,
  width: 1000 / cellSize,
  height: 1000 / cellSize,
  longitude: -82,
  latitude: 38,
  convergence: 0,
});
const frame = frameOf(5);
const grid = (of: Frame, value: number): Grid => ({
  frame: of,
  cells: new Float32Array(of.width * of.height).fill(value),
});
const areas = { frame, cells: new Int32Array(40_000) };
const forms = { frame, cells: new Uint8Array(40_000).fill(LANDFORM.slope) };
for (let row = 0; row < 200; row++) {
  for (let column = 0; column < 200; column++) {
    if (column >= 60 && column < 70) areas.cells[row * 200 + column] = 1; // 300 to 350 m east
    if (column >= 100 && column < 104) forms.cells[row * 200 + column] = LANDFORM.creekBottom; // 500 to 520 m
  }
}
const neck = (id: string, rank: number, at: Point): Neck => ({
  id,
  rank,
  at,
  line: [
    [at[0], at[1] - 10],
    [at[0], at[1] + 10],
  ],
  width: 20,
  share: 0.2,
  spread: { low: 0.1, high: 0.3, runs: 8 },
  firm: true,
  pairs: [],
  owner: 'inside',
  landmarks: [],
  reasons: [],
});
const travelled: Travelled = {
  areas,
  forms,
  channels: [],
  features: [],
  travelAreas: [
    { id: 1, kind: 'bedding', name: 'Oak thicket', source: 'drawn', centre: [325, 500], area: 1 },
    { id: 2, kind: 'food', name: 'Corn', source: 'drawn', centre: [900, 900], area: 1 },
  ],
  corridors: [
    {
      id: 'c1',
      from: 1,
      to: 2,
      cost: 1,
      there: 1,
      back: 1,
      length: 1,
      path: [
        [200, 400],
        [200, 600],
      ],
      share: 0.4,
    },
  ],
  necks: [neck('n1', 1, [100, 500]), neck('n2', 2, [420, 500])],
};
const carry = (more: Partial<Carry> = {}): Carry => ({
  from: [100, 500],
  path: [
    [100, 500],
    [560, 500],
  ],
  length: 460,
  layerDepth: 3,
  speed: 0.8,
  ends: 'map edge',
  pool: null,
  spills: null,
  ...more,
});
const subject: Subject = {
  type: 'stand',
  id: 's',
  name: 'Stand',
  at: [100, 500],
  seatHeight: 5,
  proposed: false,
};
const dry = { poolDepth: grid(frame, 0), pools: [] as Pool[] };

test('what the scent meets comes in the order it gets there, at the right distance', () => {
  const met = meetingsAlong(carry().path, 500, travelled, 's');
  expect(met.map(({ name }) => name)).toEqual([
    'the travel between Oak thicket and Corn',
    'Oak thicket',
    'neck 2',
    'the creek bottom',
  ]);
  // Corridor at 100 m less 15 m of nearness, bedding at 200 m, neck at 320 less 15, creek bottom at 400 m.
  const wanted = [85, 200, 305, 400];
  met.forEach(({ after }, k) => {
    expect(Math.abs(after - wanted[k]!)).toBeLessThanOrEqual(5);
  });
  expect(Math.abs(met[1]!.length - 50)).toBeLessThanOrEqual(6);
});

test('nothing beyond the reach of scent counts', () => {
  expect(meetingsAlong(carry().path, 150, travelled, 's').map(({ kind }) => kind)).toEqual(['corridor']);
});

test('levels: bedding on the way is high, travel alone caution, nothing low', () => {
  expect(standRisk(subject, carry(), dry, travelled, 'us').level).toBe('high');
  const short = carry({
    path: [
      [100, 500],
      [240, 500],
    ],
    length: 140,
  });
  expect(standRisk(subject, short, dry, travelled, 'us').level).toBe('caution');
  const away = carry({
    path: [
      [100, 500],
      [20, 500],
    ],
    length: 80,
  });
  const low = standRisk(subject, away, dry, travelled, 'us');
  expect(low.level).toBe('low');
  expect(low.verdict).toBe(
    'Scent runs 87 yd down the drainage off the map; meets no expected travel within 87 yd.',
  );
  expect(low.doubts.join(' ')).toMatch(/leaves the map after 87 yd/);
});

test('a stand in a pool is high, with the depth as its reason', () => {
  const pool: Pool = {
    id: 'pool-1',
    at: [100, 500],
    depth: 3,
    area: 1,
    volume: 1,
    sill: [0, 0],
    sillElevation: 1,
    full: false,
  };
  const risk = standRisk(
    subject,
    carry({ path: [[100, 500]], length: 0, ends: 'pool', pool: 'pool-1' }),
    { poolDepth: grid(frame, 2), pools: [pool] },
    travelled,
    'metric',
  );
  expect(risk).toMatchObject({ level: 'high', inPool: true, poolDepth: 2 });
  expect(risk.verdict).toBe('Sits in still cold air 2.0 m deep: scent stays and spreads in it.');
});

test('a seat above the sliding layer is said to be so', () => {
  expect(standRisk(subject, carry(), dry, travelled, 'metric').reasons.join(' ')).toMatch(
    /seat at 5.0 m is above the sliding layer/,
  );
  expect(standRisk(subject, carry({ layerDepth: 9 }), dry, travelled, 'metric').reasons.join(' ')).toMatch(
    /seat at 5.0 m is inside the sliding layer/,
  );
});

test('coarse ground and no ground give no level', () => {
  const coarse = frameOf(50);
  const wide: Travelled = {
    ...travelled,
    areas: { frame: coarse, cells: new Int32Array(400) },
    forms: { frame: coarse, cells: new Uint8Array(400) },
  };
  const risk = standRisk(subject, carry(), { poolDepth: grid(coarse, 0), pools: [] }, wide, 'us');
  expect(risk.level).toBe('unknown');
  expect(risk.verdict).toMatch(/^Large forms only: scent runs/);
  expect(risk.doubts.join(' ')).toMatch(/do not show a creek bed/);
  const none = standRisk(
    subject,
    carry(),
    { poolDepth: grid(frame, Number.NaN), pools: [] },
    travelled,
    'us',
  );
  expect(none.level).toBe('unknown');
  expect(none.verdict).toMatch(/nothing can be said/);
});

test('the creek on the way is judged reach by reach', () => {
  const station = (k: number, depth: number | null): ChannelStation => ({
    id: `c${k}`,
    line: 'l',
    at: [400 + 25 * k, 505],
    along: 25 * k,
    left: depth,
    right: depth,
    width: depth === null ? null : 8,
    source: depth === null ? 'cells too coarse' : 'elevation',
  });
  const reasonsWith = (depths: (number | null)[]) =>
    standRisk(
      subject,
      carry(),
      dry,
      { ...travelled, channels: depths.map((d, k) => station(k, d)) },
      'metric',
    ).reasons.join(' ');
  // Banks of 3.4 m hold on a still night, banks of 0.6 m do not: the field lore and where it fails.
  expect(reasonsWith([3.4, 3.4, 3.4])).toMatch(/stays below its banks for 75 m\./);
  expect(reasonsWith([3.4, 3.4, 0.6])).toMatch(
    /stays below its banks for 50 m, until after 350 m: bottom only 0.6 m deep with a 0.5 m\/s cross wind: does not hold/,
  );
  expect(reasonsWith([0.6, 0.6])).toMatch(
    /comes to the creek after 300 m; bottom only 0.6 m deep with a 0.5 m\/s cross wind: does not hold/,
  );
  // A dry draw that no one measured is no creek.
  expect(reasonsWith([null, null])).not.toMatch(/banks|bottom only|tape/);
});

test('ownership is read off the boundary', () => {
  const boundary: Feature = {
    id: 'b',
    kind: 'boundary',
    status: 'existing',
    name: null,
    attributes: {},
    source: 'drawn',
    geometry: {
      type: 'Polygon',
      coordinates: [
        [
          [50, 450],
          [300, 450],
          [300, 550],
          [50, 550],
          [50, 450],
        ],
      ],
    },
  };
  const owned = { ...travelled, features: [boundary] };
  const ownerOf = (at: Point) => standRisk({ ...subject, at }, carry(), dry, owned, 'us').owner;
  expect(ownerOf([100, 500])).toBe('inside');
  expect(ownerOf([301, 500])).toBe('on the line');
  expect(ownerOf([600, 500])).toBe('neighbour');
  expect(standRisk(subject, carry(), dry, travelled, 'us').owner).toBe('unknown');
});

test('stands are taken where there are any, the best necks where there are none', () => {
  const stand = (id: string, status: Feature['status'], at: Point): Feature => ({
    id,
    kind: 'stand',
    status,
    name: id,
    attributes: { seatHeight: 4 },
    source: 'drawn',
    geometry: { type: 'Point', coordinates: at },
  });
  const subjects = standSubjects(
    frame,
    [
      stand('a', 'existing', [10, 10]),
      stand('b', 'proposed', [20, 20]),
      stand('off the map', 'existing', [-5, 5]),
    ],
    travelled.necks,
  );
  expect(subjects.map(({ id, proposed }) => [id, proposed])).toEqual([
    ['a', false],
    ['b', true],
  ]);
  const many = Array.from({ length: 9 }, (_, k) => neck(`n${k}`, 9 - k, [10 * k + 5, 500]));
  expect(standSubjects(frame, [], many).map(({ name }) => name)).toEqual([
    'Neck 1',
    'Neck 2',
    'Neck 3',
    'Neck 4',
    'Neck 5',
  ]);
});
