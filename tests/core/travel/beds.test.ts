import { describe, expect, it } from 'vitest';
import { prevailingByDay } from '../../../core/air/prevailing.ts';
import { DAY_PARTS } from '../../../core/air/types.ts';
import { COVER } from '../../../core/cover/types.ts';
import type { Feature } from '../../../core/features/feature.ts';
import { LANDFORM } from '../../../core/terrain/types.ts';
import { findAreas } from '../../../core/travel/areas.ts';
import { type BedGround, findBeds, WIND_UNKNOWN } from '../../../core/travel/beds.ts';
import { box, feature, frameOf, gridOf, line } from './scene.ts';

const frame = frameOf(200, 200, 5);
const at = (x: number, y: number, [cx, cy]: readonly number[], reach: number): boolean =>
  Math.hypot(x - cx!, y - cy!) < reach;
const codes = (value: (x: number, y: number) => number) => ({
  frame,
  cells: Uint8Array.from(gridOf(frame, value).cells),
});

/** A ridge from west to east: 20 degrees up to it from the south, and down again to the north. */
const ridge = (_: number, y: number): number => 180 - Math.tan(Math.PI / 9) * Math.abs(y - 500);
const SOUTH = [500, 250] as const;
const NORTH = [500, 750] as const;
const thickets = (x: number, y: number): number =>
  at(x, y, SOUTH, 70) || at(x, y, NORTH, 70) ? COVER.brush : COVER.open;

const ground = (over: Partial<BedGround> = {}): BedGround => ({
  cover: codes(thickets),
  screening: gridOf(frame, () => Number.NaN),
  forms: codes(() => LANDFORM.slope),
  elevation: gridOf(frame, ridge),
  resistance: gridOf(frame, () => 1),
  features: [],
  wind: null,
  date: null,
  ...over,
});
const near = (bed: { at: readonly number[] } | undefined, spot: readonly number[]): boolean =>
  Math.hypot(bed!.at[0]! - spot[0]!, bed!.at[1]! - spot[1]!) < 70;
const scoreAt = (given: BedGround, spot: readonly number[]): number =>
  findBeds(given).find((bed) => near(bed, spot))?.score ?? 0;

describe('likely beds (common practice, no source)', () => {
  it('lie with the wind at their back: on the north face in a south wind and on the south face in a north wind', () => {
    const north = ground({ wind: { from: 180, share: 0.5 } });
    expect(near(findBeds(north)[0], NORTH)).toBe(true);
    expect(scoreAt(north, NORTH)).toBeGreaterThan(scoreAt(north, SOUTH) + 0.1);
    const south = ground({ wind: { from: 0, share: 0.5 } });
    expect(near(findBeds(south)[0], SOUTH)).toBe(true);
    expect(findBeds(south)[0]!.reasons.join(' ')).toContain(
      'It falls to the south, with the prevailing wind at its back (50% of the hours).',
    );
    // A wind along the ridge favours neither.
    const along = ground({ wind: { from: 90, share: 0.5 } });
    expect(scoreAt(along, NORTH)).toBeCloseTo(scoreAt(along, SOUTH), 2);
  });

  it('say that the wind is unknown, and do not use it', () => {
    const beds = findBeds(ground());
    expect(beds).toHaveLength(2);
    expect(beds[0]!.score).toBeCloseTo(beds[1]!.score, 2);
    for (const { reasons } of beds) expect(reasons).toContain(WIND_UNKNOWN);
    expect(
      findBeds(ground({ wind: { from: 0, share: 0.5 } })).flatMap(({ reasons }) => reasons),
    ).not.toContain(WIND_UNKNOWN);
  });

  it('lie on south faces in winter and no more there than elsewhere at other times', () => {
    expect(near(findBeds(ground({ date: '01-10' }))[0], SOUTH)).toBe(true);
    expect(findBeds(ground({ date: '01-10' }))[0]!.reasons).toContain('It faces the winter sun.');
    const summer = ground({ date: '07-10' });
    expect(scoreAt(summer, NORTH)).toBeCloseTo(scoreAt(summer, SOUTH), 2);
    // By true south: where grid north lies 60 degrees east of true north, the face to grid south-east does.
    const turned = { ...frame, convergence: 90 };
    const west = gridOf(turned, (x) => 180 - Math.tan(Math.PI / 9) * Math.abs(x - 500));
    const beds = findBeds({
      ...ground({ date: '01-10' }),
      elevation: west,
      cover: codes((x, y) =>
        at(x, y, [300, 500], 70) || at(x, y, [700, 500], 70) ? COVER.brush : COVER.open,
      ),
    });
    // A slope to grid east (90 degrees) then faces 90 + 90 = 180 degrees from true north.
    expect(near(beds[0], [700, 500])).toBe(true);
  });

  it('lie on benches and points, and where they look down on the ground below', () => {
    const bench = ground({
      forms: codes((x, y) => (at(x, y, NORTH, 60) ? LANDFORM.bench : LANDFORM.slope)),
    });
    expect(near(findBeds(bench)[0], NORTH)).toBe(true);
    expect(findBeds(bench)[0]!.reasons).toContain('It lies on a bench or a point.');
    // A wall stands close below the southern one of two small thickets.
    const small = codes((x, y) => (at(x, y, SOUTH, 45) || at(x, y, NORTH, 45) ? COVER.brush : COVER.open));
    const walled = ground({
      cover: small,
      elevation: gridOf(frame, (x, y) => ridge(x, y) + (y > 185 && y < 203 ? 80 : 0)),
    });
    expect(scoreAt(walled, SOUTH)).toBeLessThan(scoreAt(walled, NORTH) - 0.03);
  });

  it('lie in thick cover only, on ground that can be lain on, away from buildings and public roads', () => {
    expect(findBeds(ground({ cover: codes(() => COVER.open) }))).toEqual([]);
    const thin = gridOf(frame, (_, y) => (y > 500 ? 0.2 : 0.9));
    const beds = findBeds(ground({ screening: thin }));
    expect(beds).toHaveLength(1);
    expect(near(beds[0], SOUTH)).toBe(true);
    for (const { cells } of beds)
      for (const cell of cells) expect(ground().cover.cells[cell]).toBe(COVER.brush);
    const cliff = gridOf(frame, (x, y) => 2 * ridge(x, y));
    expect(findBeds(ground({ elevation: cliff }))).toEqual([]);
    const house = feature('building', box(495, 245, 505, 255));
    const road = feature('road', line([0, 750], [1000, 750]), { class: 'county' });
    const track = feature('road', line([0, 750], [1000, 750]), { class: 'track' });
    expect(findBeds(ground({ features: [house, road] }))).toEqual([]);
    expect(findBeds(ground({ features: [house, track] }))).toHaveLength(1);
  });

  it('are few and well apart in a wide thicket', () => {
    const beds = findBeds(ground({ cover: codes(() => COVER.brush) }));
    expect(beds.length).toBeGreaterThan(3);
    expect(beds.length).toBeLessThanOrEqual(6);
    for (const a of beds)
      for (const b of beds)
        if (a !== b) expect(Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1])).toBeGreaterThanOrEqual(250);
  });
});

