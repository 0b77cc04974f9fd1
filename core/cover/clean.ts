import { nearestTo } from '../grid/distance.ts';
import type { Frame } from '../grid/frame.ts';
import { findPatches } from '../grid/patches.ts';

/**
 * Takes the specks out of a class grid: each cell first takes the class that holds five or more of the nine
 * cells around it, then every patch (4 neighbours) smaller than `minArea` takes the class of its nearest kept cell.
 * Cells of 0 (unknown) stay 0 and lend nothing.
 *
 * @param minArea m²; a patch of a single cell of at least this area stays
 */
export function cleanClasses(frame: Frame, classes: Uint8Array, minArea: number): Uint8Array {
  const { width, height, cellSize } = frame;
  if (cellSize * cellSize >= minArea) return classes.slice();
  const smooth = classes.slice();
  const votes = new Uint8Array(256);
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1, i = y * width + 1; x < width - 1; x++, i++) {
      if (classes[i] === 0) continue;
      votes.fill(0);
      for (let dy = -width; dy <= width; dy += width) {
        for (let j = i + dy - 1; j <= i + dy + 1; j++) {
          const value = classes[j]!;
          if (value !== 0 && ++votes[value]! >= 5) smooth[i] = value;
        }
      }
    }
  }
  const { labels, patches } = findPatches(frame, smooth, 4, minArea);
  if (patches.length === 0) return smooth;
  const { nearest } = nearestTo(frame, labels.cells);
  for (let i = 0; i < smooth.length; i++) {
    if (smooth[i] !== 0 && labels.cells[i] === 0) smooth[i] = smooth[nearest.cells[i]!]!;
  }
  return smooth;
}
