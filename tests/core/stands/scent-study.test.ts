import { expect, test } from 'vitest';
import { windowRound } from '../../../core/air/near-ground.ts';
import { CRUISING, type DayPart } from '../../../core/air/season.ts';
import { sunriseSunset } from '../../../core/air/sun.ts';
import type { WindRecord } from '../../../core/air/types.ts';
import type { Feature } from '../../../core/features/feature.ts';
import { cellAt, type Frame, type Grid } from '../../../core/grid/frame.ts';
import { airOfCase, scentStudy, seasonAir, WINDS } from '../../../core/stands/scent-study.ts';
import { studySeason } from '../../../core/stands/season-study.ts';
import type { Subject } from '../../../core/stands/subjects.ts';

const frame: Frame = {
  epsg: 26917,
  west: 400_000,
  north: 4_200_000,
  cellSize: 40,
  width: 30,
  height: 25,
  longitude: -82,
  latitude: 38,
  convergence: 0,
};
const gridOf = (height: (x: number, y: number) => number): Grid => ({
  frame,
  cells: Float32Array.from({ length: 750 }, (_, i) =>
    height((i % 30) * 40 + 20, Math.floor(i / 30) * 40 + 20),
  ),
});
// A hollow that runs south; the stand hangs on its west side.
const elevation = gridOf((x, y) => 300 - 0.06 * y + 0.2 * Math.abs(x - 600));
const start = Date.parse('2022-10-20T00:00:00Z') / 3_600_000;
const hours = Int32Array.from({ length: 40 * 24 }, (_, k) => start + k);
const day = (hour: number) => {
  const sun = sunriseSunset(hour, -82, 38)!;
  return hour > sun.rise && hour < sun.set;
};
const record: WindRecord = {
  station: 'invented',
  hours,
  direction: Float32Array.from(hours, (hour) => (day(hour) ? 270 : Number.NaN)),
  speed: Float32Array.from(hours, (hour) => (day(hour) ? 3 : 0)),
  temperature: new Float32Array(hours.length).fill(Number.NaN),
  sky: new Float32Array(hours.length).fill(0),
  notes: [],
};
const inputs = {
  elevation,
  cover: { frame, cells: new Uint8Array(750).fill(1) },
  canopy: gridOf(() => 0),
  poolDepth: gridOf(() => 0),
  wind: record,
  ground: {
    areas: { frame, cells: new Int32Array(750) },
    travelAreas: [],
    routes: [],
    channels: [],
    features: [],
  },
};
const stand: Subject = {
  type: 'stand',
  id: 's',
  name: 'Stand',
  at: [frame.west + 450, frame.north - 400],
  seatHeight: 1.5,
  proposed: false,
};
const noon = Date.parse('2022-11-05T17:00:00Z') / 3_600_000;
const air = seasonAir(inputs, CRUISING, noon, 50);
const cases = scentStudy(stand, inputs, air, 'metric');
const one = (part: string, wind: string) => cases.find((each) => each.part === part && each.wind === wind)!;

test('every part of the day meets 16 winds and the calm', () => {
  expect(cases).toHaveLength(5 * 17);
  for (const part of ['before sunrise', 'morning', 'midday', 'evening', 'night']) {
    const shares = cases.filter((each) => each.part === part).map(({ share }) => share.share ?? 0);
    expect(shares.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 6);
  }
  expect(one('midday', 'W').share.share).toBe(1);
  expect(one('night', 'calm').share.share).toBe(1);
});

test('cells too coarse for a stand say that they show large forms only', () => {
  for (const { finding } of cases) expect(finding.verdict).toMatch(/^Large forms only: /);
});

test('at night the calm carries scent down into the hollow, at midday the wind carries it away', () => {
  const night = one('night', 'calm');
  expect(night.air).toBe('calm drainage');
  // East and down the hollow, which runs south.
  expect(night.finding.bearing).toBeGreaterThan(95);
  expect(night.finding.bearing).toBeLessThan(185);
  const south = one('midday', 'S').finding.bearing;
  expect(Math.min(south, 360 - south)).toBeLessThan(35);
  expect(Math.abs(one('midday', 'N').finding.bearing - 180)).toBeLessThan(35);
});

test('a pool stills the air over it at night and at dawn, not before it has gathered', () => {
  const pooled = { ...inputs, poolDepth: gridOf(() => 40) };
  const window = windowRound(frame, stand.at, 400);
  const calm = WINDS.indexOf('calm');
  const speed = (part: DayPart, of: typeof inputs) => {
    const { near } = airOfCase(air, of, window, part, calm);
    const i = cellAt(near.field.frame, ...stand.at);
    return Math.hypot(near.field.east[i]!, near.field.south[i]!);
  };
  for (const part of ['before sunrise', 'night'] as const) {
    expect(speed(part, inputs)).toBeGreaterThan(0.1);
    expect(speed(part, pooled)).toBe(0);
  }
  expect(speed('evening', pooled)).toBe(speed('evening', inputs));
});

test('without a record every wind is taken alike, and that is said', () => {
  const bare = seasonAir({ ...inputs, wind: null }, CRUISING, noon, 50);
  expect(bare.notes.join(' ')).toMatch(/No wind record/);
  expect(bare.parts).toBeNull();
});

test('the whole season in one call: a summary for each stand, and small tables only', () => {
  const features: Feature[] = [
    {
      id: 's',
      kind: 'stand',
      status: 'existing',
      name: 'Stand',
      geometry: { type: 'Point', coordinates: stand.at },
      attributes: { seatHeight: 1.5 },
      source: 'drawn',
    },
  ];
  const study = studySeason(
    { ...inputs, ground: { ...inputs.ground, features }, necks: [] },
    { cooling: 50, units: 'us' },
  );
  expect(study.summaries.map((each) => each.stand)).toEqual(['s']);
  expect(study.cases).toHaveLength(85);
  const night = study.cases.find((each) => each.part === 'night' && each.wind === 'calm')!;
  expect(Math.abs(night.finding.bearing - one('night', 'calm').finding.bearing)).toBeLessThan(2);
  // Plain data that a message or a file can carry.
  expect(JSON.parse(JSON.stringify(study))).toEqual(study);
});
