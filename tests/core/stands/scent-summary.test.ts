import { expect, test } from 'vitest';
import type { PartTable } from '../../../core/air/season.ts';
import { SECTORS } from '../../../core/air/types.ts';
import { COVER } from '../../../core/cover/types.ts';
import type { Feature } from '../../../core/features/feature.ts';
import type { Frame } from '../../../core/grid/frame.ts';
import { proposeBedding } from '../../../core/stands/bedding-proposal.ts';
import type { ScentCase } from '../../../core/stands/scent-study.ts';
import { summarize } from '../../../core/stands/scent-summary.ts';
import type { Route } from '../../../core/travel/types.ts';

const oneCase = (
  part: ScentCase['part'],
  wind: string,
  share: number | null,
  travel: number,
  bearing: number,
  bedding: string[] = [],
): ScentCase => ({
  stand: 's',
  part,
  wind,
  speed: 3,
  share: { share, low: 0, high: 1 },
  cloud: 0,
  air: 'D',
  finding: {
    hangs: false,
    eddying: false,
    followed: 900,
    carry: { usual: 100, low: 50, high: 200 },
    beyond: { usual: false, low: false, high: false },
    bearing,
    travel: { usual: travel, low: travel, high: travel },
    bedding,
    creek: null,
    verdict: '',
  },
});

test('clean hours add up over the winds that spoil nothing, and the turn of the air is seen', () => {
  const cases = [
    oneCase('before sunrise', 'calm', 0.7, 0, 180, ['Thicket']),
    oneCase('before sunrise', 'N', 0.3, 0.01, 180),
    oneCase('midday', 'S', 0.6, 0.02, 10),
    oneCase('midday', 'W', 0.3, 0.4, 90),
    oneCase('midday', 'calm', 0.1, 0, 0),
    oneCase('evening', 'S', 0.9, 0.5, 10),
    oneCase('evening', 'N', 0.1, 0, 180),
  ];
  const { parts, flips, risks } = summarize(cases);
  const of = (name: string) => parts.find(({ part }) => part === name)!;
  expect(of('before sunrise').clean).toBeCloseTo(0.3, 9);
  expect(of('midday').clean).toBeCloseTo(0.7, 9);
  expect(of('midday').good).toEqual(['S', 'calm']);
  expect(of('midday').bad).toEqual(['W']);
  expect(of('evening').clean).toBeCloseTo(0.1, 9);
  expect(of('morning').clean).toBeNull();
  expect(flips).toBe(true);
  expect(risks.join(' ')).toMatch(/drains into bedding \(Thicket\)/);
  expect(risks.join(' ')).toMatch(/flips between morning and evening: .* likeliest evening wind, from S,/);
  expect(risks.join(' ')).toMatch(/only 10% of the evening hours/);
});

test('without a record no share of hours is claimed', () => {
  const { parts } = summarize([oneCase('midday', 'N', null, 0, 180)]);
  expect(parts.every(({ clean }) => clean === null)).toBe(true);
});

test('new bedding is proposed upwind of a trail under the wind that blows, on cover, off the trail', () => {
  const frame: Frame = {
    epsg: 26917,
    west: 0,
    north: 800,
    cellSize: 10,
    width: 80,
    height: 80,
    longitude: -82,
    latitude: 38,
    convergence: 0,
  };
  // Timber on both sides of a trail that runs north through the middle; the wind is from the west.
  const cover = { frame, cells: new Uint8Array(6400).fill(COVER.deciduous) };
  const areas = { frame, cells: new Int32Array(6400) };
  const trail: Route = {
    id: 'trail',
    from: 'a',
    to: 'b',
    when: 'any',
    path: [
      [400, 50],
      [400, 750],
    ],
    length: 700,
    minutes: 10,
    share: 1,
  };
  const west: PartTable = {
    part: 'morning',
    total: 100,
    calms: 10,
    variable: 0,
    sectors: SECTORS.map((name) => ({
      hours: name === 'W' ? 90 : 0,
      share: { share: 0, low: 0, high: 1 },
      speed: 3,
      cloud: null,
    })),
    calmShare: { share: 0.1, low: 0, high: 1 },
    calmCloud: null,
    gustiness: null,
    unsteadiness: null,
    stability: {},
  };
  const proposals = proposeBedding(cover, areas, new Set(), [trail], [west], []);
  expect(proposals).toHaveLength(3);
  for (const { at, checked, route, distance } of proposals) {
    expect(at[0]).toBeLessThan(360);
    expect(at[0]).toBeGreaterThan(240);
    expect(checked).toBeCloseTo(0.9, 9);
    expect(route).toBe('trail');
    expect(Math.abs(distance - (400 - at[0]))).toBeLessThan(1);
  }
  const open = { frame, cells: new Uint8Array(6400).fill(COVER.open) };
  expect(proposeBedding(open, areas, new Set(), [trail], [west], [])).toEqual([]);
  // Nobody proposes bedding beside a house.
  const house: Feature = {
    id: 'h',
    kind: 'building',
    status: 'existing',
    name: null,
    geometry: { type: 'Point', coordinates: [...proposals[0]!.at] },
    attributes: {},
    source: 'drawn',
  };
  for (const { at } of proposeBedding(cover, areas, new Set(), [trail], [west], [house]))
    expect(Math.hypot(at[0] - proposals[0]!.at[0], at[1] - proposals[0]!.at[1])).toBeGreaterThanOrEqual(100);
});
