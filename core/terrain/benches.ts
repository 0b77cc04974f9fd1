import { distanceTo } from '../grid/distance.ts';
import type { Grid } from '../grid/frame.ts';
import { outlines } from '../grid/outline.ts';
import { findPatches } from '../grid/patches.ts';
import { sampleAt } from './sample.ts';
import type { Bench } from './types.ts';

/** All of these are our choice of what a person would call a bench; degrees and metres. */
const STEEPEST_TREAD = 10;
const STEEPER_BY = 6;
const LEAST_RISER = 12;
/** How far up and down the fall line the steeper ground must start, and the length its slope is taken over. */
const RISER_SEARCH = 60;
const RISER_LENGTH = 24;
const LEAST_AREA = 500;
const LEAST_RATIO = 2;
const WIDEST = 80;
/** On cells coarser than this a bench is narrower than what the grid can show. */
export const COARSEST_BENCH_CELL = 12;
/** A strip with at least this share of its cells on the bed of a road is that bed. */
const ROAD_SHARE = 0.6;

/**
 * Benches: strips of gentle ground on a hillside, along the contour, with steeper ground above and below within
 * 60 m on the fall line. The fall line is that of the ground smoothed over 50 m.
 *
 * @param surface the grid landforms are read on
 * @param slope its slope, degrees
 * @param roads cells on or beside a road or railroad: any value but 0; a strip along one is its bed and no bench
 * @returns the benches, a mask with the bench's number in its cells, and how many strips were road beds
 */
export function findBenches(
  surface: Grid,
  slope: Grid,
  roads: Uint8Array | null = null,
): { benches: Bench[]; mask: Int32Array; roadBeds: number } {
  const { frame, cells } = surface;
  const { width, height, cellSize } = frame;
  const mask = new Int32Array(cells.length);
  if (cellSize > COARSEST_BENCH_CELL) return { benches: [], mask, roadBeds: 0 };
  const smooth = boxMean(surface, Math.max(1, Math.round(25 / cellSize)));
  const tread = new Uint8Array(cells.length);
  const above = new Float32Array(cells.length);
  const below = new Float32Array(cells.length);
  const fallEast = new Float32Array(cells.length);
  const fallNorth = new Float32Array(cells.length);
  for (let y = 1, i = width + 1; y < height - 1; y++, i += 2) {
    for (let x = 1; x < width - 1; x++, i++) {
      if (!(slope.cells[i]! <= STEEPEST_TREAD)) continue;
      const east = (smooth[i + 1]! - smooth[i - 1]!) / (2 * cellSize);
      const north = (smooth[i - width]! - smooth[i + width]!) / (2 * cellSize);
      const steepness = Math.hypot(east, north);
      if (!(steepness > 0.05)) continue;
      const needed = Math.max(LEAST_RISER, slope.cells[i]! + STEEPER_BY);
      const px = frame.west + (x + 0.5) * cellSize;
      const py = frame.north - (y + 0.5) * cellSize;
      const up = steepestRiser(surface, px, py, east / steepness, north / steepness);
      if (!(up >= needed)) continue;
      const down = -steepestRiser(surface, px, py, -east / steepness, -north / steepness, -1);
      if (!(down >= needed)) continue;
      tread[i] = 1;
      above[i] = up;
      below[i] = down;
      fallEast[i] = -east / steepness;
      fallNorth[i] = -north / steepness;
    }
  }
  const { labels, patches } = findPatches(frame, majority(tread, width, height), 4, LEAST_AREA);
  const inside = new Uint8Array(cells.length);
  for (let i = 0; i < cells.length; i++) inside[i] = labels.cells[i] === 0 ? 1 : 0;
  const toEdge = distanceTo(frame, inside).cells;

  const sums = patches.map(() => ({
    depth: 0,
    onRoad: 0,
    known: 0,
    above: 0,
    below: 0,
    east: 0,
    north: 0,
    xx: 0,
    xy: 0,
    yy: 0,
  }));
  for (let i = 0; i < cells.length; i++) {
    const label = labels.cells[i]!;
    if (label === 0) continue;
    const sum = sums[label - 1]!;
    sum.depth += toEdge[i]! - cellSize / 2;
    if (roads !== null && roads[i] !== 0) sum.onRoad++;
    const dx = frame.west + ((i % width) + 0.5) * cellSize - patches[label - 1]!.centre[0];
    const dy = frame.north - (Math.floor(i / width) + 0.5) * cellSize - patches[label - 1]!.centre[1];
    sum.xx += dx * dx;
    sum.xy += dx * dy;
    sum.yy += dy * dy;
    if (above[i] === 0) continue; // added by the majority filter
    sum.known++;
    sum.above += above[i]!;
    sum.below += below[i]!;
    sum.east += fallEast[i]!;
    sum.north += fallNorth[i]!;
  }
  const rings = outlines(frame, labels.cells, patches.length, cellSize);
  const benches: Bench[] = [];
  let roadBeds = 0;
  for (const patch of patches) {
    const sum = sums[patch.label - 1]!;
    const across = stripWidth(sum.depth / patch.cells, patch.area);
    const along = patch.area / across;
    if (sum.known === 0 || across > WIDEST || along < LEAST_RATIO * across) continue;
    // The long axis must lie nearer the contour than the fall line, else it is a spur or a ramp.
    const axis = 0.5 * Math.atan2(2 * sum.xy, sum.xx - sum.yy);
    const fall = Math.hypot(sum.east, sum.north);
    const alignment = Math.abs(Math.cos(axis) * sum.east + Math.sin(axis) * sum.north) / fall;
    if (!(alignment < 0.7)) continue;
    if (sum.onRoad >= ROAD_SHARE * patch.cells) {
      roadBeds++;
      continue;
    }
    const id = benches.length + 1;
    benches.push({
      id: `bench-${id}`,
      outline: rings[patch.label - 1]!,
      centre: patch.centre,
      area: patch.area,
      length: along,
      width: across,
      slopeAbove: sum.above / sum.known,
      slopeBelow: sum.below / sum.known,
    });
    for (let i = 0; i < cells.length; i++) if (labels.cells[i] === patch.label) mask[i] = id;
  }
  return { benches, mask, roadBeds };
}

