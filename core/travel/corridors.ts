import type { Frame, Grid, Point } from '../grid/frame.ts';
import { outlines } from '../grid/outline.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { pathLength } from '../grid/simplify.ts';
import type { Weights } from './assumptions.ts';
import { accumulateCost, type CostSurface, pathOfCells, sourcesOf, traceCells } from './cost.ts';
import type { MoveCosts } from './edges.ts';
import type { Window } from './flow.ts';
import { windowOf } from './flow-windows.ts';
import { choosePairs, neighbouringAreas } from './pairs.ts';
import { oneWay } from './relief.ts';
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
  const reaches = new Map<number, Reach>();
  const ways = new Map<string, number[]>();
  const costed: { from: number; to: number; cost: number }[] = [];
  const numbers = [...new Set(neighbours.flatMap(({ from, to }) => [from, to]))];
  numbers.forEach((number, k) => {
    const own = neighbours.filter(({ from, to }) => from === number || to === number);
    // Nothing past the corridor of the farthest neighbour is asked for, so most of the map can be left alone.
    let limit = BAND * ROOM * Math.max(...own.map(({ cost }) => cost));
    let surface = costFrom(number, limit);
    const goalOf = ({ from, to }: { from: number; to: number }): number =>
      ends
        .get(from === number ? to : from)!
        .reduce((best, cell) => (surface.cost[cell]! < surface.cost[best]! ? cell : best));
    // A line between the two can make the way dearer than both reaches.
    if (own.some((pair) => !(surface.cost[goalOf(pair)]! * BAND <= limit))) {
      limit = Number.POSITIVE_INFINITY;
      surface = costFrom(number, limit);
    }
    for (const pair of own.filter(({ from }) => from === number)) {
      const goal = goalOf(pair);
      const cost = surface.cost[goal]!;
      if (cost === Number.POSITIVE_INFINITY) continue;
      costed.push({ ...pair, cost });
      ways.set(`${pair.from} ${pair.to}`, traceCells(surface, width, goal));
    }
    reaches.set(number, reachOf(frame, surface.cost, limit));
    progress((0.8 * (k + 1)) / numbers.length);
  });

  const pairs = choosePairs(costed, table, weights, mostPairs);
  return pairs.map(({ from, to, cost, share }, k): Corridor => {
    const cells = ways.get(`${from} ${to}`)!;
    const path = pathOfCells(frame, cells);
    const z = crossings.relief?.ground.heights;
    const rise = z ? z[cells.at(-1)!]! - z[cells[0]!]! : 0;
    const climb = { up: weights.climb, down: weights.descent };
    progress(0.8 + (0.2 * (k + 1)) / pairs.length);
    return {
      id: `corridor-${from}-${to}`,
      from,
      to,
      cost,
      there: oneWay(cost, rise, climb),
      back: oneWay(cost, -rise, climb),
      length: pathLength(path),
      path,
      share,
      band: bandOf(frame, reaches.get(from)!, reaches.get(to)!, cost * BAND),
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

/** What it costs to reach the cells of a window, m of easy ground; a row of cells beyond the limit all round. */
interface Reach extends Window {
  cost: Float64Array;
}

/** Only what a corridor may be made of is kept: on wide ground the whole surface of every area is gigabytes. */
function reachOf(frame: Frame, cost: Float64Array, limit: number): Reach {
  const window = windowOf(frame, cost, cost, 2 * limit);
  const kept = new Float64Array(window.width * window.height);
  for (let y = 0; y < window.height; y++) {
    const from = (window.row + y) * frame.width + window.column;
    kept.set(cost.subarray(from, from + window.width), y * window.width);
  }
  return { ...window, cost: kept };
}

/** Rings around the cells whose two costs add up to at most `most`, outlined on just where both reach. */
function bandOf(frame: Frame, a: Reach, b: Reach, most: number): Point[][] {
  const column = Math.max(a.column, b.column);
  const row = Math.max(a.row, b.row);
  const width = Math.min(a.column + a.width, b.column + b.width) - column;
  const height = Math.min(a.row + a.height, b.row + b.height) - row;
  const cells = new Int32Array(width * height);
  for (let y = 0, k = 0; y < height; y++) {
    let i = (row - a.row + y) * a.width + column - a.column;
    let j = (row - b.row + y) * b.width + column - b.column;
    for (let x = 0; x < width; x++, k++) cells[k] = a.cost[i++]! + b.cost[j++]! <= most ? 1 : 0;
  }
  const part = {
    ...frame,
    width,
    height,
    west: frame.west + column * frame.cellSize,
    north: frame.north - row * frame.cellSize,
  };
  return outlines(part, cells, 1, frame.cellSize)[0] ?? [];
}
