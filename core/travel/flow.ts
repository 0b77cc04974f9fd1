import { cellCount, type Frame, type Grid, type Point } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import type { GridNet } from './aggregation.ts';
import { accumulateCost } from './cost.ts';
import { CIRCUIT_MOVES, visitCrossedMoves } from './crossed-moves.ts';
import type { EdgeCosts, MoveCosts } from './edges.ts';
import { createSolver } from './multigrid.ts';

/** Two areas that travel runs between, and how much of all travel is between them. */
export interface TravelPair {
  from: number;
  to: number;
  /** 0..1. */
  share: number;
}

/** Net flow of one pair, one unit in all, on the window of the frame that holds all but a trace of it. */
export interface PairFlow {
  pair: TravelPair;
  /** Least cost between the two areas on this grid, m of easy ground. */
  cost: number;
  window: Window;
  /** From every cell of the window to its neighbour east, and south; share of the pair's travel, signed. */
  east: Float64Array;
  south: Float64Array;
}

export interface Window {
  column: number;
  row: number;
  width: number;
  height: number;
}

export interface Flow {
  frame: Frame;
  pairs: PairFlow[];
  /** Pairs whose areas are cut off from each other; they carry nothing. */
  cutOff: TravelPair[];
}

/** Ways beyond this many times the slack carry a trace (e^-5) and are left out of the window. */
const TRACE = 5;

/**
 * Flow between pairs of areas, between random walk and least-cost path. Walkers spread from one area at random over
 * the net (conductance a cell's width over the edge's cost), pay for what they cross, and of those only the ones
 * that reach the other area are counted: randomised shortest paths (Saerens et al. 2009; Kivimäki et al. 2014) in
 * the form that does not depend on the size of the cells, -div(grad z / r) + theta² r z = source, whose answer
 * falls off as e^(-theta cost). The net flow is z_a grad z_b - z_b grad z_a, conserved everywhere between.
 *
 * @param focus theta times the pair's least cost: a way dearer by the share 1/focus is taken a third (1/e) as
 *   often. 0 is the electrical flow (Doyle & Snell 1984; McRae et al. 2008); large ones near the least-cost path.
 * @param accuracy of the shares; the solver's own tolerance follows from it, since only e^-focus of what starts
 *   arrives
 * @param crossings of the same lines as the edges pay for, to find each pair's least cost and window
 */
export function solveFlow(
  costs: EdgeCosts,
  areas: Int32Array,
  pairs: readonly TravelPair[],
  focus: number,
  crossings: MoveCosts,
  { accuracy = 1e-5, progress = silent }: { accuracy?: number; progress?: Progress } = {},
): Flow {
  const { resistance } = costs;
  const { frame } = resistance;
  const count = cellCount(frame);
  const reaches = new Map<number, Float64Array>();
  const labels = new Int32Array(count);
  const reachOf = (number: number): Float64Array => {
    let reach = reaches.get(number);
    if (!reach) {
      for (let i = 0; i < count; i++) labels[i] = areas[i] === number ? 1 : 0;
      reach = accumulateCost(resistance, labels, { neighbours: 8, crossings }).cost;
      reaches.set(number, reach);
    }
    return reach;
  };
  const flow: Flow = { frame, pairs: [], cutOff: [] };
  pairs.forEach((pair, k) => {
    const a = reachOf(pair.from);
    const b = reachOf(pair.to);
    let cost = Number.POSITIVE_INFINITY;
    for (let i = 0; i < count; i++) if (areas[i] === pair.to && a[i]! < cost) cost = a[i]!;
    const within = focus > 0 ? cost * (1 + TRACE / focus) : Number.MAX_VALUE;
    const found =
      cost < Number.POSITIVE_INFINITY
        ? pairFlow(costs, areas, pair, cost, focus, windowOf(frame, a, b, within), accuracy)
        : null;
    if (found) flow.pairs.push(found);
    else flow.cutOff.push(pair);
    progress((k + 1) / pairs.length);
  });
  return flow;
}

/** The smallest window with all cells that lie on a way of at most the given cost, and one cell more all round. */
function windowOf({ width, height }: Frame, a: Float64Array, b: Float64Array, within: number): Window {
  let [left, right, top, bottom] = [width, -1, height, -1];
  for (let row = 0, i = 0; row < height; row++) {
    for (let column = 0; column < width; column++, i++) {
      if (a[i]! + b[i]! > within) continue;
      if (column < left) left = column;
      if (column > right) right = column;
      if (row < top) top = row;
      bottom = row;
    }
  }
  left = Math.max(0, left - 1);
  top = Math.max(0, top - 1);
  return {
    column: left,
    row: top,
    width: Math.min(width, right + 2) - left,
    height: Math.min(height, bottom + 2) - top,
  };
}

