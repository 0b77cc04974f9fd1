import type { Frame, Grid, TypedArray } from '../../core/grid/frame.ts';
import {
  ASPECT_RAMP,
  CLASSES,
  type PaintLayer,
  type PaintSource,
  patternAt,
  RAMPS,
  type RampLayer,
  topOf,
} from './layers.ts';
import { type ClassStyle, inPattern } from './palette.ts';
import { parseColour } from './ramp.ts';
import { type PaintWindow, sample } from './sample.ts';

export { legendOf } from './layers.ts';
export { encodePng } from './png.ts';

/** Paints a window of a layer: the map's tiles and the report's figures come from here. */

/** Colour and opacity of every pixel; clear outside the frame and where there is no data or no such layer yet. */
export function paintWindow(layer: PaintLayer, source: PaintSource, window: PaintWindow): Uint8ClampedArray {
  const out = new Uint8ClampedArray(window.width * window.height * 4);
  const classes = CLASSES[layer];
  const ramp = RAMPS[layer];
  if (layer === 'imagery') paintImagery(source, window, out);
  else if (layer === 'aspect') paintAspect(source.aspect, window, out);
  else if (classes) paintClasses(classes.grid(source), classes.styles, window, out);
  else if (ramp) paintRamp(ramp, source, window, out);
  return out;
}

function paintRamp(layer: RampLayer, source: PaintSource, window: PaintWindow, out: Uint8ClampedArray): void {
  const grid = layer.grid(source);
  if (!grid) return;
  const top = topOf(layer, grid.cells);
  const values = sample(grid, window, layer.sampling);
  const origin = patternOrigin(grid.frame, window);
  for (let pixel = 0; pixel < values.length; pixel++) {
    const value = values[pixel]!;
    if (Number.isNaN(value)) continue;
    const place = layer.place(value, top);
    const opacity = layer.opacity(place);
    if (!(opacity > 0)) continue;
    const step = place <= 0 ? 0 : place >= 1 ? 255 : Math.round(place * 255);
    const to = pixel * 4;
    out[to] = layer.ramp[step * 3]!;
    out[to + 1] = layer.ramp[step * 3 + 1]!;
    out[to + 2] = layer.ramp[step * 3 + 2]!;
    out[to + 3] = opacity;
    const pattern = patternAt(layer, place);
    if (pattern) mark(out, to, pattern, origin, pixel, window.width);
  }
}

function paintClasses(
  grid: Grid<TypedArray> | undefined,
  styles: Record<number, ClassStyle>,
  window: PaintWindow,
  out: Uint8ClampedArray,
): void {
  if (!grid) return;
  const colours = new Map(
    Object.entries(styles).map(([value, style]) => [Number(value), parseColour(style.colour)]),
  );
  const values = sample(grid, window, 'nearest');
  const origin = patternOrigin(grid.frame, window);
  for (let pixel = 0; pixel < values.length; pixel++) {
    const style = styles[values[pixel]!];
    if (!style) continue;
    const colour = colours.get(values[pixel]!)!;
    const to = pixel * 4;
    out[to] = colour[0];
    out[to + 1] = colour[1];
    out[to + 2] = colour[2];
    out[to + 3] = style.opacity ?? 255;
    mark(out, to, style.pattern, origin, pixel, window.width);
  }
}

function paintAspect(grid: Grid | undefined, window: PaintWindow, out: Uint8ClampedArray): void {
  if (!grid) return;
  // Directions cannot be averaged as numbers, so the cell in the middle of the pixel speaks for it.
  const values = sample(grid, window, 'nearest');
  for (let pixel = 0; pixel < values.length; pixel++) {
    const value = values[pixel]!;
    if (Number.isNaN(value)) continue;
    const step = Math.round(((((value % 360) + 360) % 360) / 360) * 255) * 3;
    const to = pixel * 4;
    out[to] = ASPECT_RAMP[step]!;
    out[to + 1] = ASPECT_RAMP[step + 1]!;
    out[to + 2] = ASPECT_RAMP[step + 2]!;
    out[to + 3] = 255;
  }
}

function paintImagery(source: PaintSource, window: PaintWindow, out: Uint8ClampedArray): void {
  const imagery = source.display ?? source.imagery;
  if (!imagery) return;
  const { frame, valid } = imagery;
  const mask = sample({ frame, cells: valid }, window, 'nearest');
  for (let channel = 0; channel < 3; channel++) {
    const band = imagery.bands[channel] ?? imagery.bands[0]!;
    const values = sample({ frame, cells: band }, window, 'mean', valid);
    for (let pixel = 0; pixel < values.length; pixel++) {
      if (!(mask[pixel]! > 0)) continue;
      out[pixel * 4 + channel] = values[pixel]!;
      out[pixel * 4 + 3] = 255;
    }
  }
}

/** Darkens a light colour and lightens a dark one where the pattern's mark lies. */
function mark(
  out: Uint8ClampedArray,
  to: number,
  pattern: ClassStyle['pattern'],
  origin: [number, number],
  pixel: number,
  width: number,
): void {
  const y = Math.floor(pixel / width);
  if (!inPattern(pattern, origin[0] + pixel - y * width, origin[1] + y)) return;
  const light = out[to]! * 0.3 + out[to + 1]! * 0.59 + out[to + 2]! * 0.11;
  const shift = light > 110 ? -46 : 58;
  for (let channel = 0; channel < 3; channel++) out[to + channel] = out[to + channel]! + shift;
}

/** Pixels from the frame's corner, so that patterns run on from tile to tile. */
const patternOrigin = (frame: Frame, window: PaintWindow): [number, number] => [
  Math.round((window.west - frame.west) / window.resolution),
  Math.round((frame.north - window.north) / window.resolution),
];
