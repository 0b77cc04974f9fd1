import { cellCount, type Frame, type Grid, type Point } from '../grid/frame.ts';
import { outlines } from '../grid/outline.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { pathLength } from '../grid/simplify.ts';
import type { Weights } from './assumptions.ts';
import { accumulateCost, type CostSurface, pathOfCells, traceCells } from './cost.ts';
import type { MoveCosts } from './edges.ts';
import { choosePairs, neighbouringAreas } from './pairs.ts';
import { windowOf } from './solve-flow.ts';
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
  const pairs = choosePairs(
    neighbouringAreas(resistance, together, areas.cells, crossings),
    table,
    weights,
    mostPairs,
  );
  const labels = new Int32Array(cellCount(frame));
  const surfaces = new Map<number, CostSurface>();
  const surfaceOf = (number: number): CostSurface => {
    let surface = surfaces.get(number);
    if (!surface) {
      for (let i = 0; i < labels.length; i++) labels[i] = areas.cells[i] === number ? number : 0;
      const dearest = pairs.reduce(
        (most, pair) => (pair.from === number || pair.to === number ? Math.max(most, pair.cost) : most),
        0,
      );
      surface = accumulateCost(resistance, labels, { crossings, limit: dearest * BAND });
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
      const path = pathOfCells(frame, traceCells(a, frame.width, goal));
      corridors.push({
        id: `corridor-${pair.from}-${pair.to}`,
        from: pair.from,
        to: pair.to,
        cost: least,
        length: pathLength(path),
        path,
        share: pair.share,
        band: bandOf(frame, a.cost, b.cost, least * BAND),
      });
    }
    progress(0.2 + (0.8 * (k + 1)) / pairs.length);
  });
  const total = corridors.reduce((sum, corridor) => sum + corridor.share, 0);
  for (const corridor of corridors) corridor.share /= total;
  return corridors;
}

/** Rings around the cells whose two costs add up to at most `most`, outlined on just the window that holds them. */
function bandOf(frame: Frame, a: Float64Array, b: Float64Array, most: number): Point[][] {
  const { width, cellSize } = frame;
  const { column, row, ...size } = windowOf(frame, a, b, most);
  const cells = new Int32Array(size.width * size.height);
  for (let y = 0, k = 0; y < size.height; y++)
    for (let x = 0, i = (row + y) * width + column; x < size.width; x++, i++, k++)
      cells[k] = a[i]! + b[i]! <= most ? 1 : 0;
  const part = {
    ...frame,
    ...size,
    west: frame.west + column * cellSize,
    north: frame.north - row * cellSize,
  };
  return outlines(part, cells, 1, cellSize)[0] ?? [];
}
