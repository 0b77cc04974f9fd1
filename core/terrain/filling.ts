import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { findBasins, findPasses, labelCells, OUT, OUTSIDE, type Passes } from './basins.ts';

/**
 * Raises every closed depression to its spill, so that each cell has a way down or level to the map's edge or
 * to no data. Water may leave over the edge of the map and into no data. Exact: the result holds no number that is
 * not in the input. NaN stays NaN.
 *
 * By the graph of basins (Cordonnier, Bovy & Braun, "A versatile, linear complexity algorithm for flow routing in
 * topographies with depressions", Earth Surface Dynamics 7, 2019): each cell is in the basin of a minimum it can
 * reach without a climb, each basin has one level it spills at, and a cell is filled to that level or stands above it.
 * Basins meet first at cells whose lower neighbours fall apart into groups (`lower-link.ts`), so the graph has these
 * for its edges and not every pair of cells along a divide. Equal cells count as rising in the order of the grid, so
 * level ground needs no care of its own.
 *
 * @param sinks cells where water goes underground: any value but 0; nothing is filled above such a cell
 */
export function fillDepressions(
  elevation: Grid,
  progress: Progress = silent,
  sinks: Uint8Array | null = null,
): Grid<Float32Array> {
  const { frame, cells } = elevation;
  assertOnFrame(frame, elevation);
  const labels = new Int32Array(cells.length);
  markOutlets(elevation, sinks, labels);
  const given = labelCells(elevation, labels, part(progress, 0, 0.7));
  const basins = findBasins(labels, given);
  progress(0.75);
  const spill = spillLevels(findPasses(cells, frame.width, labels, given, basins), basins.count);
  progress(0.9);
  // The levels of the labels, and then of the cells, take the place of what is read just before.
  const { minus } = basins;
  const levels = new Float32Array(minus.buffer);
  for (let label = 1; label <= given.count; label++) levels[label] = spill[-minus[label]!]!;
  const filled = new Float32Array(labels.buffer);
  for (let i = 0; i < labels.length; i++) {
    const z = cells[i]!;
    const level = labels[i]! < 0 ? z : levels[labels[i]!]!;
    filled[i] = Math.max(z, level) + 0; // of the two zeros always the same
  }
  progress(1);
  return { frame, cells: filled };
}

/** Marks no data, and the cells that water leaves from: on the map's edge, beside no data, and sinks. */
function markOutlets({ frame, cells }: Grid, sinks: Uint8Array | null, labels: Int32Array): void {
  const { width, height } = frame;
  const last = cells.length - width;
  labels.fill(OUT, 0, width);
  labels.fill(OUT, last);
  for (let i = 0; i < last; i += width) labels[i] = labels[i + width - 1] = OUT;
  if (sinks) for (let i = 0; i < sinks.length; i++) if (sinks[i] !== 0) labels[i] = OUT;
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (!Number.isNaN(cells[i]!)) continue;
      for (let row = Math.max(0, y - 1); row <= Math.min(height - 1, y + 1); row++)
        labels.fill(OUT, row * width + Math.max(0, x - 1), row * width + Math.min(width, x + 2));
    }
  }
}

/**
 * The level each basin spills at. In rounds each group of basins takes its lowest pass and joins the group behind it
 * (Borůvka 1926); what is left of a group's passes then serves the other. A group spills at its pass or where that
 * other one does, whichever is higher.
 */
function spillLevels({ count, a, b, level }: Passes, basins: number): Float32Array {
  const spill = new Float32Array(basins + 1).fill(Number.NEGATIVE_INFINITY);
  const joins = new Int32Array(basins + 1);
  for (let basin = 0; basin <= basins; basin++) joins[basin] = basin;
  const lowest = new Int32Array(basins + 1).fill(-1);
  const history = new Int32Array(basins + 1);
  let joined = 0;
  let left = count;
  while (left > 0) {
    for (let n = 0; n < left; n++) {
      const z = level[n]!;
      const p = a[n]!;
      const q = b[n]!;
      if (lowest[p]! < 0 || z < level[lowest[p]!]!) lowest[p] = n;
      if (lowest[q]! < 0 || z < level[lowest[q]!]!) lowest[q] = n;
    }
    const first = joined;
    for (let n = 0; n < left; n++) {
      for (let own = a[n]!, other = b[n]!, side = 0; side < 2; side++) {
        // Of two groups that share their lowest pass one stays.
        if (own !== OUTSIDE && lowest[own] === n && (lowest[other] !== n || other < own)) {
          joins[own] = other;
          spill[own] = level[n]!;
          history[joined++] = own;
        }
        [own, other] = [other, own];
      }
    }
    for (let n = first; n < joined; n++) {
      let end = history[n]!;
      while (joins[end] !== end) end = joins[end]!;
      for (let at = history[n]!; at !== end; ) {
        const next = joins[at]!;
        joins[at] = end;
        at = next;
      }
    }
    let kept = 0;
    for (let n = 0; n < left; n++) {
      const p = joins[a[n]!]!;
      const q = joins[b[n]!]!;
      lowest[p] = lowest[q] = -1;
      if (p === q) continue;
      a[kept] = p;
      b[kept] = q;
      level[kept++] = level[n]!;
    }
    left = kept;
  }
  // Along a chain of one round the passes fall, so a group's own and the last group's level decide.
  for (let n = joined - 1; n >= 0; n--) {
    const own = history[n]!;
    spill[own] = Math.max(spill[own]!, spill[joins[own]!]!);
  }
  return spill;
}
