import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { writeArrayBuffer } from 'geotiff';
import { afterAll, expect } from 'vitest';
import { Problem } from '../../../core/grid/problem.ts';
import type { InputFile } from '../../../electron/readers/folder.ts';

const HERE = dirname(fileURLToPath(import.meta.url));
const FIXTURES = join(HERE, '../../reference/fixtures/readers');
export const SAMPLES = join(HERE, '../../../sample-rasters');

export const fixture = (name: string): InputFile => ({ name, path: join(FIXTURES, name) });

type Sample = [row: number, column: number, value: number | null];
export interface Warp {
  epsg: number;
  bounds: [number, number, number, number];
  size: number;
  values: Sample[];
}
/** What GDAL and PROJ read and compute; made by tests/reference/readers/make_fixtures.py. */
export const expected = JSON.parse(readFileSync(join(FIXTURES, 'expected.json'), 'utf8')) as {
  rasters: Record<
    string,
    { geotransform: number[]; unit: string; samples?: Sample[]; bands?: [number, number, number[]][] }
  >;
  warps: Record<string, Warp>;
  shapes: { kind: string; name: string; geometry: GeoJSON.Geometry }[];
  points: { longitude: number; latitude: number; epsg: number; x: number; y: number; convergence: number }[];
  tin: { points: number; outside: number; rmse: number };
  systems: { epsg: number; longitude: number; latitude: number; x: number; y: number }[];
};

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** A folder with these files in it, removed after the test file. */
export function folderOf(files: Record<string, string | Uint8Array>): string {
  const folder = mkdtempSync(join(tmpdir(), 'readers-'));
  folders.push(folder);
  for (const [name, content] of Object.entries(files)) writeFileSync(join(folder, name), content);
  return folder;
}

export const bytesOf = (name: string): Uint8Array => readFileSync(join(FIXTURES, name));

/** A one-band 32-bit GeoTIFF on UTM 16 (NAD83) with its corner at 440000, 4050000, written by the geotiff library. */
export function tiff(
  width: number,
  height: number,
  value: (column: number, row: number) => number,
  { cell = 10, epsg = 26916, west = 440000, north = 4050000, unit = true } = {},
): Uint8Array {
  const cells = new Float32Array(width * height);
  for (let i = 0; i < cells.length; i++) cells[i] = value(i % width, Math.floor(i / width));
  const buffer = writeArrayBuffer(cells, {
    width,
    height,
    ModelPixelScale: [cell, cell, 0],
    ModelTiepoint: [0, 0, 0, west, north, 0],
    GTModelTypeGeoKey: 1,
    GTRasterTypeGeoKey: 1,
    ProjectedCSTypeGeoKey: epsg,
    ...(unit ? { VerticalUnitsGeoKey: 9001 } : {}),
  } as never);
  return new Uint8Array(buffer);
}

/** GeoJSON of one area from a closed ring of degrees. */
export function polygonOf(corners: [number, number][]): string {
  return JSON.stringify({
    type: 'FeatureCollection',
    features: [{ type: 'Feature', properties: {}, geometry: { type: 'Polygon', coordinates: [corners] } }],
  });
}

/** Runs and hands back the Problem; any other outcome fails. */
export async function problemOf(run: () => unknown): Promise<Problem> {
  try {
    await run();
  } catch (error) {
    expect(error).toBeInstanceOf(Problem);
    const problem = error as Problem;
    expect(problem.fix.length).toBeGreaterThan(5);
    return problem;
  }
  throw new Error('expected a Problem, but it went through');
}
