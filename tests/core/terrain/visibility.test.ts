import { describe, expect, test } from 'vitest';
import type { Grid } from '../../../core/grid/frame.ts';
import { SIGHT } from '../../../core/terrain/sight.ts';
import { viewshed } from '../../../core/terrain/viewshed.ts';
import { cumulativeView, screenedView } from '../../../core/terrain/visibility.ts';
import { groundFrom, roughGround } from './grounds.ts';

const level = { ...SIGHT, refraction: 1, observerHeight: 1.5, targetHeight: 1.5 };

test('cumulative view is the sum of its viewsheds', () => {
  const elevation = roughGround(60, 50, 41, 4);
  const observers = [5 * 60 + 5, 25 * 60 + 30, 40 * 60 + 55];
  const counts = cumulativeView(elevation, observers, SIGHT).cells;
  const single = observers.map((observer) => viewshed(elevation, observer, SIGHT).cells);
  for (let i = 0; i < counts.length; i++)
    expect(counts[i]).toBe(single.reduce((sum, seen) => sum + seen[i]!, 0));
  expect(Math.max(...counts)).toBeGreaterThan(1);
});

test('sight is mutual when eye and target stand equally high', () => {
  const elevation = roughGround(50, 40, 43, 4);
  const from = 20 * 50 + 25;
  const seen = viewshed(elevation, from, level).cells;
  for (let i = 0; i < seen.length; i += 7) expect(viewshed(elevation, i, level).cells[from]).toBe(seen[i]);
});

describe('vegetation as a screen', () => {
  const flat = groundFrom(60, 9, 2, () => 0);
  const observer = 4 * 60 + 5;
  const on = (z: (x: number) => number): Grid => groundFrom(60, 9, 2, (x) => z(x));
  test('a belt takes the view by its depth, to the closed form', () => {
    // 10 cells of 2 m at a loss of 5 % a metre: 0.95 to the power 20 is left.
    const inBelt = (x: number): boolean => x > 40 && x < 60;
    const vegetation = { height: on((x) => (inBelt(x) ? 3 : 0)), loss: on((x) => (inBelt(x) ? 0.05 : 0)) };
    const left = screenedView(flat, vegetation, observer, level).cells;
    expect(left[4 * 60 + 10]).toBe(1);
    expect(left[4 * 60 + 50]).toBeCloseTo(0.95 ** 20, 5);
    expect(left[4 * 60 + 25]!).toBeGreaterThan(left[4 * 60 + 28]!);
  });
  test('is looked over when it is lower than the line', () => {
    const low = { height: on((x) => (x > 40 && x < 60 ? 1 : 0)), loss: on(() => 0.5) };
    expect(screenedView(flat, low, observer, level).cells[4 * 60 + 50]).toBe(1);
  });
  test('hides nothing more than the ground does where there is none', () => {
    const elevation = roughGround(60, 50, 44, 4);
    const none = { frame: elevation.frame, cells: new Float32Array(3000) };
    const left = screenedView(elevation, { height: none, loss: none }, 25 * 60 + 30, SIGHT).cells;
    expect(Float32Array.from(viewshed(elevation, 25 * 60 + 30, SIGHT).cells)).toEqual(left);
  });
});
