import type { FrameSummary } from '../../electron/service/contract.ts';

export const TILE_SIZE = 256;

type Size = Pick<FrameSummary, 'west' | 'north' | 'cellSize' | 'width' | 'height'>;

/** [west, south, east, north], m. */
export function extentOf(frame: Size): [number, number, number, number] {
  return [
    frame.west,
    frame.north - frame.height * frame.cellSize,
    frame.west + frame.width * frame.cellSize,
    frame.north,
  ];
}

/**
 * Metres a pixel for each zoom: zoom 0 lays the frame's longer side across one tile, every next zoom halves it.
 * The last is the first at least as fine as a cell; beyond it the map stretches what it has.
 */
export function resolutions(frame: Size): number[] {
  const longest = Math.max(frame.width, frame.height);
  const last = Math.max(0, Math.min(14, Math.ceil(Math.log2(longest / TILE_SIZE))));
  const coarsest = (longest * frame.cellSize) / TILE_SIZE;
  return Array.from({ length: last + 1 }, (_, zoom) => coarsest / 2 ** zoom);
}

/** A round step (1, 2 or 5 times a power of ten) that puts lines no closer than `spacing` pixels. */
export function roundStep(resolution: number, spacing: number): number {
  const least = resolution * spacing;
  const power = 10 ** Math.floor(Math.log10(least));
  for (const multiple of [1, 2, 5, 10]) if (multiple * power >= least * (1 - 1e-9)) return multiple * power;
  return 10 * power;
}

/** Multiples of `step` from `from` to `to`, both ends counted. */
export function ticks(from: number, to: number, step: number): number[] {
  const first = Math.ceil(from / step - 1e-9);
  const last = Math.floor(to / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => (first + i) * step);
}
