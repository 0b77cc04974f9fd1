import type { Polygon } from 'geojson';
import { cellsAlong } from '../features/cells.ts';
import { cellCount, type Frame, frameExtent, type Point } from '../grid/frame.ts';
import { outlines } from '../grid/outline.ts';
import { simplifyPath } from '../grid/simplify.ts';

/** Cells across a brush on which its stroke is laid out. */
const ACROSS = 48;
/** A stroke is not laid out coarser than this many cells across, nor on more cells in all. */
const LEAST_ACROSS = 6;
const MOST_CELLS = 8e6;

/**
 * The ground within half a width of a stroke, as one area: laid out on cells of a forty-eighth of the width (coarser
 * where the stroke reaches far), and its edge straightened by little more than one of them. What lies off the frame is cut off.
 *
 * @param path frame coordinates, m; one point is a dab
 * @param width m
 * @returns null where all of it lies off the frame; `too fine` where it reaches too far for so narrow a brush
 */
export function strokeArea(frame: Frame, path: readonly Point[], width: number): Polygon | 'too fine' | null {
  const line = simplifyPath(path, width / 60);
  const [west, south, east, north] = frameExtent(frame);
  const half = width / 2;
  const xs = line.map(([x]) => x);
  const ys = line.map(([, y]) => y);
  const left = Math.max(west, Math.min(...xs) - half);
  const right = Math.min(east, Math.max(...xs) + half);
  const bottom = Math.max(south, Math.min(...ys) - half);
  const top = Math.min(north, Math.max(...ys) + half);
  if (!(right > left && top > bottom)) return null;
  const cellSize = Math.max(width / ACROSS, Math.sqrt(((right - left) * (top - bottom)) / MOST_CELLS));
  if (cellSize > width / LEAST_ACROSS) return 'too fine';
  const fine: Frame = {
    ...frame,
    west: left,
    north: top,
    cellSize,
    width: Math.ceil((right - left) / cellSize),
    height: Math.ceil((top - bottom) / cellSize),
  };
  const inside = new Int32Array(cellCount(fine));
  cellsAlong(
    fine,
    line.length > 1 ? { type: 'LineString', coordinates: line } : { type: 'Point', coordinates: line[0]! },
    half,
    (i) => {
      inside[i] = 1;
    },
  );
  // Less leaves the steps of a slanting edge in it.
  const [rings] = outlines(fine, inside, 1, 1.2 * cellSize);
  return rings && rings.length > 0 ? { type: 'Polygon', coordinates: rings } : null;
}
