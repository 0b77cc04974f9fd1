import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { crsDefinition, crsOfEpsg, transform } from '../../../electron/readers/crs.ts';
import { classifyInputs, listInputs } from '../../../electron/readers/folder.ts';
import { openCloud } from '../../../electron/readers/las.ts';
import { type Imported, readProperty } from '../../../electron/readers/property.ts';
import { las, laz } from './las-file.ts';
import { folderOf, problemOf, tiff } from './support.ts';

const WEST = 440000;
const NORTH = 4050000;
/** Sloping ground; a wood of 15 m trees on x 20 to 35, y 20 to 40 whose floor is hit once in nine; a barn. */
const ground = (x: number, y: number) => 200 + 0.2 * (x - WEST) - 0.1 * (NORTH - y);
const inWood = (i: number, j: number) => i >= 20 && i < 35 && j >= 20 && j < 40;
const inBarn = (i: number, j: number) => i >= 45 && i < 51 && j >= 8 && j < 14;

function scene(side = 60) {
  const points = [];
  for (let j = 0; j < side; j++)
    for (let i = 0; i < side; i++) {
      const [x, y] = [WEST + i + 0.5, NORTH - j - 0.5];
      const z = ground(x, y);
      if (inBarn(i, j)) points.push({ x, y, z: z + 5, classification: 6 });
      else if (inWood(i, j)) {
        points.push({ x, y, z: z + 15, classification: 5 });
        if (i % 3 === 0 && j % 3 === 0) points.push({ x, y, z, classification: 2, returnNumber: 2 });
      } else points.push({ x, y, z, classification: 2 });
    }
  points.push({ x: WEST + 10.2, y: NORTH - 10.2, z: 20, classification: 7 });
  points.push({ x: WEST + 12.2, y: NORTH - 10.2, z: 900, classification: 1, withheld: true });
  points.push({ x: WEST + 14.2, y: NORTH - 10.2, z: 420, classification: 1 });
  return points;
}

const importOf = async (files: Record<string, Uint8Array>): Promise<Imported> =>
  readProperty(await listInputs(folderOf(files)));

