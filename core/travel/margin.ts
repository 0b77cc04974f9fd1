import type { Feature } from '../features/feature.ts';
import { cellCount, type Frame, type Grid } from '../grid/frame.ts';
import { boundaryRings } from './owner.ts';

/** Shares of what was sought on the property's own ground and on ground that reaches twice as far, on equal cells. */
export interface MarginShares {
  usual: Float64Array;
  wide: Float64Array;
}

/** Part of the map's width and height that is taken off on every side at least. */
const LEAST = 0.08;

/** Cells to take off on the west, north, east and south. */
type Strip = [west: number, north: number, east: number, south: number];

/**
 * How much of the map to take off to see what its edge does: half of the margin between the property line and the edge
 * of the data, so that the margin there is is twice the margin tried, and a part of the map at least.
 */
function stripOf(frame: Frame, features: readonly Feature[]): Strip {
  const { width, height, west, north, cellSize } = frame;
  const least: Strip = [width, height, width, height].map((cells) => Math.round(cells * LEAST)) as Strip;
  const points = boundaryRings(features).flat();
  if (points.length === 0) return least;
  let [left, top, right, bottom] = [width, height, width, height];
  for (const [x, y] of points) {
    left = Math.min(left, (x - west) / cellSize);
    top = Math.min(top, (north - y) / cellSize);
    right = Math.min(right, width - (x - west) / cellSize);
    bottom = Math.min(bottom, height - (north - y) / cellSize);
  }
  return [left, top, right, bottom].map((margin, k) => Math.max(least[k]!, Math.round(margin / 2))) as Strip;
}

/**
 * The same ground with a strip of the map taken off on every side. Areas that lay in the strip alone, as the map's own
 * edges do, move in to the new edge: travel from beyond comes in there.
 */
export function drawnIn(
  resistance: Grid,
  areas: Grid<Int32Array>,
  features: readonly Feature[],
): { resistance: Grid; areas: Grid<Int32Array> } {
  const { frame } = resistance;
  const { width, height } = frame;
  const [west, north, east, south] = stripOf(frame, features);
  const cells = new Float32Array(cellCount(frame)).fill(Number.NaN);
  const labels = new Int32Array(cells.length);
  const kept = new Set<number>();
  for (let row = north; row < height - south; row++)
    for (let column = west; column < width - east; column++) {
      const i = row * width + column;
      cells[i] = resistance.cells[i]!;
      labels[i] = areas.cells[i]!;
      if (labels[i]! > 0 && !Number.isNaN(cells[i]!)) kept.add(labels[i]!);
    }
  for (let i = 0; i < cells.length; i++) {
    const area = areas.cells[i]!;
    if (area === 0 || kept.has(area)) continue;
    const column = Math.min(width - east - 1, Math.max(west, i % width));
    const row = Math.min(height - south - 1, Math.max(north, Math.floor(i / width)));
    const to = row * width + column;
    if (labels[to] === 0 && !Number.isNaN(cells[to]!)) labels[to] = area;
  }
  return { resistance: { frame, cells }, areas: { frame, cells: labels } };
}
