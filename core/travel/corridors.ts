import { cellCount, type Grid } from '../grid/frame.ts';
import { outlines } from '../grid/outline.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { pathLength } from '../grid/simplify.ts';
import type { Weights } from './assumptions.ts';
import { accumulateCost, type CostSurface, pathOfCells, traceCells } from './cost.ts';
import type { MoveCosts } from './edges.ts';
import { choosePairs, neighbouringAreas } from './pairs.ts';
import type { Corridor, TravelArea } from './types.ts';

/** Ways that cost up to this much more than the cheapest belong to its corridor: our assumption. */
const BAND = 1.1;

/**
 * Corridors between neighbouring areas: the sum of the accumulated costs from both ends is, at every cell, the
 * least cost of a way that passes it; the cells within a tenth of the cheapest make the corridor, and the cheapest
 * way is traced. A pair whose areas no way joins is left out.
 */
export function findCorridors(
  resistance: Grid,
  areas: Grid<Int32Array>,
  table: readonly TravelArea[],
  crossings: MoveCosts,
  weights: Weights,
  mostPairs: number,
  progress: Progress = silent,
): Corridor[] {
  const { frame } = resistance;
  const together = accumulateCost(resistance, areas.cells, { crossings, progress: part(progress, 0, 0.2) });
  const pairs = choosePairs(neighbouringAreas(resistance, together, areas.cells), table, weights, mostPairs);
  const labels = new Int32Array(cellCount(frame));
  const surfaces = new Map<number, CostSurface>();
  const surfaceOf = (number: number): CostSurface => {
    let surface = surfaces.get(number);
    if (!surface) {
      for (let i = 0; i < labels.length; i++) labels[i] = areas.cells[i] === number ? number : 0;
      // The meeting line misses line costs at the last step, so leave room beyond the band.
      const dearest = pairs.reduce(
        (most, pair) => (pair.from === number || pair.to === number ? Math.max(most, pair.cost) : most),
        0,
      );
      surface = accumulateCost(resistance, labels, { crossings, limit: dearest * 1.5 + 500 });
      surfaces.set(number, surface);
    }
    return surface;
  };

  const corridors: Corridor[] = [];
  pairs.forEach((pair, k) => {
    const a = surfaceOf(pair.from);
    const b = surfaceOf(pair.to);
    let least = Number.POSITIVE_INFINITY;
    let goal = -1;
    for (let i = 0; i < labels.length; i++) {
      if (areas.cells[i] === pair.to && a.cost[i]! < least) {
        least = a.cost[i]!;
        goal = i;
      }
    }
    if (goal >= 0) {
      const band = labels.map((_, i) => (a.cost[i]! + b.cost[i]! <= least * BAND ? 1 : 0));
      const path = pathOfCells(frame, traceCells(a, frame.width, goal));
      corridors.push({
        id: `corridor-${pair.from}-${pair.to}`,
        from: pair.from,
        to: pair.to,
        cost: least,
        length: pathLength(path),
        path,
        share: pair.share,
        band: outlines(frame, band, 1, frame.cellSize)[0] ?? [],
      });
    }
    progress(0.2 + (0.8 * (k + 1)) / pairs.length);
  });
  const total = corridors.reduce((sum, corridor) => sum + corridor.share, 0);
  for (const corridor of corridors) corridor.share /= total;
  return corridors;
}
