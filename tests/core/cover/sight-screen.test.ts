import { expect, test } from 'vitest';
import { sightScreen } from '../../../core/cover/sight-screen.ts';
import { COVER } from '../../../core/cover/types.ts';
import type { Frame } from '../../../core/grid/frame.ts';
import { screenedView } from '../../../core/terrain/visibility.ts';
import { outside } from '../../outside.ts';

const frame: Frame = {
  epsg: 32616,
  west: 0,
  north: 0,
  cellSize: 1,
  width: 40,
  height: 1,
  longitude: 0,
  latitude: 0,
  convergence: 0,
};
const grid = (value: number) => ({ frame, cells: new Float32Array(40).fill(value) });
const brush = { frame, cells: new Uint8Array(40).fill(COVER.brush) };

test('seen from a cover board’s distance, a deer is hidden by the share the screening states', () => {
  const vegetation = sightScreen(brush, grid(0.7), null);
  const options = { observerHeight: 1, targetHeight: 1, radius: Number.POSITIVE_INFINITY, refraction: 0 };
  const left = screenedView(grid(100), vegetation, 5, options).cells;
  // 15 m: the definition of the measure (Nudds 1977; value from memory).
  const check = outside({
    room: 'cover',
    method: 'What a cover board’s distance leaves to be seen',
    source: 'Nudds 1977 (value from memory)',
    unit: 'share',
    allowed: 5e-6,
  });
  check.compare(left[20]!, 0.3);
  check.done();
});

test('measured heights go before the class’s, and open ground hides nothing', () => {
  const measured = grid(Number.NaN);
  measured.cells[3] = 0.4;
  const { height, loss } = sightScreen(brush, grid(Number.NaN), measured);
  expect(height.cells[3]).toBeCloseTo(0.4);
  expect(height.cells[4]).toBeGreaterThan(1);
  const open = sightScreen({ frame, cells: new Uint8Array(40).fill(COVER.open) }, grid(Number.NaN), null);
  expect([height.cells.length, loss.cells[4]! > 0, open.height.cells[4], open.loss.cells[4]]).toEqual([
    40,
    true,
    0,
    0,
  ]);
});
