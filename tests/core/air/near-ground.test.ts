import { expect, test } from 'vitest';
import { type LayerAt, nearGround, stillPools, windowRound } from '../../../core/air/near-ground.ts';
import { airFrame, groundOf } from './ground.ts';

const frame = airFrame(40, 40, 5);
const coarse = airFrame(8, 8, 25);
const fill = (value: number) => new Float32Array(64).fill(value);
const local = { frame: coarse, east: fill(1), south: fill(0) };
const layer: LayerAt = {
  frame: coarse,
  depth: fill(10),
  deficit: fill(4),
  east: fill(0),
  south: fill(0.6),
  wind: 0.5,
};

test('by day the wind alone, in a calm the layer alone', () => {
  const day = nearGround(frame, local, 3, null);
  expect(day.field.east[500]).toBeCloseTo(3, 6);
  expect(day.field.south[500]).toBeCloseTo(0, 6);
  expect(day.held[500]).toBe(0);
  const calm = nearGround(frame, null, 0, { ...layer, wind: 0 });
  expect(calm.field.south[500]).toBeCloseTo(0.6, 6);
  expect(calm.held[500]).toBe(1);
});

test("the layer keeps its flow up to Bell & Thompson's number and gives way beyond it", () => {
  // sqrt(g' depth) = sqrt(9.81 / 285 x 4 x 10) = 1.173 m/s with the whole deficit: swept above 1.525 m/s.
  const held = nearGround(frame, local, 1, { ...layer, wind: 1 });
  expect(held.held[500]).toBe(1);
  expect(held.field.east[500]).toBe(0);
  const swept = nearGround(frame, local, 3, { ...layer, wind: 3 });
  expect(swept.held[500]!).toBeCloseTo((1.3 / (3 / Math.sqrt((9.81 / 285) * 40))) ** 2, 4);
  expect(swept.field.east[500]!).toBeGreaterThan(2);
  expect(swept.field.south[500]!).toBeLessThan(0.2);
});

test('a stronger wind leaves less loss: speed by its cube root, deficit by the square of that', () => {
  const weak = nearGround(frame, null, 2, { ...layer, wind: 0 });
  // 1 - (2/4)^2 = 0.75 of the loss.
  expect(weak.field.south[500]!).toBeCloseTo(0.6 * Math.cbrt(0.75), 5);
  expect(weak.deficit[500]!).toBeCloseTo(4 * Math.cbrt(0.75) ** 2, 5);
  expect(nearGround(frame, local, 5, layer).held[500]).toBe(0);
});

test('pools stand still unless wind sweeps them out', () => {
  const pool = groundOf(airFrame(80, 80, 2.5), (x) => (x > 100 ? 2 : 0));
  const calm = nearGround(frame, null, 0, { ...layer, wind: 0 });
  stillPools(calm, pool);
  expect(calm.field.south[20 * 40 + 30]).toBe(0);
  expect(calm.field.south[20 * 40 + 10]).toBeCloseTo(0.6, 6);
  const windy = nearGround(frame, local, 3.5, layer);
  stillPools(windy, pool);
  expect(windy.field.east[20 * 40 + 30]!).toBeGreaterThan(1);
});

test('the window is centred on the spot', () => {
  const round = windowRound(airFrame(400, 400, 2.5), [400_500, 4_199_500], 200);
  expect(round.cellSize).toBe(5);
  expect([round.west, round.north]).toEqual([400_300, 4_199_700]);
  expect([round.width, round.height]).toEqual([80, 80]);
});
