import { expect, test } from 'vitest';
import type { Feature } from '../../../core/features/feature.ts';
import { ownedArea } from '../../../core/features/owned-area.ts';

const boundary = (geometry: Feature['geometry']): Feature => ({
  id: 'b',
  kind: 'boundary',
  status: 'existing',
  name: null,
  geometry,
  attributes: {},
  source: 'drawn',
});
const square = (x: number, y: number, side: number, turn = 1) => {
  const ring = [
    [x, y],
    [x + side, y],
    [x + side, y + side],
    [x, y + side],
    [x, y],
  ];
  return turn > 0 ? ring : ring.reverse();
};

test('no boundary is not no ground', () => {
  expect(ownedArea([])).toBeNull();
});

// A quarter section of the US public land survey: half a mile square, 160 acres of 43,560 square feet by definition.
test('a quarter section is 160 acres, either way round', () => {
  const side = 2640 * 0.3048;
  for (const turn of [1, -1]) {
    const area = ownedArea([boundary({ type: 'Polygon', coordinates: [square(5e5, 4.3e6, side, turn)] })])!;
    expect(area / (43560 * 0.3048 ** 2)).toBeCloseTo(160, 6);
  }
});

test('holes are taken out and parts added', () => {
  const area = ownedArea([
    boundary({
      type: 'MultiPolygon',
      coordinates: [[square(0, 0, 100), square(10, 10, 20, -1)], [square(500, 0, 10)]],
    }),
  ]);
  expect(area).toBe(100 * 100 - 20 * 20 + 10 * 10);
});
