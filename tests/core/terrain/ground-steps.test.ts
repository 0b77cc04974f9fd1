import { readFile } from 'node:fs/promises';
import { fromArrayBuffer } from 'geotiff';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Artifacts, Results } from '../../../core/analysis/artifacts.ts';
import { DEFAULT_SETTINGS, type Settings } from '../../../core/analysis/settings.ts';
import type { Step } from '../../../core/analysis/step.ts';
import { groundSteps } from '../../../core/analysis/steps/ground.ts';
import type { Grid } from '../../../core/grid/frame.ts';
import { LANDFORM } from '../../../core/terrain/types.ts';
import { BENCHES, CREEK, DEEP, DEEP_FROM, SADDLE } from '../../../sample-rasters/generator/scenario.ts';
import { testFrame } from '../grid/frames.ts';

async function readElevation(path: string, cellSize: number): Promise<Grid> {
  const file = await readFile(new URL(`../../../sample-rasters/${path}`, import.meta.url));
  const tiff = await fromArrayBuffer(Uint8Array.from(file).buffer);
  const image = await tiff.getImage();
  const [band] = (await image.readRasters()) as unknown as [ArrayLike<number>];
  return {
    frame: testFrame(image.getWidth(), image.getHeight(), cellSize),
    cells: Float32Array.from(band, (z) => (z === image.getGDALNoData() ? Number.NaN : z)),
  };
}

/** Northing of the sample's creek at an easting, m. */
function creekAt(x: number): number {
  return CREEK.reduce((best, place) => (Math.abs(place[0] - x) < Math.abs(best[0] - x) ? place : best))[1];
}

function runGround(elevation: Grid, settings: Settings = DEFAULT_SETTINGS): Results {
  const artifacts = { elevation, features: [] } as unknown as Artifacts;
  for (const step of groundSteps as unknown as Step[])
    Object.assign(
      artifacts,
      step.run(artifacts, step.params(settings), () => {}),
    );
  return artifacts;
}

// Real: SRTM, Tennessee ridge and valley, read as if its cells were 90 m squares.
describe('on the real 90 m raster', () => {
  let results: Results;
  let elevation: Grid;
  beforeAll(async () => {
    elevation = await readElevation('ridge-and-valley-srtm3.tif', 90);
    results = runGround(elevation);
  });
  test('says what such a grid cannot show, and leaves those measures open', () => {
    expect(results.groundDoubts.join('\n')).toMatch(/cannot show a creek bed or a saddle that deer use/);
    expect(results.groundDoubts.join('\n')).toMatch(/Benches are narrower/);
    expect(results.benches).toEqual([]);
    expect(results.groundDoubts.join('\n')).toMatch(/Only the 10 most marked saddles are listed: \d+ more/);
    expect(results.groundDoubts.join('\n')).not.toMatch(/\b0\.0%/);
    expect(results.saddles).toHaveLength(10);
    const marks = results.saddles.map(({ rise, falls }) => Math.min(rise, falls[1]));
    expect(marks).toEqual(marks.toSorted((a, b) => b - a));
    // More than twice the relative error of this public grid, 10 m (its specification, value from memory).
    expect(marks.at(-1)).toBeGreaterThan(20);
    for (const saddle of results.saddles)
      if (saddle.width !== null) expect(saddle.width).toBeGreaterThanOrEqual(270);
  });
  test('drains all of it, in a net of several orders', () => {
    let out = 0;
    for (let i = 0; i < elevation.cells.length; i++)
      if (results.flowDirection.cells[i] === 9) out += results.accumulation.cells[i]!;
    expect(out).toBe(elevation.cells.length);
    expect(Math.max(...results.drainageLines.map((line) => line.order))).toBeGreaterThanOrEqual(4);
    for (const line of results.drainageLines) expect(line.path.length).toBeGreaterThan(1);
  });
  test('contours keep to a readable number of levels', () => {
    expect(results.contours.length).toBeGreaterThan(10);
    expect(results.contours.length).toBeLessThanOrEqual(41);
  });
});

