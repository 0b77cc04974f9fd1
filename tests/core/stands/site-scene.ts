import { CRUISING } from '../../../core/air/season.ts';
import type { WindRecord } from '../../../core/air/types.ts';
import type { Feature } from '../../../core/features/feature.ts';
import type { Point } from '../../../core/grid/frame.ts';
import { DEFAULT_HUNT } from '../../../core/stands/hunt-settings.ts';
import { makeWinds, seasonAir, WINDS } from '../../../core/stands/scent-study.ts';
import { DEFAULT_STANDS } from '../../../core/stands/settings.ts';
import type { SiteGround, SiteRules, SiteWish } from '../../../core/stands/site-ground.ts';
import type { Route } from '../../../core/travel/types.ts';
import { box, feature, frameOf, gridOf, point, sightGround } from './scene.ts';

// Level open ground of 480 m; the client owns a strip in its west. Deer come from the north at dusk on two trails: the
// busier one on the neighbour's side. The wind is mostly from the west.
export const frame = frameOf(24, 24, 20);
export const at = (x: number, y: number): Point => [x, y];
const hours = Int32Array.from(
  { length: 40 * 24 },
  (_, k) => Date.parse('2022-10-20T00:00:00Z') / 3_600_000 + k,
);
const wind: WindRecord = {
  station: 'invented',
  hours,
  direction: Float32Array.from(hours, (hour) => (Math.floor((hour - 17) / 24) % 5 === 0 ? 90 : 270)),
  speed: new Float32Array(hours.length).fill(4),
  temperature: new Float32Array(hours.length).fill(Number.NaN),
  sky: new Float32Array(hours.length).fill(8),
  notes: [],
};
const route = (id: string, path: Point[], share: number): Route => ({
  id,
  from: 'Bed',
  to: 'Field',
  when: 'dusk',
  path,
  length: 1,
  minutes: 1,
  share,
});
const routes = [
  route('over the line', [at(410, 470), at(410, 10)], 0.5),
  route('trail', [at(150, 470), at(150, 10)], 0.3),
  route('side trail', [at(30, 300), at(150, 200), at(150, 10)], 0.2),
];
export const features: Feature[] = [
  feature('boundary', box(80, 100, 220, 380), {}),
  feature('access', point(210, 240), {}),
];
export const ground: SiteGround = {
  ...sightGround(frame, () => 200),
  canopy: gridOf(frame, () => 0),
  poolDepth: gridOf(frame, () => 0),
  airBearing: gridOf(frame, () => Number.NaN),
  wind,
  areas: { frame, cells: new Int32Array(24 * 24) },
  travelAreas: [],
  channels: [],
  corridors: [],
  necks: [
    {
      id: 'neck-1',
      rank: 1,
      at: at(410, 240),
      line: [at(400, 240), at(420, 240)],
      width: 20,
      share: 0.5,
      spread: { low: 0.4, high: 0.6, runs: 8 },
      firm: true,
      pairs: [],
      owner: 'neighbour',
      landmarks: [],
      reasons: [],
    },
  ],
  junctions: [],
  routes,
  walked: routes,
  features,
};
const lawful = { 'before sunrise': 0, morning: 0, midday: 0, evening: 28 };
export const rules: SiteRules = {
  hunt: { ...DEFAULT_HUNT, alarm: 0.6 },
  settings: DEFAULT_STANDS,
  way: {
    mode: 'foot',
    allowNeighbour: false,
    dryLeaves: false,
    from: null,
    legs: { pace: 1, longest: null },
  },
  lawful,
  units: 'us',
  rough: { particles: 200, winds: ['W', 'E'].map((name) => WINDS.indexOf(name)) },
};
export const wish: SiteWish = { seat: 'any', weapon: 'bow', range: 45, count: 3, stands: [], within: null };
export const air = seasonAir(ground, CRUISING, Date.parse('2022-11-05T17:00:00Z') / 3_600_000, 50);
makeWinds(air, ['evening'], 0, () => {});
