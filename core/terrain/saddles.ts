import { cellCentre, type Grid, type Point } from '../grid/frame.ts';
import { indexOffsets, NEIGHBOURS_8 } from '../grid/neighbours.ts';
import { risingOrder } from '../grid/sorting.ts';
import { fillDepressions } from './filling.ts';
import { flowDirections, NO_RECEIVER } from './flow.ts';
import { sampleAt } from './sample.ts';
import { COARSE_CELL, type FormsLeftOut, type Saddle } from './types.ts';

/** How far down each side the fall of a saddle is followed, m along the flow (our choice). */
const FALL_SEARCH = 250;
/** Height above a saddle at which the width of its gap is taken, m. */
const GAP_HEIGHT = 3;
/** How far along the ridge the sides of the gap are looked for, m. */
const GAP_SEARCH = 200;
/** A side of a saddle must fall at least this much, m. */
const LEAST_FALL = 2;
/** A coarse grid lists as many saddles as this many metres hold cells, and no fewer than ten (our choice). */
const LISTED = 600;
const LEAST_LISTED = 10;

/** Where the ridge between two summits is lowest: a cell and the rise to the lower of the two. */
interface Pass {
  cell: number;
  rise: number;
}

/**
 * Passes by merging summits from the top down: cells are taken by falling elevation, each joins the hill it
 * touches, and a cell that touches two hills is the pass between them. Its *rise*, the height of the lower
 * summit above it, is its persistence (Edelsbrunner, Letscher & Zomorodian 2002): passes below `leastRise` are
 * noise and are left out.
 */
function findPasses(surface: Grid, leastRise: number): Pass[] {
  const { frame, cells } = surface;
  const { width, height } = frame;
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const { dx, dy } = NEIGHBOURS_8;
  const order = risingOrder(cells);

  const parent = new Int32Array(cells.length).fill(-1);
  const summit = new Float32Array(cells.length);
  const rootOf = (cell: number): number => {
    let r = cell;
    while (parent[r] !== r) {
      parent[r] = parent[parent[r]!]!;
      r = parent[r]!;
    }
    return r;
  };
  const passes: Pass[] = [];
  for (let n = order.length - 1; n >= 0; n--) {
    const i = order[n]!;
    const x = i % width;
    const y = Math.floor(i / width);
    parent[i] = i;
    summit[i] = cells[i]!;
    let own = i;
    for (let k = 0; k < 8; k++) {
      const column = x + dx[k]!;
      const row = y + dy[k]!;
      if (column < 0 || row < 0 || column >= width || row >= height) continue;
      const j = i + offsets[k]!;
      if (parent[j]! < 0) continue;
      const other = rootOf(j);
      if (other === own) continue;
      const rise = Math.min(summit[own]!, summit[other]!) - cells[i]!;
      // The cell itself is its own first hill, with no rise, and is never a pass to its first neighbour.
      if (own !== i && rise >= leastRise) passes.push({ cell: i, rise });
      if (summit[own]! > summit[other]!) parent[other] = own;
      else {
        parent[own] = other;
        own = other;
      }
    }
  }
  return passes;
}

/**
 * Saddles that matter on the ground: passes that rise to both summits and fall off to both sides, the most marked
 * first: by the least of what makes a saddle, its rise and the falls to its two sides. A coarse grid cannot tell one
 * low gap from an error, so there a saddle must rise and fall by more, and only the most marked are listed.
 *
 * @param surface the grid landforms are read on (`coarsen`)
 * @param detail the full elevation, for the width of the gap
 */