// Invented: the sample farm; where its saddle and benches are is written in its generator.
describe('on the sample farm', () => {
  let results: Results;
  let elevation: Grid;
  const fromCorner = (x: number, y: number): [number, number] => {
    const { west, north, height, cellSize } = elevation.frame;
    return [x - west, y - (north - height * cellSize)];
  };
  const apart = ([ax, ay]: readonly number[], [bx, by]: readonly number[]): number =>
    Math.hypot(ax! - bx!, ay! - by!);
  beforeAll(async () => {
    elevation = await readElevation('invented-farm/elevation.tif', 2.5);
    results = runGround(elevation);
  });
  test('the one low saddle of the long ridge is found, and it is the one that stands out most', () => {
    const [first] = results.saddles;
    expect(apart(fromCorner(...first!.at), SADDLE)).toBeLessThan(30);
    expect(first!.rise).toBeGreaterThan(15);
    expect(first!.width).toBeGreaterThan(50);
    expect(results.saddles.length).toBeLessThan(12);
  });
  test('both benches are found', () => {
    for (const bench of BENCHES) {
      const hit = results.benches.find((found) => apart(fromCorner(...found.centre), bench.middle) < 60);
      expect(hit, bench.name).toBeDefined();
      expect(hit!.slopeAbove).toBeGreaterThan(12);
    }
  });
  test('the deep-cut reach of the creek measures as its generator cut it', () => {
    const deep = results.channels.filter(({ at, source }) => {
      const [x, y] = fromCorner(...at);
      return source === 'elevation' && x > DEEP_FROM + 60 && x < 2640 && Math.abs(y - creekAt(x)) < 12;
    });
    expect(deep.length).toBeGreaterThan(15);
    const middle = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1]!;
    expect(
      Math.abs(middle(deep.map(({ left, right }) => Math.min(left!, right!))) - DEEP.depth),
    ).toBeLessThan(0.6);
    // Its banks start a metre inside the stated width and climb 1.12 to 1.
    const top = DEEP.width - 2 + (2 * DEEP.depth) / 1.12;
    expect(Math.abs(middle(deep.map(({ width }) => width!)) - top)).toBeLessThan(2.5);
  });
  test('every form occurs, and no data nowhere', () => {
    const seen = new Set(results.forms.cells);
    for (const code of Object.values(LANDFORM)) expect(seen.has(code)).toBe(true);
    expect(seen.has(0)).toBe(false);
  });
  test('lines and tables carry measures that make sense', () => {
    for (const draw of results.draws) {
      expect(draw.depth).toBeGreaterThanOrEqual(1.5);
      expect(draw.length).toBeGreaterThanOrEqual(60);
      expect(draw.relief).toBeGreaterThan(0);
    }
    for (const ridge of results.ridges) expect(ridge.path.length).toBeGreaterThan(1);
    expect(results.draws.length).toBeGreaterThan(10);
    expect(results.ridges.length).toBeGreaterThan(10);
  });
});

test('a raster of no data at all is no crash but a doubt', () => {
  const frame = testFrame(20, 10);
  const results = runGround({ frame, cells: new Float32Array(200).fill(Number.NaN) });
  expect(results.groundDoubts).toEqual(['The elevation holds no data at all.']);
  expect(results.drainageLines).toEqual([]);
  expect(results.contours).toEqual([]);
});

test('one cell and one row are no crash', () => {
  for (const [width, height] of [
    [1, 1],
    [9, 1],
    [1, 9],
    [2, 2],
  ] as const) {
    const results = runGround({
      frame: testFrame(width, height),
      cells: new Float32Array(width * height).fill(7),
    });
    expect(results.accumulation.cells.reduce((sum, cells) => sum + cells, 0)).toBeGreaterThanOrEqual(
      width * height,
    );
  }
});

test('the parameters are JSON and nothing but the settings they use', () => {
  for (const step of groundSteps as unknown as Step[]) {
    const params = step.params(DEFAULT_SETTINGS);
    expect(JSON.parse(JSON.stringify(params))).toEqual(params);
    expect(step.params({ ...DEFAULT_SETTINGS, name: 'Other', margin: 1 })).toEqual(params);
  }
});

test.each(['ground.channels', 'ground.doubts'])('%s stops inside when told', async (name) => {
  const elevation = await readElevation('ridge-and-valley-srtm3.tif', 90);
  const results = runGround(elevation);
  const step = (groundSteps as unknown as Step[]).find((one) => one.name === name)!;
  const stop = () => {
    throw new Error('stopped');
  };
  const artifacts = { ...results, elevation, features: [] } as unknown as Artifacts;
  expect(() => step.run(artifacts, step.params(DEFAULT_SETTINGS), stop)).toThrow('stopped');
});
