import { describe, expect, test } from 'vitest';
import type { Frame } from '../../../core/grid/frame.ts';
import type { InputFile } from '../../../electron/readers/folder.ts';
import { placed } from '../../../electron/readers/frame.ts';
import { openRaster } from '../../../electron/readers/raster.ts';
import { warp } from '../../../electron/readers/warp.ts';
import { outside } from '../../outside.ts';
import { expected, fixture, SAMPLES, type Warp } from './support.ts';

function frameOf({ epsg, bounds: [west, south, east, north], size }: Warp): Frame {
  return placed({
    epsg,
    west,
    north,
    cellSize: size,
    width: Math.round((east - west) / size),
    height: Math.round((north - south) / size),
    longitude: 0,
    latitude: 0,
    convergence: 0,
  });
}

async function warped(file: InputFile, frame: Frame, kind: 'value' | 'class'): Promise<Float32Array> {
  const raster = await openRaster(file);
  const cells = new Float32Array(frame.width * frame.height);
  await warp(raster, frame, [0], kind, (row, [values]) => cells.set(values!, row * frame.width));
  await raster.bytes.close();
  return cells;
}

/** Worst difference to gdalwarp, and how many cells one side calls no data and the other does not. */
function compare(cells: Float32Array, frame: Frame, reference: Warp, scale = 1) {
  let worst = 0;
  let disagree = 0;
  for (const [row, column, value] of reference.values) {
    const got = cells[row * frame.width + column]!;
    if (value === null || Number.isNaN(got)) disagree += (value === null) === Number.isNaN(got) ? 0 : 1;
    else worst = Math.max(worst, Math.abs(got * scale - value));
  }
  return { worst, disagree };
}

/** Holds the worst difference to gdalwarp's answer. */
function held(method: string, worst: number, cells: number, allowed: number): void {
  const about = { room: 'readers', source: 'GDAL 3.6 gdalwarp with exact transforms', unit: 'm', allowed };
  const check = outside({ ...about, method: `${method}, of ${cells} cells the worst` });
  check.compare(worst, 0);
  check.done();
}

describe('against gdalwarp with exact transforms (fixture)', () => {
  test('real SRTM, geographic to UTM, bilinear: within 0.15 m on ground with 800 m of relief', async () => {
    const reference = expected.warps.srtm!;
    const frame = frameOf(reference);
    const file = { name: 'srtm', path: `${SAMPLES}/ridge-and-valley-srtm3.tif` };
    const { worst, disagree } = compare(await warped(file, frame, 'value'), frame, reference);
    held('Real ground from degrees to UTM, bilinear', worst, reference.values.length, 0.15);
    expect(disagree).toBe(0);
  });

  test('state plane feet to UTM metres, bilinear', async () => {
    const reference = expected.warps['state-plane-feet.tif']!;
    const frame = frameOf(reference);
    const { worst, disagree } = compare(
      await warped(fixture('state-plane-feet.tif'), frame, 'value'),
      frame,
      reference,
      1200 / 3937,
    );
    held('State plane feet to UTM metres, bilinear', worst, reference.values.length, 0.01);
    expect(disagree).toBe(0);
  });

  test('a grid turned against its axes, bilinear', async () => {
    const reference = expected.warps['turned.tif']!;
    const frame = frameOf(reference);
    const { worst, disagree } = compare(
      await warped(fixture('turned.tif'), frame, 'value'),
      frame,
      reference,
    );
    held('A grid turned against its axes, bilinear', worst, reference.values.length, 0.01);
    expect(disagree).toBe(0);
  });

  test('land-cover codes in a user-defined Albers system, nearest pixel', async () => {
    const reference = expected.warps['landcover-albers.tif']!;
    const frame = frameOf(reference);
    const cells = await warped(fixture('landcover-albers.tif'), frame, 'class');
    const wrong = reference.values.filter(
      ([row, column, value]) => cells[row * frame.width + column] !== value,
    );
    // A cell centre on the very border of two pixels may fall either way.
    expect(wrong.length).toBeLessThanOrEqual(1);
  });

  test('1 m onto 4.5 m, mean of the part of each pixel that lies inside', async () => {
    const reference = expected.warps['fine-1m.tif']!;
    const frame = frameOf(reference);
    const { worst, disagree } = compare(
      await warped(fixture('fine-1m.tif'), frame, 'value'),
      frame,
      reference,
    );
    held('1 m onto 4.5 m, mean by area', worst, reference.values.length, 0.02);
    expect(disagree).toBe(0);
  });
});

test('a coarse frame reads the overview and stays close to the full file', async () => {
  const bounds: Warp['bounds'] = [440010, 4049810, 440230, 4049990];
  const frame = frameOf({ epsg: 32616, bounds, size: 10, values: [] });
  const full = await warped(fixture('fine-1m.tif'), frame, 'value');
  const reduced = await warped(fixture('fine-1m-overviews.tif'), frame, 'value');
  let worst = 0;
  for (let i = 0; i < full.length; i++) worst = Math.max(worst, Math.abs(full[i]! - reduced[i]!));
  expect(worst).toBeGreaterThan(0);
  expect(worst).toBeLessThan(0.05);
});