function expectScene({ frame, sources, notes }: Imported, tolerance: number, side = 60) {
  const { vegetation } = sources;
  expect(frame).toMatchObject({
    epsg: 32616,
    cellSize: 1,
    west: WEST,
    north: NORTH,
    width: side,
    height: side,
  });
  for (let j = 1; j < side - 1; j++)
    for (let i = 1; i < side - 1; i++) {
      const at = j * side + i;
      const truth = ground(WEST + i + 0.5, NORTH - j - 0.5);
      expect(Math.abs(sources.elevation.cells[at]! - truth)).toBeLessThan(tolerance);
      const tall = vegetation!.cells[at]!;
      if (inBarn(i, j)) expect(tall).toBeNaN();
      else if (i === 14 && j === 10)
        expect(tall).toBeNaN(); // a bird
      else expect(Math.abs(tall - (inWood(i, j) ? 15 : 0))).toBeLessThan(tolerance);
    }
  expect(notes.join()).toMatch(/\d+ ground points; \d+ % of the property's cells lie between them/);
}

describe('a point cloud gives the ground and what stands on it', () => {
  test('LAS 1.2, point format 1', async () => {
    expectScene(await importOf({ 'lidar.las': las(scene()) }), 0.01);
  });
  test('LAS 1.4, point format 6', async () => {
    expectScene(await importOf({ 'lidar.las': las(scene(), { format: 6 }) }), 0.01);
  });
  test.each([0, 6] as const)('LAZ, point format %i', async (format) => {
    expectScene(await importOf({ 'lidar.laz': laz(scene(25), { format }) }), 0.01, 25);
  });

  test('state plane and heights in US survey feet, by a compound system in well-known text', async () => {
    const text = `COMPD_CS["NAD83 / Tennessee (ftUS) + NAVD88 height (ftUS)",PROJCS["NAD83 / Tennessee (ftUS)",GEOGCS["NAD83",DATUM["North_American_Datum_1983",SPHEROID["GRS 1980",6378137,298.257222101]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],PROJECTION["Lambert_Conformal_Conic_2SP"],UNIT["US survey foot",0.304800609601219],AUTHORITY["EPSG","2274"]],VERT_CS["NAVD88 height (ftUS)",VERT_DATUM["North American Vertical Datum 1988",2005],UNIT["US survey foot",0.304800609601219],AXIS["Up",UP]]]`;
    const toFeet = transform(crsDefinition(32616), crsOfEpsg(2274, 'test').proj4);
    const points = scene().map((point) => {
      const [x, y] = toFeet(point.x, point.y);
      return { ...point, x, y, z: (point.z * 3937) / 1200 };
    });
    const folder = folderOf({ 'lidar.las': las(points, { format: 6, system: text }) });
    const cloud = await openCloud({ name: 'lidar.las', path: join(folder, 'lidar.las') });
    expect(cloud).toMatchObject({
      verticalUnit: 'us-survey-foot',
      crs: { epsg: 2274 },
      count: points.length,
    });
    const { frame, sources } = await readProperty(await listInputs(folder));
    expect(frame).toMatchObject({ epsg: 32616, cellSize: 1 });
    const { vegetation } = sources;
    let [checked, tall] = [0, 0];
    for (let at = 0; at < sources.elevation.cells.length; at++) {
      const x = frame.west + (at % frame.width) + 0.5;
      const y = frame.north - Math.floor(at / frame.width) - 0.5;
      const inside = x > WEST + 2 && x < WEST + 58 && y < NORTH - 2 && y > NORTH - 58;
      if (!inside) continue;
      // The cell's points lie up to 0.7 m from its centre, on ground that rises 0.2 in 1.
      expect(Math.abs(sources.elevation.cells[at]! - ground(x, y))).toBeLessThan(0.25);
      checked++;
      if (Math.abs(vegetation!.cells[at]! - 15) < 0.3) tall++;
    }
    expect(checked).toBeGreaterThan(3000);
    expect(tall).toBeGreaterThan(200);
  });

  test('dropped files and single files count too, and join with a raster', async () => {
    const folder = folderOf({ 'survey.laz': laz(scene().slice(0, 9)) });
    const file = { name: 'survey.laz', path: join(folder, 'survey.laz') };
    expect((await classifyInputs([file])).elevation).toEqual([file]);
    expect((await listInputs(file.path)).elevation).toEqual([file]);
    const raster = tiff(
      30,
      30,
      (column, row) => ground(WEST - 100 + column * 10 + 5, NORTH + 100 - row * 10 - 5),
      {
        west: WEST - 100,
        north: NORTH + 100,
      },
    );
    const { frame, sources, notes } = await importOf({ 'elevation.tif': raster, 'survey.las': las(scene()) });
    expect(frame).toMatchObject({ cellSize: 1, width: 300, height: 300 });
    expect(notes.join()).not.toContain('Doubt');
    for (const [x, y] of [
      [WEST - 50.5, NORTH + 20.5],
      [WEST + 30.5, NORTH - 30.5],
      [WEST + 100.5, NORTH - 80.5],
    ] as const) {
      const at = Math.floor(frame.north - y) * frame.width + Math.floor(x - frame.west);
      expect(sources.elevation.cells[at]).toBeCloseTo(ground(x, y), 1);
    }
  });
});

describe('point clouds that cannot be used are refused with the fix', () => {
  const refused = (name: string, bytes: Uint8Array) => problemOf(() => importOf({ [name]: bytes }));
  test('not a cloud, cut short, or damaged', async () => {
    expect((await refused('a.laz', new TextEncoder().encode('x'.repeat(400)))).message).toContain(
      'is not a LAS',
    );
    expect((await refused('a.las', las(scene()).subarray(0, 9000))).message).toContain('cut short');
    expect((await refused('a.las', las(scene()).subarray(0, 100))).message).toContain('is not a LAS');
    const bad = las(scene());
    bad.fill(0xff, 131, 140);
    expect((await refused('a.las', bad)).message).toContain('damaged header');
    expect((await refused('a.laz', laz(scene(25)).subarray(0, 9000))).message).toContain('a.laz is damaged');
  });
  test('without ground', async () => {
    const points = scene().map((point) => ({ ...point, classification: 1 }));
    expect((await refused('a.las', las(points))).message).toContain('no points marked as ground');
  });
  test('without a system, on NAD27, without a unit', async () => {
    expect((await refused('a.las', las(scene(), { system: null }))).message).toContain('does not say which');
    expect((await refused('a.las', las(scene(), { system: 26716 }))).message).toContain('NAD27');
    const unit = await refused('a.las', las(scene(), { verticalUnitCode: 0 }));
    expect(unit.question!.key).toBe('verticalUnit');
  });
});
