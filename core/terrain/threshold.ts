import type { Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { findReaches, type Reach } from './reaches.ts';
import type { DrainageStart } from './types.ts';

/** Ground that starts a drainage line where the terrain does not decide, m²: 2 ha, about 5 acres (our assumption). */
const CHANNEL_AREA = 20_000;
/** On coarse cells a line needs at least this many cells to mean anything (our assumption). */
const LEAST_CELLS = 50;
/** Thresholds tried, m². */
const CANDIDATES = [5_000, 7_000, 10_000, 14_000, 20_000, 28_000, 40_000, 56_000, 80_000, 110_000, 160_000];
/** Means that differ by less than this many standard errors pass for equal. */
const SIGNIFICANT = 2;
/** Streams of each kind that a comparison needs. */
const LEAST_STREAMS = 5;

/**
 * Cells that start a drainage line. Unless the user set an area, the smallest threshold for which the mean drop
 * of first-order streams does not differ from that of higher orders (the constant-drop test of Tarboton, Bras &
 * Rodriguez-Iturbe, "On the extraction of channel networks from digital elevation data", Hydrological Processes 5,
 * 1991: |t| < 2); below it the lines climb out of the channels onto hillsides, whose drops differ. Where no
 * threshold passes, or the map holds too few streams to tell, 2 ha.
 *
 * @param area m², or null to let the tool choose
 */
export function chooseThreshold(
  directions: Grid<Uint8Array>,
  accumulation: Grid<Uint32Array>,
  elevation: Grid,
  area: number | null,
  progress: Progress = silent,
): DrainageStart {
  const cellArea = elevation.frame.cellSize ** 2;
  const cellsOf = (squareMetres: number): number => Math.max(2, Math.round(squareMetres / cellArea));
  const start = (cells: number, how: DrainageStart['how']): DrainageStart => ({
    cells,
    area: cells * cellArea,
    how,
  });
  if (area !== null) return start(cellsOf(area), 'set by the user');
  for (const [n, candidate] of CANDIDATES.entries()) {
    progress(n / CANDIDATES.length);
    const cells = Math.max(LEAST_CELLS, cellsOf(candidate));
    const t = dropDifference(findReaches(directions, accumulation, cells), elevation);
    if (t === null) break;
    if (Math.abs(t) < SIGNIFICANT) return start(cells, 'constant drop');
  }
  return start(Math.max(LEAST_CELLS, cellsOf(CHANNEL_AREA)), 'common size');
}

/**
 * By how many standard errors the mean drop of first-order streams differs from that of higher ones (two-sample t
 * with pooled variance); null when there are too few of either. A Strahler stream is all reaches of one order in a
 * row; those that run off the map are left out, since their whole drop is not known.
 */
export function dropDifference(reaches: readonly Reach[], elevation: Grid): number | null {
  const head = reaches.map((reach) => reach.cells[0]!);
  const first: number[] = [];
  const higher: number[] = [];
  // Tributaries come after what they join, so going up the list a stream's head is known when its mouth comes.
  for (let k = reaches.length - 1; k >= 0; k--) {
    const { order, next, cells } = reaches[k]!;
    if (next < 0) continue;
    if (reaches[next]!.order === order) {
      head[next] = head[k]!;
      continue;
    }
    const drop = elevation.cells[head[k]!]! - elevation.cells[cells[cells.length - 1]!]!;
    (order === 1 ? first : higher).push(drop);
  }
  if (first.length < LEAST_STREAMS || higher.length < LEAST_STREAMS) return null;
  const mean = (values: number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [a, b] = [mean(first), mean(higher)];
  const squares = (values: number[], centre: number): number =>
    values.reduce((sum, value) => sum + (value - centre) ** 2, 0);
  const pooled = (squares(first, a) + squares(higher, b)) / (first.length + higher.length - 2);
  if (pooled === 0) return a === b ? 0 : Number.POSITIVE_INFINITY;
  return (a - b) / Math.sqrt(pooled * (1 / first.length + 1 / higher.length));
}
