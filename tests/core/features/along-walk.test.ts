import { expect, test } from 'vitest';
import { placeAt } from '../../../core/features/along-walk.ts';
import type { Feature } from '../../../core/features/feature.ts';

const START = Date.parse('2026-10-31T11:00:00Z') / 1000;
const walk = (attributes: Feature['attributes']): Feature => ({
  id: 'w',
  kind: 'walk',
  status: 'existing',
  name: null,
  geometry: {
    type: 'LineString',
    coordinates: [
      [0, 0],
      [100, 0],
      [100, 50],
    ],
  },
  attributes,
  source: 'a.gpx',
});
const timed = walk({ started: '2026-10-31T11:00:00.000Z', seconds: '0,200,300' });

test('between two points in proportion to time, at a pause in its place', () => {
  expect(placeAt([timed], START + 50)).toEqual([25, 0]);
  expect(placeAt([timed], START + 200)).toEqual([100, 0]);
  expect(placeAt([timed], START + 250)).toEqual([100, 25]);
});

test('shortly before and after at its ends, further off nowhere', () => {
  expect(placeAt([timed], START - 60)).toEqual([0, 0]);
  expect(placeAt([timed], START + 360)).toEqual([100, 50]);
  expect(placeAt([timed], START - 121)).toBeNull();
  expect(placeAt([timed], START + 421)).toBeNull();
});

test('a walk without times, or with times that do not fit its points, places nothing', () => {
  expect(placeAt([walk({})], START)).toBeNull();
  expect(placeAt([walk({ started: '2026-10-31T11:00:00.000Z', seconds: '0,200' })], START)).toBeNull();
  expect(placeAt([walk({ started: '2026-10-31T11:00:00.000Z', seconds: '0,200' }), timed], START)).toEqual([
    0, 0,
  ]);
});