function pairFlow(
  costs: EdgeCosts,
  areas: Int32Array,
  pair: TravelPair,
  cost: number,
  focus: number,
  window: Window,
  accuracy: number,
): PairFlow | null {
  const net = netOf(costs, window, focus / cost);
  const { width, height } = window;
  const count = width * height;
  const solver = createSolver(net);
  const tolerance = Math.max(1e-15, accuracy * Math.exp(-focus));
  const starts = [pair.from, pair.to].map((number) =>
    spreadOver(costs.resistance.frame, areas, number, net, window),
  );
  const east = new Float64Array(count);
  const south = new Float64Array(count);
  if (focus === 0) {
    const [a, b] = starts as [Float64Array, Float64Array];
    const pieces = piecesOf(net);
    if (!balance(a, b, pieces)) return null;
    const potential = new Float64Array(count);
    solver.solve(
      a.map((value, i) => value - b[i]!),
      potential,
      { tolerance },
    );
    for (let i = 0; i < count; i++) {
      if (net.east[i]! > 0) east[i] = net.east[i]! * (potential[i]! - potential[i + 1]!);
      if (net.south[i]! > 0) south[i] = net.south[i]! * (potential[i]! - potential[i + width]!);
    }
    return { pair, cost, window, east, south };
  }
  const [za, zb] = starts.map((start) => {
    const z = new Float64Array(count);
    solver.solve(start, z, { tolerance });
    return z;
  }) as [Float64Array, Float64Array];
  let met = 0;
  for (let i = 0; i < count; i++) met += starts[0]![i]! * zb[i]!;
  if (!(met > 0)) return null;
  for (let i = 0; i < count; i++) {
    if (net.east[i]! > 0) east[i] = (net.east[i]! * (za[i]! * zb[i + 1]! - za[i + 1]! * zb[i]!)) / met;
    if (net.south[i]! > 0)
      south[i] = (net.south[i]! * (za[i]! * zb[i + width]! - za[i + width]! * zb[i]!)) / met;
  }
  return { pair, cost, window, east, south };
}

/**
 * The net of a window. An edge is a lossy line: it couples by theta h / sinh(theta C) and leaks theta h
 * tanh(theta C / 2) at both ends, which for theta 0 is h / C and nothing. Each cell lies on a line east-west and one
 * north-south, which share its loss, so theta is taken by the root of two. Lines across an edge weaken it and
 * leak nothing: walkers may walk along a fence.
 */
function netOf({ resistance, east, south }: EdgeCosts, window: Window, theta: number): GridNet {
  const { frame, cells } = resistance;
  const { cellSize } = frame;
  const { width, height, column, row } = window;
  const t = theta / Math.SQRT2;
  const net: GridNet = {
    width,
    height,
    east: new Float64Array(width * height),
    south: new Float64Array(width * height),
    ground: theta > 0 ? new Float64Array(width * height) : null,
  };
  const couple = (cost: number): number => {
    if (cost === Number.POSITIVE_INFINITY) return 0;
    const x = t * cost;
    return (cellSize / cost) * (x < 1e-4 ? 1 : x / Math.sinh(x));
  };
  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0, i = (row + y) * frame.width + column; x < width; x++, i++, k++) {
      if (x + 1 < width) net.east[k] = couple(east[i]!);
      if (y + 1 < height) net.south[k] = couple(south[i]!);
      const r = cells[i]!;
      if (net.ground && !Number.isNaN(r))
        net.ground[k] = 4 * cellSize * t * Math.tanh((t * r * cellSize) / 2);
    }
  }
  return net;
}

/** One unit spread evenly over the cells of an area that conduct, on a window. */
function spreadOver(
  frame: Frame,
  areas: Int32Array,
  number: number,
  net: GridNet,
  window: Window,
): Float64Array {
  const { width, height, column, row } = window;
  const start = new Float64Array(width * height);
  let cells = 0;
  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0, i = (row + y) * frame.width + column; x < width; x++, i++, k++) {
      if (areas[i] !== number || isIsolated(net, k)) continue;
      start[k] = 1;
      cells++;
    }
  }
  for (let k = 0; k < start.length; k++) start[k]! /= cells;
  return start;
}

function isIsolated({ width, east, south }: GridNet, i: number): boolean {
  return !(
    east[i]! > 0 ||
    south[i]! > 0 ||
    (i % width > 0 && east[i - 1]! > 0) ||
    (i >= width && south[i - width]! > 0)
  );
}

