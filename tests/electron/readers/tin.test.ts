import { expect, test } from 'vitest';
import type { Frame } from '../../../core/grid/frame.ts';
import { bridgeGaps } from '../../../electron/readers/tin.ts';
import { outside } from '../../outside.ts';
import { expected } from './support.ts';

const frame: Frame = {
  epsg: 32616,
  west: 0,
  north: 0,
  cellSize: 1,
  width: 90,
  height: 70,
  longitude: 0,
  latitude: 0,
  convergence: 0,
};
const ground = (x: number, y: number) => 200 + 0.4 * x - 0.3 * y + 3 * Math.sin(x / 14) * Math.cos(y / 11);
/** Cells known at random, by Numerical Recipes' generator from 7, as in the reference below. */
function scattered(share: number, value = ground): Float32Array {
  let state = 7;
  return Float32Array.from({ length: 90 * 70 }, (_, i) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32 < share ? value(i % 90, Math.floor(i / 90)) : Number.NaN;
  });
}

test('ground known at a cell in seven comes back as well as with SciPy', () => {
  const cells = scattered(1 / 7);
  const { bridged, cells: count } = bridgeGaps({ frame, cells }, 30);
  let sum = 0;
  let beyond = 0;
  for (let i = 0; i < cells.length; i++) {
    if (Number.isNaN(bridged.cells[i]!)) beyond++;
    else if (Number.isNaN(cells[i]!)) sum += (bridged.cells[i]! - ground(i % 90, Math.floor(i / 90))) ** 2;
    else expect(bridged.cells[i]).toBe(cells[i]);
  }
  // scipy.interpolate.griddata, linear, on the same cells. Points on a lattice can be triangulated in more ways.
  const { points, outside: without, rmse } = expected.tin;
  expect(cells.filter((value) => !Number.isNaN(value))).toHaveLength(points);
  const check = outside({
    room: 'readers',
    method: 'Ground bridged from a cell in seven: root mean square error, over that of the other',
    source: 'SciPy griddata',
    unit: 'of the error',
    allowed: 0.1,
  });
  check.compare(Math.max(1, Math.sqrt(sum / count) / rmse), 1);
  check.done();
  expect(beyond).toBe(without);
});

test('a plane is bridged exactly', () => {
  const plane = (x: number, y: number) => 100 + 0.5 * x - 0.25 * y;
  const cells = scattered(1 / 20, plane);
  const { bridged } = bridgeGaps({ frame, cells }, 50);
  for (let i = 0; i < cells.length; i++)
    if (!Number.isNaN(bridged.cells[i]!))
      expect(bridged.cells[i]).toBeCloseTo(plane(i % 90, Math.floor(i / 90)), 4);
});

test('nothing is made up beyond reach, nor without three points', () => {
  const cells = new Float32Array(90 * 70).fill(Number.NaN);
  for (const [x, y] of [
    [5, 5],
    [80, 5],
    [40, 60],
  ] as const)
    cells[y * 90 + x] = 50;
  const { bridged, cells: count } = bridgeGaps({ frame, cells }, 5);
  expect(count).toBeGreaterThan(20);
  for (let i = 0; i < cells.length; i++) {
    const [x, y] = [i % 90, Math.floor(i / 90)];
    const away = Math.min(Math.hypot(x - 5, y - 5), Math.hypot(x - 80, y - 5), Math.hypot(x - 40, y - 60));
    if (away > 5) expect(bridged.cells[i]).toBeNaN();
  }
  cells[60 * 90 + 40] = Number.NaN;
  expect(bridgeGaps({ frame, cells }, 5).cells).toBe(0);
});
