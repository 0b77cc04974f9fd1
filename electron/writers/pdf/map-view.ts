import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import { ofKind } from '../../../core/features/feature.ts';
import { type Frame, frameExtent } from '../../../core/grid/frame.ts';
import { extentOf } from '../bounds.ts';
import type { TileLayer } from '../layers.ts';
import { paintWindow } from '../paint.ts';
import type { PaintWindow } from '../sample.ts';

/** What ground a figure shows, and the picture under its lines. */

export interface MapView {
  /** The figure on the sheet, points. */
  x: number;
  y: number;
  width: number;
  height: number;
  /** North-west corner in the frame's CRS and metres a point. */
  west: number;
  north: number;
  scale: number;
}

/** Fits a region into a figure: the boundary with some ground around it, or the whole frame without one, unless named. */
export function viewOf(
  artifacts: Artifacts,
  figure: { x: number; y: number; width: number; height: number },
  region: [number, number, number, number] = regionOf(artifacts, artifacts.elevation.frame),
): MapView {
  const [west, south, east, north] = region;
  const scale = Math.max((east - west) / figure.width, (north - south) / figure.height);
  // No wider than there is ground to show.
  const { width: columns, cellSize } = artifacts.elevation.frame;
  const width = Math.min(figure.width, Math.max(figure.width / 2, (columns * cellSize) / scale));
  return {
    ...figure,
    width,
    west: (west + east) / 2 - (width * scale) / 2,
    north: (south + north) / 2 + (figure.height * scale) / 2,
    scale,
  };
}

export function regionOf(artifacts: Artifacts, frame: Frame): [number, number, number, number] {
  const box = extentOf(ofKind(artifacts.features, 'boundary').map(({ geometry }) => geometry));
  if (!box) return frameExtent(frame);
  const [west, south, east, north] = box;
  const around = 0.12 * Math.max(east - west, north - south);
  return [west - around, south - around, east + around, north + around];
}

export const toSheet = (view: MapView, position: readonly number[]): [number, number] => [
  view.x + (position[0]! - view.west) / view.scale,
  view.y + (view.north - position[1]!) / view.scale,
];

/** Pixels a point: 150 an inch, and no more than so many a cell, since there is nothing finer to show. */
export interface Detail {
  pixels: number;
  perCell: number;
}
const DETAIL: Detail = { pixels: 150 / 72, perCell: 4 };
const PAPER = [247, 246, 240];

/**
 * Paints layers one over the other, bottom first, onto opaque pixels. Over shade, a layer that covers the ground is
 * darkened by it, so that the lie of the land stays to be seen.
 */
export function paintView(
  view: MapView,
  layers: readonly TileLayer[],
  artifacts: Artifacts,
  { pixels, perCell }: Detail = DETAIL,
): { width: number; height: number; rgb: Uint8Array } {
  const detail = Math.min(pixels, (perCell * view.scale) / artifacts.elevation.frame.cellSize);
  const width = Math.max(1, Math.round(view.width * detail));
  const height = Math.max(1, Math.round(view.height * detail));
  const window: PaintWindow = {
    west: view.west,
    north: view.north,
    resolution: (view.width * view.scale) / width,
    width,
    height,
  };
  const rgb = new Uint8Array(width * height * 3);
  for (let at = 0; at < rgb.length; at++) rgb[at] = PAPER[at % 3]!;
  for (const [index, layer] of layers.entries()) {
    const over = paintWindow(layer, artifacts, window);
    const onShade = index > 0 && layers[index - 1] === 'shade';
    for (let pixel = 0; pixel < width * height; pixel++) {
      const opacity = over[pixel * 4 + 3]! / 255;
      if (opacity === 0) continue;
      const relief = onShade ? 0.5 + (0.5 * Math.min(255, rgb[pixel * 3]! * 1.25)) / 255 : 1;
      for (let channel = 0; channel < 3; channel++) {
        const to = pixel * 3 + channel;
        rgb[to] = over[pixel * 4 + channel]! * relief * opacity + rgb[to]! * (1 - opacity);
      }
    }
  }
  return { width, height, rgb };
}