describe('areas of travel', () => {
  const areas = (features: Feature[]) =>
    findAreas({
      frame,
      features,
      blocks: { frame, cells: new Int32Array(40_000) },
      coverBlocks: [],
      edgeDistance: gridOf(frame, () => Number.NaN),
      benches: [],
      beds: findBeds(ground({ wind: { from: 0, share: 0.5 } })),
      resistance: gridOf(frame, () => 1),
    }).table;

  it('take likely beds for bedding, with their reasons', () => {
    const beds = areas([]).filter(({ kind }) => kind === 'bedding');
    expect(beds.map(({ name, source }) => [name, source])).toEqual([
      ['Likely bedding 1 (south)', 'computed'],
      ['Likely bedding 2 (north)', 'computed'],
    ]);
    expect(beds[0]!.reasons!.length).toBeGreaterThan(1);
    // Two are few, so travel also comes from beyond the map.
    expect(areas([]).some(({ kind }) => kind === 'edge')).toBe(true);
  });

  it('leave them aside where the user has drawn bedding', () => {
    const own = areas([feature('bedding', box(100, 100, 160, 160))]);
    expect(own.filter(({ kind }) => kind === 'bedding').map(({ source }) => source)).toEqual(['drawn']);
  });
});

describe('the prevailing wind by day', () => {
  const table = (hours: (sector: number, part: string) => number) => ({
    parts: DAY_PARTS.map((part) => {
      const sectors = Array.from({ length: 16 }, (_, k) => ({
        hours: hours(k, part),
        share: { share: null, low: 0, high: 1 },
        speed: null,
        cloud: null,
      }));
      return {
        part,
        total: sectors.reduce((sum, sector) => sum + sector.hours, 0) + 10,
        calms: 10,
        variable: 0,
        sectors,
        calmShare: { share: null, low: 0, high: 1 },
        calmCloud: null,
        gustiness: null,
        unsteadiness: null,
        stability: {},
      };
    }),
  });

  it('is the middle of the three sectors with most hours, recounted by hand, nights left out', () => {
    // By day 40, 60 and 20 hours from sectors 9 to 11, 30 from 2; by night all from the east.
    const day: Record<number, number> = { 9: 40, 10: 60, 11: 20, 2: 30 };
    const found = prevailingByDay(
      table((k, part) => (part === 'night' ? (k === 4 ? 999 : 0) : (day[k] ?? 0))),
      0,
    )!;
    expect(found.from).toBe(225);
    expect(found.share).toBeCloseTo(120 / 160, 9);
  });

  it('is told from grid north', () => {
    expect(
      prevailingByDay(
        table((k) => (k === 0 ? 50 : 0)),
        3,
      )!.from,
    ).toBe(357);
  });

  it('is none where nothing was counted or no side leads', () => {
    expect(
      prevailingByDay(
        table(() => 20),
        0,
      ),
    ).toBeNull();
    expect(prevailingByDay({ parts: [] }, 0)).toBeNull();
  });
});
