import type { Frame, Grid, Point } from '../grid/frame.ts';
import { outlines } from '../grid/outline.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { pathLength } from '../grid/simplify.ts';
import type { Weights } from './assumptions.ts';
import { accumulateCost, type CostSurface, pathOfCells, sourcesOf, traceCells } from './cost.ts';
import type { MoveCosts } from './edges.ts';
import { choosePairs, neighbouringAreas } from './pairs.ts';
import { oneWay } from './relief.ts';
import { windowOf } from './solve-flow.ts';
import type { Corridor, TravelArea } from './types.ts';

/** Ways that cost up to this much more than the cheapest belong to its corridor: our assumption. */
const BAND = 1.1;
/** How much dearer than where two reaches meet the way between them may be before it is looked for anew. */
const ROOM = 1.05;

/**
 * Corridors between neighbouring areas: the sum of the accumulated costs from both ends is, at every cell, the
 * least cost of a way that passes it; the cells within a tenth of the cheapest make the corridor, and the cheapest
 * way is traced. A pair whose areas no way joins is left out. Costs are the mean of both ways; the climb between the two
 * ends of the way tells what each one costs.
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
  const { width } = frame;
  const together = accumulateCost(resistance, areas.cells, { crossings });
  const neighbours = neighbouringAreas(sourcesOf(together, areas.cells, width), together.cost, width);
  const ends = cellsByLabel(areas.cells);
  const costFrom = (from: number, limit: number): CostSurface => {
    const labels = areas.cells.map((area) => (area === from ? from : 0));
    return accumulateCost(resistance, labels, { crossings, limit });
  };
  const surfaces = new Map<number, CostSurface>();
  const goals = new Map<string, number>();
  const numbers = [...new Set(neighbours.flatMap(({ from, to }) => [from, to]))];
  numbers.forEach((number, k) => {
    const own = neighbours.filter(({ from, to }) => from === number || to === number);
    // Nothing past the corridor of the farthest neighbour is asked for, so most of the map can be left alone.
    const limit = BAND * ROOM * Math.max(...own.map(({ cost }) => cost));
    let surface = costFrom(number, limit);
    const goalOf = ({ from, to }: { from: number; to: number }): number =>
      ends
        .get(from === number ? to : from)!
        .reduce((best, cell) => (surface.cost[cell]! < surface.cost[best]! ? cell : best));
    // A line between the two can make the way dearer than both reaches.
    if (own.some((pair) => !(surface.cost[goalOf(pair)]! * BAND <= limit)))
      surface = costFrom(number, Number.POSITIVE_INFINITY);
    surfaces.set(number, surface);
    for (const pair of own) if (pair.from === number) goals.set(`${number} ${pair.to}`, goalOf(pair));
    progress((0.8 * (k + 1)) / numbers.length);
  });
  const costed = neighbours.flatMap(({ from, to }) => {
    const cost = surfaces.get(from)!.cost[goals.get(`${from} ${to}`)!]!;
    return cost < Number.POSITIVE_INFINITY ? [{ from, to, cost }] : [];
  });

  const pairs = choosePairs(costed, table, weights, mostPairs);
  return pairs.map(({ from, to, cost, share }, k): Corridor => {
    const a = surfaces.get(from)!;
    const cells = traceCells(a, width, goals.get(`${from} ${to}`)!);
    const path = pathOfCells(frame, cells);
    const z = crossings.relief?.ground.heights;
    const rise = z ? z[cells.at(-1)!]! - z[cells[0]!]! : 0;
    const ways = { up: weights.climb, down: weights.descent };
    progress(0.8 + (0.2 * (k + 1)) / pairs.length);
    return {
      id: `corridor-${from}-${to}`,
      from,
      to,
      cost,
      there: oneWay(cost, rise, ways),
      back: oneWay(cost, -rise, ways),
      length: pathLength(path),
      path,
      share,
      band: bandOf(frame, a.cost, surfaces.get(to)!.cost, cost * BAND),
    };
  });
}

function cellsByLabel(labels: Int32Array): Map<number, number[]> {
  const cells = new Map<number, number[]>();
  labels.forEach((label, cell) => {
    if (label === 0) return;
    const list = cells.get(label);
    if (list) list.push(cell);
    else cells.set(label, [cell]);
  });
  return cells;
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
