import { describe, expect, test } from 'vitest';
import type { Grid } from '../../../core/grid/frame.ts';
import { accumulateSplit, accumulateSpread, splitFlow } from '../../../core/terrain/dispersal.ts';
import { fillDepressions } from '../../../core/terrain/filling.ts';
import { accumulate, flowDirections } from '../../../core/terrain/flow.ts';
import { elevationOf, groundCases, groundFrom, roughGround } from './grounds.ts';

const dInfinity = (surface: Grid): Float64Array =>
  accumulateSplit(splitFlow(surface, flowDirections(surface))).cells;
const d8 = (surface: Grid): Float64Array =>
  Float64Array.from(
    accumulate(flowDirections(surface)).cells,
    (cells) => cells * surface.frame.cellSize ** 2,
  );

/** Mean error and root mean square error of specific catchment area against the closed form, over some cells. */
function errorsOf(
  area: Float64Array,
  width: number,
  cellSize: number,
  expected: (x: number, y: number) => number | null,
): { bias: number; rmse: number } {
  let sum = 0;
  let squares = 0;
  let count = 0;
  for (let i = 0; i < area.length; i++) {
    const height = area.length / width;
    const exact = expected(((i % width) + 0.5) * cellSize, (height - Math.floor(i / width) - 0.5) * cellSize);
    if (exact === null) continue;
    const error = area[i]! / cellSize - exact;
    sum += error;
    squares += error * error;
    count++;
  }
  expect(count).toBeGreaterThan(100);
  return { bias: sum / count, rmse: Math.sqrt(squares / count) };
}

// The test surfaces of Tarboton (1997): upslope area per width of flow has a closed form on each. Unit cells.
describe("Tarboton's surfaces", () => {
  test('outer cone: flow spreads from the top, specific area is half the radius', () => {
    const n = 33;
    const middle = n / 2;
    const surface = groundFrom(n, n, 1, (x, y) => 200 - Math.hypot(x - middle, y - middle));
    const exact = (x: number, y: number): number | null => {
      const r = Math.hypot(x - middle, y - middle);
      return r > 2 && r < middle - 1 ? r / 2 : null;
    };
    const ours = errorsOf(dInfinity(surface), n, 1, exact);
    const single = errorsOf(d8(surface), n, 1, exact);
    expect(Math.abs(ours.bias)).toBeLessThan(0.4);
    expect(ours.rmse).toBeLessThan(1);
    expect(ours.rmse).toBeLessThan(single.rmse / 2);
  });
  test('inner cone: flow gathers from the rim, specific area is (R² - r²) / 2r', () => {
    const n = 33;
    const middle = n / 2;
    const R = 15;
    const surface = groundFrom(n, n, 1, (x, y) => {
      const r = Math.hypot(x - middle, y - middle);
      return r > R ? Number.NaN : 10 + r;
    });
    // Beside no data water would leave, so the cells of the rim are looked at from inside only.
    const exact = (x: number, y: number): number | null => {
      const r = Math.hypot(x - middle, y - middle);
      return r > 3 && r < 11 ? (R * R - r * r) / (2 * r) : null;
    };
    const ours = errorsOf(dInfinity(surface), n, 1, exact);
    const single = errorsOf(d8(surface), n, 1, exact);
    expect(ours.rmse).toBeLessThan(single.rmse / 2);
    expect(Math.abs(ours.bias)).toBeLessThan(1.5);
  });
  test.each([0, 12, 26.565, 40])(
    'plane that falls towards %f degrees: specific area is the way to the divide',
    (bearing) => {
      const n = 40;
      const [east, north] = [Math.sin((bearing * Math.PI) / 180), Math.cos((bearing * Math.PI) / 180)];
      const surface = groundFrom(n, n, 1, (x, y) => 100 - 0.5 * (x * east + y * north));
      // Water comes in over the south and west edges; the shorter way back along the fall line counts.
      const exact = (x: number, y: number): number | null => {
        if (x < 2 || y < 2 || x > n - 2 || y > n - 2) return null;
        return Math.min(east > 1e-9 ? x / east : Number.POSITIVE_INFINITY, y / north);
      };
      const ours = errorsOf(dInfinity(surface), n, 1, exact);
      const single = errorsOf(d8(surface), n, 1, exact);
      if (bearing === 0) expect(ours.rmse).toBeLessThan(1);
      else {
        expect(ours.rmse).toBeLessThan(single.rmse);
        expect(Math.abs(ours.bias)).toBeLessThan(Math.abs(single.bias) + 1);
      }
    },
  );
});

describe.each([
  ['rough 5', roughGround(60, 40, 5)],
  ...groundCases.map((reference): [string, Grid] => [reference.name, elevationOf(reference)]),
] as [string, Grid][])('conservation on %s', (_, elevation) => {
  const filled = fillDepressions(elevation);
  const directions = flowDirections(filled);
  const cellArea = elevation.frame.cellSize ** 2;
  const known = elevation.cells.filter((z) => !Number.isNaN(z)).length * cellArea;
  const outlets = (area: Float64Array): number => {
    let sum = 0;
    for (let i = 0; i < area.length; i++) if (directions.cells[i] === 9) sum += area[i]!;
    return sum;
  };
  test('D-infinity outlets add up to the area, to 1e-12', () => {
    const area = accumulateSplit(splitFlow(filled, directions)).cells;
    expect(Math.abs(outlets(area) / known - 1)).toBeLessThan(1e-12);
    for (let i = 0; i < area.length; i++)
      if (directions.cells[i] !== 0) expect(area[i]).toBeGreaterThanOrEqual(cellArea);
  });
  test('spread flow too', () => {
    const area = accumulateSpread(filled, directions).cells;
    expect(Math.abs(outlets(area) / known - 1)).toBeLessThan(1e-12);
  });
});

test('spread flow on a cone is even round the compass, more so than single flow', () => {
  const n = 33;
  const middle = n / 2;
  const surface = groundFrom(n, n, 1, (x, y) => 200 - Math.hypot(x - middle, y - middle));
  const exact = (x: number, y: number): number | null => {
    const r = Math.hypot(x - middle, y - middle);
    return r > 4 && r < middle - 1 ? r / 2 : null;
  };
  const spread = errorsOf(accumulateSpread(surface, flowDirections(surface)).cells, n, 1, exact);
  expect(spread.rmse).toBeLessThan(errorsOf(d8(surface), n, 1, exact).rmse / 2);
});