export function findSaddles(
  surface: Grid,
  detail: Grid,
): { saddles: Saddle[] } & Pick<FormsLeftOut, 'faintSaddles' | 'lesserSaddles'> {
  const { frame, cells } = surface;
  const { cellSize } = frame;
  // Public coarse grids carry errors of several metres, so a pass must stand out more there (our choice).
  const leastRise = Math.max(3, cellSize / 10);
  const leastFall = Math.max(LEAST_FALL, cellSize / 10);
  const passes = findPasses(surface, leastRise);
  const filled = fillDepressions(surface);
  const directions = flowDirections(filled).cells;
  const found: Saddle[] = [];
  let faintSaddles = 0;
  passes.sort((a, b) => b.rise - a.rise || a.cell - b.cell);
  for (const { cell, rise } of passes) {
    const falls = fallsOf(filled, directions, cell);
    if (!falls) continue;
    if (falls[1] < leastFall) {
      faintSaddles++;
      continue;
    }
    const at = cellCentre(frame, cell);
    const near = found.some((s) => Math.hypot(s.at[0] - at[0], s.at[1] - at[1]) < 5 * cellSize);
    if (near) continue;
    found.push({ id: '', at, elevation: cells[cell]!, rise, falls, width: gapWidth(detail, at) });
  }
  const mark = ({ rise, falls }: Saddle): number => Math.min(rise, falls[1]);
  found.sort((a, b) => mark(b) - mark(a) || b.rise - a.rise);
  const most =
    cellSize >= COARSE_CELL
      ? Math.max(LEAST_LISTED, Math.round(LISTED / cellSize))
      : Number.POSITIVE_INFINITY;
  const saddles = found.slice(0, most).map((saddle, n) => ({ ...saddle, id: `saddle-${n + 1}` }));
  return { saddles, faintSaddles, lesserSaddles: found.length - saddles.length };
}

/** Falls to the two sides, the larger first; null where the ground does not fall off on two sides. */
function fallsOf(filled: Grid, directions: Uint8Array, cell: number): [number, number] | null {
  const { frame, cells } = filled;
  const { width, height, cellSize } = frame;
  const cx = cell % width;
  const cy = Math.floor(cell / width);
  const z = cells[cell]!;
  for (const radius of [1, 2, 3, 5, 8]) {
    const steps = Math.max(8, Math.round(2 * Math.PI * radius));
    const ring: number[] = [];
    for (let n = 0; n < steps; n++) {
      const angle = (2 * Math.PI * n) / steps;
      const x = cx + Math.round(radius * Math.cos(angle));
      const y = cy + Math.round(radius * Math.sin(angle));
      if (x < 0 || y < 0 || x >= width || y >= height) return null;
      ring.push(y * width + x);
    }
    const lowest = lowestOfArcs(ring, cells, z);
    if (lowest.length < 2) continue;
    const falls = lowest.map((start) => {
      let i = start;
      let walked = radius * cellSize;
      while (directions[i]! > 0 && directions[i]! < NO_RECEIVER) {
        const k = directions[i]! - 1;
        walked += NEIGHBOURS_8.length[k]! * cellSize;
        if (walked > FALL_SEARCH) break;
        i += NEIGHBOURS_8.dx[k]! + NEIGHBOURS_8.dy[k]! * width;
      }
      return z - cells[i]!;
    });
    falls.sort((a, b) => b - a);
    if (falls[1]! >= LEAST_FALL) return [falls[0]!, falls[1]!];
  }
  return null;
}

/** The lowest cell of each unbroken run of cells below `z` round a ring. */
function lowestOfArcs(ring: readonly number[], cells: Float32Array, z: number): number[] {
  const start = ring.findIndex((i) => !(cells[i]! < z));
  if (start < 0) return [];
  const lowest: number[] = [];
  let inside = false;
  for (let n = 1; n <= ring.length; n++) {
    const i = ring[(start + n) % ring.length]!;
    if (!(cells[i]! < z)) {
      inside = false;
      continue;
    }
    const last = lowest.length - 1;
    if (!inside) lowest.push(i);
    else if (cells[i]! < cells[lowest[last]!]!) lowest[last] = i;
    inside = true;
  }
  return lowest;
}

/** Shortest line through the saddle between ground 3 m above it, m; null where it spans less than 3 cells. */
function gapWidth(detail: Grid, at: Point): number | null {
  const { cellSize } = detail.frame;
  const target = sampleAt(detail, at[0], at[1]) + GAP_HEIGHT;
  const reach = (angle: number): number => {
    const step = cellSize / 2;
    let before = target - GAP_HEIGHT;
    for (let d = step; d <= GAP_SEARCH; d += step) {
      const z = sampleAt(detail, at[0] + d * Math.sin(angle), at[1] + d * Math.cos(angle));
      if (Number.isNaN(z)) break;
      if (z >= target) return d - (step * (z - target)) / (z - before);
      before = z;
    }
    return Number.POSITIVE_INFINITY;
  };
  let width = Number.POSITIVE_INFINITY;
  for (let n = 0; n < 18; n++) {
    const angle = (Math.PI * n) / 18;
    width = Math.min(width, reach(angle) + reach(angle + Math.PI));
  }
  return Number.isFinite(width) && width >= 3 * cellSize ? width : null;
}
