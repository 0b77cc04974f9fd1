import { expect, test } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import type { Point } from '../../../core/grid/frame.ts';
import { concealmentOf } from '../../../core/stands/concealment.ts';
import { clearDirections, lanesToCut } from '../../../core/stands/lanes.ts';
import { reachOf } from '../../../core/stands/look.ts';
import { hasClear, type Passable } from '../../../core/stands/reach.ts';
import { frameOf, sightGround, standAt } from './scene.ts';

const frame = frameOf(120, 120, 1);
const route = (id: string, share: number, ...path: Point[]): Passable => ({ kind: 'route', id, share, path });

test('the longest clear line of each direction ends where brush has taken half of the view', () => {
  // Brush from 6 m on, all round, leaves on: Beer's law leaves half after ln(0.5) / ln(0.88) = 5.4 m of it.
  const ground = sightGround(
    frame,
    () => 100,
    (x, y) => (Math.hypot(x - 60.5, y - 60.5) > 6 ? COVER.brush : COVER.open),
  );
  const { grid } = reachOf(standAt(60.5, 60.5, { seatHeight: 0.4 }), ground, 'on');
  const directions = clearDirections(grid);
  expect(directions).toHaveLength(36);
  for (const { clear, ends } of directions) {
    expect(ends).toBe('cover');
    expect(clear).toBeGreaterThan(9.5);
    expect(clear).toBeLessThan(13);
  }
});

test('a lane goes where it opens most travel for the least cutting, and nowhere when all is open', () => {
  // Two routes pass north in brush, 20 m off; one passes south behind much more of it.
  const cover = (_: number, y: number) => (y > 71 || y < 58 ? COVER.brush : COVER.open);
  const routes = [
    route('north a', 0.2, [20, 80.5], [100, 80.5]),
    route('north b', 0.1, [60, 79], [60.2, 83]),
    route('south', 0.1, [20, 35], [100, 35]),
  ];
  const spot = standAt(60.5, 60.5, { seatHeight: 0.2 });
  const { grid, window } = reachOf(
    spot,
    sightGround(frame, () => 100, cover),
    'on',
  );
  const [first, second, ...more] = lanesToCut(grid, window, routes, 2, 'us');
  expect(more).toEqual([]);
  expect(first!.bearing === 358 || first!.bearing === 0).toBe(true);
  // Both northern routes are 0.3 of 0.4 of all travel; the farther one is met where they part at the latest.
  expect(first!.gains).toBeCloseTo(0.75, 9);
  // Brush begins 10.5 m off; a lane to 80.5 cuts 9.5 m of it, 2 m wide.
  expect(first!.cut).toBeCloseTo(9.5, 0);
  expect(first!.area).toBeCloseTo(first!.cut * 2, 9);
  expect(second!.gains).toBeCloseTo(0.25, 9);
  expect(second!.cut).toBeGreaterThan(20);

  const open = reachOf(
    spot,
    sightGround(frame, () => 100),
    'on',
  );
  expect(lanesToCut(open.grid, open.window, routes, 2, 'us')).toEqual([]);
});

test('no lane is cut through a hill', () => {
  const hill = (_: number, y: number) => (y > 70 && y < 74 ? 108 : 100);
  const { grid, window } = reachOf(standAt(60.5, 60.5, { seatHeight: 1 }), sightGround(frame, hill), 'on');
  const behind = route('behind', 1, [20, 80.5], [100, 80.5]);
  expect(hasClear(grid, [60.5, 80.5])).toBe(false);
  expect(lanesToCut(grid, window, [behind], 2, 'us')).toEqual([]);
});

test('a hunter on a bare crest stands against the sky, one before timber or below a slope does not', () => {
  const south = route('south', 1, [40, 40], [80, 40]);
  const look = (height: (x: number, y: number) => number, cover: (x: number, y: number) => number) => {
    const spot = standAt(60.5, 60.5, { seatHeight: 0.5 });
    const { window } = reachOf(spot, sightGround(frame, height, cover), 'off');
    return concealmentOf(window, spot, [south], 40);
  };
  const open = () => COVER.open;
  const crest = look((_, y) => 100 - Math.abs(y - 60) * 0.2, open);
  expect(crest.skylined).toBeGreaterThan(0.9);
  expect(crest.seen).toBeGreaterThan(0.9);
  expect(crest.directions.every(({ bearing }) => bearing > 90 && bearing < 270)).toBe(true);

  const slope = look((_, y) => 100 + Math.max(0, y - 62) * 0.6, open);
  expect(slope.skylined).toBe(0);
  expect(slope.directions.every(({ backing }) => backing === 1)).toBe(true);

  const timber = look(
    () => 100,
    (_, y) => (y > 62 ? COVER.evergreen : COVER.open),
  );
  expect(timber.skylined).toBe(0);
  expect(timber.directions.every(({ backing }) => backing > 0.8)).toBe(true);
  expect(timber.seen).toBeGreaterThan(0.9);
});
