import { describe, expect, test } from 'vitest';
import { cellCentre } from '../../../core/grid/frame.ts';
import { crsDefinition, transform, WGS84 } from '../../../electron/readers/crs.ts';
import { listInputs } from '../../../electron/readers/folder.ts';
import type { Placed } from '../../../electron/readers/placement.ts';
import { readProperty } from '../../../electron/readers/property.ts';
import { surroundingFrame } from '../../../electron/readers/surroundings.ts';
import { folderOf, polygonOf, tiff } from './support.ts';

const toLonLat = transform(crsDefinition(32616), WGS84);
const box = (west: number, south: number, east: number, north: number) =>
  polygonOf(
    [
      [west, south],
      [east, south],
      [east, north],
      [west, north],
      [west, south],
    ].map(([x, y]) => toLonLat(x!, y!)),
  );
/** Rises evenly, so the mean of any cells is the height in the middle of them. */
const plane = (x: number, y: number): number => 200 + (x - 440000) / 20 + (4050000 - y) / 40;
const raster = (width: number, height: number) =>
  tiff(width, height, (column, row) => plane(440000 + 10 * (column + 0.5), 4050000 - 10 * (row + 0.5)));

const importOf = async (files: Record<string, string | Uint8Array>, margin: number) =>
  readProperty(await listInputs(folderOf(files)), { settings: { margin } });

describe('surroundings', () => {
  test('reach twice the margin, and end where the file does', async () => {
    const boundary = box(440600, 4049300, 440900, 4049500);
    const { frame, sources } = await importOf(
      { 'elevation.tif': raster(120, 100), 'boundary.geojson': boundary },
      200,
    );
    const { elevation, imagery, landcover } = sources.surroundings!;
    const wide = elevation.frame;
    // Twice as far from the boundary as the frame, to a cell. The file ends 300 m east and south of the boundary.
    expect(Math.abs(frame.west - 440400)).toBeLessThanOrEqual(10);
    expect(Math.abs(wide.west - 440200)).toBeLessThanOrEqual(10);
    expect(wide.west + 10 * wide.width).toBe(441200);
    expect(Math.abs(wide.north - 4049900)).toBeLessThanOrEqual(10);
    expect(wide.north - 10 * wide.height).toBe(4049000);
    expect(wide.cellSize).toBe(10);
    elevation.cells.forEach((height, i) => {
      expect(Math.abs(height - plane(...cellCentre(elevation.frame, i)))).toBeLessThan(1e-3);
    });
    expect([imagery, landcover]).toEqual([null, null]);
  });

  test('are none where a file reaches no farther than the margin, or no boundary was given', async () => {
    const boundary = box(440400, 4049400, 440800, 4049700);
    const elevation = { 'elevation.tif': raster(120, 100) };
    const wide = await importOf({ ...elevation, 'boundary.geojson': boundary }, 400);
    expect(wide.sources.surroundings).toBeNull();
    expect((await importOf(elevation, 100)).sources.surroundings).toBeNull();
    // The photo ends with the margin, though the elevation does not.
    const photo = tiff(60, 50, () => 41, { west: 440300, north: 4049800 });
    const files = { ...elevation, 'boundary.geojson': boundary, 'landcover.tif': photo };
    expect((await importOf(files, 100)).sources.surroundings).toBeNull();
  });

  test('lie on wider cells in line with the property’s own where they would be many', () => {
    const frame = {
      epsg: 32616,
      west: 440000,
      north: 4050000,
      cellSize: 2,
      width: 1000,
      height: 900,
      longitude: 0,
      latitude: 0,
      convergence: 0,
    };
    const [west, south] = toLonLat(440800, 4049000);
    const [east, north] = toLonLat(441200, 4049200);
    const crs = { proj4: crsDefinition(32616) };
    const file = { crs, affine: [435000, 1, 0, 4055000, 0, -1], width: 10000, height: 10000 };
    const wide = surroundingFrame(frame, [[file as unknown as Placed]], [west, south, east, north], 800)!;
    expect(wide.cellSize % frame.cellSize).toBe(0);
    expect(wide.width * wide.height).toBeLessThanOrEqual(150_000);
    expect((frame.west - wide.west) % wide.cellSize).toBe(0);
    expect((wide.north - frame.north) % wide.cellSize).toBe(0);
    // 1,600 m beyond the boundary's box, to within a cell.
    expect(wide.west).toBeGreaterThanOrEqual(439190);
    expect(wide.west).toBeLessThan(439220);
  });
});
