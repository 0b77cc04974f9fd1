import { expect, test } from 'vitest';
import { coverLayers } from '../../../core/cover/layers.ts';
import { COVER } from '../../../core/cover/types.ts';
import type { Frame } from '../../../core/grid/frame.ts';

const frame: Frame = {
  epsg: 32617,
  west: 0,
  north: 60,
  cellSize: 10,
  width: 6,
  height: 1,
  longitude: -81,
  latitude: 39,
  convergence: 0,
};
const codesOf = (codes: number[]) => ({ frame, cells: Uint8Array.from(codes) });
const heights = (metres: number[]) => ({ frame, cells: Float32Array.from(metres) });

test('with height alone, growth is told apart by it and what lies below stays unknown', () => {
  const { cover, canopy, screening, source, doubts } = coverLayers(
    frame,
    null,
    null,
    [],
    heights([0.1, 0.4, 1.5, 12, Number.NaN, 3]),
  );
  expect(source).toBe('vegetation height');
  expect([...cover.cells]).toEqual([
    COVER.open,
    COVER.open,
    COVER.brush,
    COVER.deciduous,
    0,
    COVER.deciduous,
  ]);
  expect([...canopy.cells]).toEqual([0, 0, 0, 1, Number.NaN, 1]);
  // Below a foot nothing hides a deer; what is taller may or may not.
  expect([...screening.cells]).toEqual([0, ...new Array(5).fill(Number.NaN)]);
  expect(doubts.join(' ')).toMatch(/83% of the map/);
  expect(doubts.join(' ')).not.toMatch(/terrain alone/);
});

// NLCD legend: 11 open water, 24 developed high intensity, 42 evergreen forest, 81 pasture, 41 deciduous forest.
test('height corrects the map but for water, buildings and the kind of timber', () => {
  const { cover } = coverLayers(
    frame,
    null,
    codesOf([11, 24, 42, 81, 41, 42]),
    [],
    heights([9, 9, 9, 9, 0, Number.NaN]),
  );
  expect([...cover.cells]).toEqual([
    COVER.water,
    COVER.built,
    COVER.evergreen,
    COVER.deciduous,
    COVER.open,
    COVER.evergreen,
  ]);
});
