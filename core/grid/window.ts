import type { Frame, Grid, Point, TypedArray } from './frame.ts';

/** The cells of a frame within `reach` metres of a spot, east-west and north-south, as a frame that lines up with it. */
export function windowAt(frame: Frame, [x, y]: Point, reach: number): Frame {
  const { west, north, cellSize, width, height } = frame;
  const clamp = (value: number, most: number) => Math.min(most, Math.max(0, value));
  const left = clamp(Math.floor((x - reach - west) / cellSize), width - 1);
  const right = clamp(Math.ceil((x + reach - west) / cellSize), width);
  const top = clamp(Math.floor((north - y - reach) / cellSize), height - 1);
  const bottom = clamp(Math.ceil((north - y + reach) / cellSize), height);
  return {
    ...frame,
    west: west + left * cellSize,
    north: north - top * cellSize,
    width: Math.max(1, right - left),
    height: Math.max(1, bottom - top),
  };
}

/** The part of a grid under a window made by `windowAt`. */
export function cropTo<A extends TypedArray>({ frame, cells }: Grid<A>, window: Frame): Grid<A> {
  const left = Math.round((window.west - frame.west) / frame.cellSize);
  const top = Math.round((frame.north - window.north) / frame.cellSize);
  const out = new (cells.constructor as new (length: number) => A)(window.width * window.height);
  for (let row = 0; row < window.height; row++) {
    const start = (top + row) * frame.width + left;
    out.set(cells.subarray(start, start + window.width), row * window.width);
  }
  return { frame: window, cells: out };
}