/** Connected pieces of a net: the piece of every cell, from 1; 0 for a cell without a way out. */
function piecesOf({ width, height, east, south }: GridNet): Int32Array {
  const count = width * height;
  const labels = new Int32Array(count);
  const queue = new Int32Array(count);
  let pieces = 0;
  for (let first = 0; first < count; first++) {
    if (labels[first] !== 0 || !(east[first]! > 0 || south[first]! > 0)) continue;
    const piece = ++pieces;
    labels[first] = piece;
    queue[0] = first;
    let size = 1;
    const reach = (cell: number, conductance: number | undefined): void => {
      if (conductance! > 0 && labels[cell] === 0) {
        labels[cell] = piece;
        queue[size++] = cell;
      }
    };
    for (let k = 0; k < size; k++) {
      const i = queue[k]!;
      reach(i + 1, east[i]);
      reach(i + width, south[i]);
      if (i % width > 0) reach(i - 1, east[i - 1]);
      if (i >= width) reach(i - width, south[i - width]);
    }
  }
  return labels;
}

/** Keeps both starts to the piece that holds most of both, one unit each; false when they share none. */
function balance(a: Float64Array, b: Float64Array, pieces: Int32Array): boolean {
  const held = new Map<number, [number, number]>();
  for (let i = 0; i < a.length; i++) {
    if (a[i] === 0 && b[i] === 0) continue;
    const sums = held.get(pieces[i]!) ?? [0, 0];
    sums[0] += a[i]!;
    sums[1] += b[i]!;
    held.set(pieces[i]!, sums);
  }
  let best = 0;
  let most = 0;
  for (const [piece, [x, y]] of held) {
    if (Math.min(x, y) > most) {
      most = Math.min(x, y);
      best = piece;
    }
  }
  if (most === 0) return false;
  const [x, y] = held.get(best)!;
  for (let i = 0; i < a.length; i++) {
    a[i] = pieces[i] === best ? a[i]! / x : 0;
    b[i] = pieces[i] === best ? b[i]! / y : 0;
  }
  return true;
}

/** Net flow of every pair across a path, from its left to its right, of one unit sent; in the order of the pairs. */
export function netAcross(flow: Flow, path: readonly Point[]): Float64Array {
  const across = new Float64Array(flow.pairs.length);
  visitCrossedMoves(flow.frame, path, CIRCUIT_MOVES, ({ cell, move, side }) => {
    for (let p = 0; p < across.length; p++) across[p]! += side * edgeFlow(flow, p, cell, move);
  });
  return across;
}

/** Net flow of a pair from a cell of the frame by a circuit move (0 east, 2 south). */
export function edgeFlow({ frame, pairs }: Flow, pair: number, cell: number, move: number): number {
  const { window, east, south } = pairs[pair]!;
  const y = Math.floor(cell / frame.width);
  const x = cell - y * frame.width - window.column;
  const row = y - window.row;
  if (x < 0 || row < 0 || x >= window.width || row >= window.height) return 0;
  return (move === 0 ? east : south)[row * window.width + x]!;
}

/** Share of all travel that crosses a path on balance, and of each pair's own: 0..1. */
export function shareAcross(flow: Flow, path: readonly Point[]): { share: number; pairs: Float64Array } {
  const pairs = netAcross(flow, path).map((value) => Math.min(1, Math.abs(value)));
  return { share: shareOf(flow, pairs), pairs };
}

/** Share of all travel from shares of each pair's own. */
export function shareOf(flow: Flow, pairs: Float64Array): number {
  let share = 0;
  for (let p = 0; p < pairs.length; p++)
    share += flow.pairs[p]!.pair.share * Math.min(1, Math.abs(pairs[p]!));
  return Math.min(1, share);
}

/**
 * Share of all travel through every cell: half of the net flow on its four edges and of what starts or ends there,
 * summed over the pairs. NaN where the resistance is.
 */
export function passageOf(flow: Flow, resistance: Grid): Grid {
  const { frame } = flow;
  const sum = new Float64Array(cellCount(frame));
  for (const { pair, window, east, south } of flow.pairs) {
    const { width, height, column, row } = window;
    const half = pair.share / 2;
    for (let y = 0, k = 0; y < height; y++) {
      for (let x = 0, i = (row + y) * frame.width + column; x < width; x++, i++, k++) {
        const west = x > 0 ? east[k - 1]! : 0;
        const north = y > 0 ? south[k - width]! : 0;
        const ends = Math.abs(east[k]! + south[k]! - west - north);
        sum[i]! +=
          half * (Math.abs(east[k]!) + Math.abs(south[k]!) + Math.abs(west) + Math.abs(north) + ends);
      }
    }
  }
  const cells = Float32Array.from(sum, (value, i) =>
    Number.isNaN(resistance.cells[i]!) ? Number.NaN : value,
  );
  return { frame, cells };
}
