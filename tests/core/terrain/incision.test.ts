import { describe, expect, test } from 'vitest';
import type { Feature } from '../../../core/features/feature.ts';
import type { Grid, Point } from '../../../core/grid/frame.ts';
import { channelStations } from '../../../core/terrain/incision.ts';
import type { DrainageLine } from '../../../core/terrain/types.ts';
import { groundFrom } from './grounds.ts';

const lineAlong = (grid: Grid, x: number, from: number, to: number): DrainageLine => {
  const { west, north, height, cellSize } = grid.frame;
  const south = north - height * cellSize;
  const path: Point[] = [];
  for (let y = from; y >= to; y -= cellSize) path.push([west + x, south + y]);
  return { id: 'drainage-1', order: 1, path, length: from - to, catchment: 0, drop: 0, next: null };
};

/** A floodplain that falls south by half a percent, with a ditch along x = 60: flat bed, straight banks. */
const ditch = (cellSize: number, bedWidth: number, topWidth: number, depth: number, rightLower = 0) =>
  groundFrom(Math.round(120 / cellSize), Math.round(200 / cellSize), cellSize, (x, y) => {
    const out = Math.abs(x - 60);
    const t = Math.min(1, Math.max(0, (out - bedWidth / 2) / ((topWidth - bedWidth) / 2)));
    // Looking downstream, which is south, the right bank is to the west.
    const bank = depth - (x < 60 ? rightLower : 0);
    return 100 + 0.005 * y - depth + t * bank;
  });

describe('an analytic ditch', () => {
  test.each([
    [1, 4, 10, 2],
    [1, 2, 6, 1],
    [2, 6, 16, 3.5],
  ])('on %d m cells: bed %d m, top %d m, depth %d m', (cellSize, bedWidth, topWidth, depth) => {
    const ground = ditch(cellSize, bedWidth, topWidth, depth);
    const stations = channelStations(ground, [lineAlong(ground, 60, 180, 20)], []);
    expect(stations.length).toBeGreaterThan(4);
    for (const station of stations) {
      expect(station.source).toBe('elevation');
      expect(Math.abs(station.left! - depth)).toBeLessThan(0.12 * depth);
      expect(Math.abs(station.right! - depth)).toBeLessThan(0.12 * depth);
      expect(Math.abs(station.width! - topWidth)).toBeLessThan(1.2 * cellSize);
    }
  });
  test('tells the banks apart', () => {
    const ground = ditch(1, 4, 12, 3, 1.5);
    const [station] = channelStations(ground, [lineAlong(ground, 60, 180, 20)], []);
    expect(station!.left).toBeCloseTo(3, 0);
    expect(station!.right).toBeCloseTo(1.5, 0);
    expect(station!.left! - station!.right!).toBeGreaterThan(1.1);
  });
  test('finds the bed when the drainage line lies a few metres off it', () => {
    const ground = ditch(1, 4, 10, 2);
    const [station] = channelStations(ground, [lineAlong(ground, 63, 180, 20)], []);
    expect(station!.left).toBeCloseTo(2, 0);
  });
});

test('a channel narrower than three cells is not measured', () => {
  const ground = ditch(4, 4, 9, 2);
  const stations = channelStations(ground, [lineAlong(ground, 60, 180, 20)], []);
  for (const station of stations) {
    expect(station.source).toBe('cells too coarse');
    expect(station.left).toBeNull();
    expect(station.width).toBeNull();
  }
});

test('a draw whose sides never ease has no banks', () => {
  const ground = groundFrom(120, 200, 1, (x, y) => 100 + 0.02 * y + 0.3 * Math.abs(x - 60));
  const stations = channelStations(ground, [lineAlong(ground, 60, 180, 20)], []);
  for (const station of stations) expect(station.source).toBe('no banks');
});

test('what was taped in the field overrides, near the creek only', () => {
  const ground = ditch(1, 4, 10, 2);
  const line = lineAlong(ground, 60, 180, 20);
  const half = line.path.slice(0, 80);
  const creek: Feature = {
    id: 'c',
    kind: 'creek',
    status: 'existing',
    name: null,
    geometry: { type: 'LineString', coordinates: half },
    attributes: { depth: 1.1, width: 4 },
    source: 'drawn',
  };
  const stations = channelStations(ground, [line], [creek]);
  expect(stations[0]).toMatchObject({ left: 1.1, right: 1.1, width: 4, source: 'field' });
  expect(stations[stations.length - 1]!.source).toBe('elevation');
  // A creek across the line is not its bed.
  const [x, y] = line.path[40]!;
  const across: Feature = {
    ...creek,
    geometry: {
      type: 'LineString',
      coordinates: [
        [x - 40, y],
        [x + 40, y],
      ],
    },
  };
  for (const station of channelStations(ground, [line], [across])) expect(station.source).toBe('elevation');
});
