import type { Frame } from '../../core/grid/frame.ts';
import { type Progress, silent } from '../../core/grid/progress.ts';
import {
  areaMeanRow,
  bilinearRow,
  majorityRow,
  nearestRow,
  type SourceWindow,
} from '../../core/grid/resample.ts';
import type { Level } from './blocks.ts';
import { mapFrame } from './mapping.ts';
import { type BlockCache, type Raster, readWindow } from './raster.ts';

/** Values of one frame row, one array a band; NaN no data. Arrays are used again for the next row. */
export type RowSink = (row: number, values: Float32Array[]) => void;

/** Source pixels held in memory at once, over all bands. */
const WINDOW_PIXELS = 12e6;

/**
 * Brings bands of a raster onto a frame, row by row, reading only what the frame covers.
 * Surfaces (`value`) are interpolated, or averaged where the source is at least twice as fine; classes take the
 * nearest pixel, or the majority. An overview is used where it still leaves at least four pixels a cell side.
 */
export async function warp(
  raster: Raster,
  frame: Frame,
  bands: number[],
  kind: 'value' | 'class',
  sink: RowSink,
  progress: Progress = silent,
): Promise<void> {
  const map = mapFrame(frame, raster);
  const full = span(frame, map);
  const level = chooseLevel(raster, full);
  const scaleX = raster.levels[0]!.width / level.width;
  const scaleY = raster.levels[0]!.height / level.height;
  const spanX = full.x / scaleX;
  const spanY = full.y / scaleY;
  const average = spanX >= 2 && spanY >= 2;
  const { width, height } = frame;
  const perRow = Math.max(1, width * Math.max(1, spanX) * Math.max(1, spanY) * bands.length);
  const bandRows = Math.max(1, Math.min(256, Math.floor(WINDOW_PIXELS / perRow)));
  const xs = new Float64Array(width * bandRows);
  const ys = new Float64Array(width * bandRows);
  const values = bands.map(() => new Float32Array(width));
  const cache: BlockCache = new Map();

  for (let start = 0; start < height; start += bandRows) {
    const rows = Math.min(bandRows, height - start);
    for (let r = 0; r < rows; r++)
      map(start + r, xs.subarray(r * width, (r + 1) * width), ys.subarray(r * width));
    const box = boundsOf(xs, ys, rows * width, scaleX, scaleY, Math.max(2, spanX, spanY));
    const window = await readWindow(raster, level, bands, box, cache);
    for (let r = 0; r < rows; r++) {
      const x = xs.subarray(r * width, (r + 1) * width);
      const y = ys.subarray(r * width, (r + 1) * width);
      for (let b = 0; b < bands.length; b++) {
        const source: SourceWindow = { ...window, cells: window.bands[b]! };
        if (kind === 'class') {
          if (average) majorityRow(source, x, y, spanX, spanY, values[b]!);
          else nearestRow(source, x, y, values[b]!);
        } else if (average) areaMeanRow(source, x, y, spanX, spanY, values[b]!);
        else bilinearRow(source, x, y, values[b]!);
      }
      sink(start + r, values);
    }
    progress((start + rows) / height);
  }
}

/** Sides of a frame cell in full-resolution pixels, at the frame's middle. */
function span(frame: Frame, map: ReturnType<typeof mapFrame>): { x: number; y: number } {
  const xs = [new Float64Array(frame.width), new Float64Array(frame.width)];
  const ys = [new Float64Array(frame.width), new Float64Array(frame.width)];
  const row = Math.max(0, Math.floor(frame.height / 2) - 1);
  map(row, xs[0]!, ys[0]!);
  map(row + 1, xs[1]!, ys[1]!);
  const column = Math.max(0, Math.floor(frame.width / 2) - 1);
  const next = Math.min(column + 1, frame.width - 1);
  const [ax, ay] = [xs[0]![next]! - xs[0]![column]!, ys[0]![next]! - ys[0]![column]!];
  const [bx, by] = [xs[1]![column]! - xs[0]![column]!, ys[1]![column]! - ys[0]![column]!];
  // The box in source pixels that has the area of the (perhaps slightly turned) cell along each axis.
  return { x: Math.hypot(ax, bx), y: Math.hypot(ay, by) };
}

function chooseLevel(raster: Raster, full: { x: number; y: number }): Level {
  let chosen = raster.levels[0]!;
  for (const level of raster.levels.slice(1)) {
    const factor = raster.levels[0]!.width / level.width;
    if (Math.min(full.x, full.y) / factor >= 4) chosen = level;
  }
  return chosen;
}

/** Scales positions to the level in place and gives the window that holds them with `pad` pixels around. */
function boundsOf(
  xs: Float64Array,
  ys: Float64Array,
  count: number,
  scaleX: number,
  scaleY: number,
  pad: number,
): { x: number; y: number; width: number; height: number } {
  let [west, east, north, south] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < count; i++) {
    xs[i]! /= scaleX;
    ys[i]! /= scaleY;
    const x = xs[i]!;
    const y = ys[i]!;
    if (x < west) west = x;
    if (x > east) east = x;
    if (y < north) north = y;
    if (y > south) south = y;
  }
  const x = Math.floor(west - pad);
  const y = Math.floor(north - pad);
  return { x, y, width: Math.ceil(east + pad) - x, height: Math.ceil(south + pad) - y };
}