/** Steepest slope over 24 m along a ray from a place, degrees; `sign` -1 looks for the steepest fall. */
function steepestRiser(surface: Grid, x: number, y: number, ux: number, uy: number, sign = 1): number {
  const step = surface.frame.cellSize;
  const span = Math.max(2, Math.round(RISER_LENGTH / step));
  const heights: number[] = [];
  let steepest = Number.NaN;
  for (let n = 0; n * step <= RISER_SEARCH + RISER_LENGTH; n++) {
    const z = sampleAt(surface, x + ux * n * step, y + uy * n * step);
    if (Number.isNaN(z)) break;
    heights.push(z);
    if (n < span) continue;
    const rise = z - heights[n - span]!;
    if (Number.isNaN(steepest) || sign * rise > sign * steepest) steepest = rise;
  }
  return (Math.atan(steepest / (span * step)) * 180) / Math.PI;
}

/** Width of a strip by its area and the mean distance of its inside to its edge; exact for a rectangle. */
export function stripWidth(meanDepth: number, area: number): number {
  // A rectangle of width w and area A has mean depth w/4 - w³/(12 A); Newton from the long-strip answer.
  let width = 4 * meanDepth;
  for (let n = 0; n < 20; n++) {
    const miss = width / 4 - width ** 3 / (12 * area) - meanDepth;
    const steepness = 1 / 4 - width ** 2 / (4 * area);
    if (steepness < 1e-6) break;
    width -= miss / steepness;
  }
  return Math.min(width, Math.sqrt(area));
}

/** Mean over a square of 2r + 1 cells a side, missing cells left out; NaN where the cell itself is. */
function boxMean(grid: Grid, r: number): Float32Array {
  const { width, height } = grid.frame;
  const stride = width + 1;
  const sums = new Float64Array(stride * (height + 1));
  const known = new Int32Array(sums.length);
  for (let y = 0, i = 0; y < height; y++) {
    let row = 0;
    let n = 0;
    for (let x = 0; x < width; x++, i++) {
      const z = grid.cells[i]!;
      if (!Number.isNaN(z)) {
        row += z;
        n++;
      }
      const s = (y + 1) * stride + x + 1;
      sums[s] = sums[s - stride]! + row;
      known[s] = known[s - stride]! + n;
    }
  }
  const mean = new Float32Array(grid.cells.length);
  for (let y = 0, i = 0; y < height; y++) {
    const top = Math.max(0, y - r) * stride;
    const bottom = Math.min(height, y + r + 1) * stride;
    for (let x = 0; x < width; x++, i++) {
      const left = Math.max(0, x - r);
      const right = Math.min(width, x + r + 1);
      const sum = sums[bottom + right]! - sums[bottom + left]! - sums[top + right]! + sums[top + left]!;
      const n = known[bottom + right]! - known[bottom + left]! - known[top + right]! + known[top + left]!;
      mean[i] = Number.isNaN(grid.cells[i]!) ? Number.NaN : sum / n;
    }
  }
  return mean;
}

/** Keeps or adds a cell where at least 5 of its 3 x 3 are set. */
function majority(mask: Uint8Array, width: number, height: number): Uint8Array {
  const kept = new Uint8Array(mask.length);
  for (let y = 1, i = width + 1; y < height - 1; y++, i += 2) {
    for (let x = 1; x < width - 1; x++, i++) {
      let n = 0;
      for (let row = i - width; row <= i + width; row += width)
        n += mask[row - 1]! + mask[row]! + mask[row + 1]!;
      kept[i] = n >= 5 ? 1 : 0;
    }
  }
  return kept;
}
