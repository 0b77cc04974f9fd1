import { describe, expect, test } from 'vitest';
import { DEFAULT_SETTINGS } from '../../../core/analysis/settings.ts';
import { airSteps } from '../../../core/analysis/steps/air.ts';
import { coverSteps } from '../../../core/analysis/steps/cover.ts';
import type { Imagery } from '../../../core/cover/types.ts';
import { silent } from '../../../core/grid/progress.ts';
import { fillDepressions } from '../../../core/terrain/filling.ts';
import { airFrame, groundOf } from './ground.ts';

const [classes, blocks] = coverSteps;
const [night, wind] = airSteps;

/** Both rooms on one ground, as the scheduler runs them. */
function run(
  width: number,
  height: number,
  cellSize: number,
  shape: (x: number, y: number) => number,
  photo = false,
) {
  const frame = airFrame(width, height, cellSize);
  const elevation = groundOf(frame, shape);
  const count = width * height;
  const imagery: Imagery | null = photo
    ? {
        frame,
        bands: [0, 1, 2, 3].map((k) =>
          Uint8Array.from({ length: count }, (_, i) => 60 + ((i * 31 + k * 17) % 90)),
        ),
        valid: new Uint8Array(count),
      }
    : null;
  const before = elevation.cells.slice();
  const cover = classes.run(
    { elevation, imagery, landcover: null, vegetation: null, features: [] },
    null,
    silent,
  );
  const edges = blocks.run(cover, null, silent);
  const filled = fillDepressions(elevation);
  const air = night.run({ elevation, filled, cover: cover.cover }, night.params(DEFAULT_SETTINGS), silent);
  expect(elevation.cells).toEqual(before);
  return { elevation, cover, edges, air };
}

describe('odd grounds neither throw nor invent', () => {
  test.each([
    [1, 1],
    [2, 3],
    [1, 40],
    [5, 5],
  ])('%i by %i cells', (width, height) => {
    const { air, edges, elevation } = run(width, height, 10, (x, y) => 100 - 0.1 * x - 0.05 * y);
    expect(air.coldAir.cells.length).toBe(width * height);
    expect(air.coldAir.cells.every((d) => d >= 0)).toBe(true);
    expect(air.pools).toEqual([]);
    expect(edges.coverBlocks).toEqual([]);
    expect(elevation.cells.length).toBe(width * height);
  });

  test('no elevation at all', () => {
    const { air } = run(20, 20, 10, () => Number.NaN);
    expect(air.coldAir.cells.every(Number.isNaN)).toBe(true);
    expect(air.airSpeed.cells.every(Number.isNaN)).toBe(true);
    expect(air.pools).toEqual([]);
    expect(air.airDoubts.join(' ')).toMatch(/100% of the map has no elevation/);
  });

  test('dead level ground', () => {
    const { air } = run(40, 40, 10, () => 100);
    expect(air.pools).toEqual([]);
    expect(air.coldAir.cells.every((d) => d >= 0 && d < 60)).toBe(true);
  });

  test('a photo without a single valid cell', () => {
    const { cover } = run(30, 30, 2, (x) => 100 - 0.1 * x, true);
    expect(cover.coverSource).toBe('imagery');
    expect(cover.cover.cells.every((code) => code === 0)).toBe(true);
    expect(cover.coverDoubts.join(' ')).toMatch(/100% of the map has no cover data/);
  });

  test('coarse cells are said to be coarse', () => {
    const { air } = run(30, 30, 90, (x, y) => 400 - 0.1 * x + 20 * Math.sin(y / 300));
    expect(air.airDoubts.join(' ')).toMatch(
      /At 90 m a cell \(295 ft\), creek beds, road fills and small hollows are not seen/,
    );
  });
});

test('no wind record, no wind of the season', () => {
  const elevation = groundOf(airFrame(2, 2, 10), () => 1);
  expect(wind.run({ elevation, wind: null }, null, silent).windSeason).toBeNull();
});
