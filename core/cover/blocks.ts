import { distanceTo, nearestTo } from '../grid/distance.ts';
import { cellCount, type Grid } from '../grid/frame.ts';
import { outlines } from '../grid/outline.ts';
import { findPatches } from '../grid/patches.ts';
import { COVER, type CoverBlock } from './types.ts';

/** 1 acre: smaller pieces of cover are stops on the way, not blocks. Our assumption. */
const MIN_AREA = 4047;
/** A strip narrower than this does not join two blocks, m. Our assumption. */
const MIN_NECK = 25;

/** Timber, brush and wet ground hide a deer; fields, water and buildings do not. */
const isCover = (code: number): boolean =>
  code === COVER.brush || code === COVER.deciduous || code === COVER.evergreen || code === COVER.wet;

/**
 * Signed distance to the edge of cover, m: positive in the open, negative inside cover, half a cell at the cells
 * along the edge. NaN where the cover is unknown or all known ground is of one kind.
 */
export function distanceToEdge(cover: Grid<Uint8Array>): Grid {
  const { frame } = cover;
  const hides = Uint8Array.from(cover.cells, (code) => (isCover(code) ? 1 : 0));
  const bares = Uint8Array.from(cover.cells, (code) => (code !== 0 && !isCover(code) ? 1 : 0));
  const toCover = distanceTo(frame, hides).cells;
  const toOpen = distanceTo(frame, bares).cells;
  const half = frame.cellSize / 2;
  const cells = new Float32Array(cellCount(frame));
  for (let i = 0; i < cells.length; i++) {
    const distance = hides[i] ? half - toOpen[i]! : bares[i] ? toCover[i]! - half : Number.NaN;
    cells[i] = Number.isFinite(distance) ? distance : Number.NaN;
  }
  return { frame, cells };
}

/**
 * Blocks of cover. Opened by distance: the cores of cover farther than half a neck from its edge are labelled,
 * and each cover cell within half a neck (and a cell's diagonal) of a core joins the nearest one, so that a strip
 * narrower than `minNeck` neither joins two blocks nor makes one.
 *
 * @returns `blocks` numbered from 1, largest first, and one table row each
 */
export function coverBlocks(
  cover: Grid<Uint8Array>,
  { minArea = MIN_AREA, minNeck = MIN_NECK } = {},
): { blocks: Grid<Int32Array>; table: CoverBlock[] } {
  const { frame } = cover;
  const { cellSize } = frame;
  const hides = Uint8Array.from(cover.cells, (code) => (isCover(code) ? 1 : 0));
  const outside = Uint8Array.from(hides, (value) => 1 - value);
  // From a cell centre to the edge of cover; the margin of the map is no edge.
  const inside = distanceTo(frame, outside).cells;
  const depth = Math.max(minNeck / 2, cellSize);
  const core = Uint8Array.from(inside, (distance, i) =>
    hides[i] && distance - cellSize / 2 > depth ? 1 : 0,
  );
  const cores = findPatches(frame, core, 4);
  const { distance, nearest } = nearestTo(frame, cores.labels.cells);
  const grown = new Int32Array(cellCount(frame));
  const reach = depth + cellSize * Math.SQRT2;
  for (let i = 0; i < grown.length; i++)
    if (hides[i] && distance.cells[i]! <= reach) grown[i] = cores.labels.cells[nearest.cells[i]!]!;

  const { labels, patches } = findPatches(frame, grown, 4, Math.max(minArea, cellSize * cellSize));
  const rings = outlines(frame, labels.cells, patches.length, cellSize);
  const table = patches.map(
    (patch, k): CoverBlock => ({
      id: patch.label,
      area: patch.area,
      centre: patch.centre,
      outline: rings[k]!,
    }),
  );
  return { blocks: labels, table };
}
