import type { Frame } from '../grid/frame.ts';
import type { GridNet } from './aggregation.ts';
import type { EdgeCosts } from './edges.ts';
import { mendFar } from './far-spread.ts';
import type { PairFlow, TravelPair, Window } from './flow.ts';
import { createSolver } from './multigrid.ts';

/**
 * Net flow of one pair on a window; see `solveFlow`. Null when no way joins the two areas.
 *
 * @param focus and `cost` give theta = focus / cost
 * @param former a solve of nearly the same net on the same window, to start from
 */
export function pairFlow(
  costs: EdgeCosts,
  areas: Int32Array,
  pair: TravelPair,
  cost: number,
  focus: number,
  window: Window,
  accuracy: number,
  former: PairFlow['spread'] = null,
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
    return { pair, cost, window, east, south, spread: null };
  }
  // What a former solve left where no way leads any more would look like walkers that meet.
  if (former && !sharedPiece(starts[0]!, starts[1]!, piecesOf(net))) return null;
  const [za, zb] = starts.map((start, k) => {
    const z = former ? (k === 0 ? former.a : former.b).slice() : new Float64Array(count);
    solver.solve(start, z, { tolerance });
    mendFar(net, z, cellsOf(starts[1 - k]!));
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
  return { pair, cost, window, east, south, spread: { a: za, b: zb, met } };
}

/**
 * The net of a window. An edge is a lossy line: it couples by theta h / sinh(theta C) and leaks theta h
 * tanh(theta C / 2) at both ends, which for theta 0 is h / C and nothing. Each cell lies on a line east-west and one
 * north-south, which share its loss, so theta is taken by the root of two. Lines across an edge weaken it and
 * leak nothing: walkers may walk along a fence. A trail leads one way only, so its lane bears its loss alone.
 */
function netOf({ resistance, plain, lanes, east, south }: EdgeCosts, window: Window, theta: number): GridNet {
  const { frame } = resistance;
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
      const r = plain[i]!;
      if (net.ground && !Number.isNaN(r))
        net.ground[k] = 4 * cellSize * t * Math.tanh((t * r * cellSize) / 2);
    }
  }
  for (const { cell, share, cost } of net.ground ? lanes : []) {
    const x = (cell % frame.width) - column;
    const y = Math.floor(cell / frame.width) - row;
    if (x < 0 || y < 0 || x >= width || y >= height) continue;
    net.ground![y * width + x]! += share * cellSize * theta * Math.tanh((theta * cost) / 2);
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

const cellsOf = (start: Float64Array): number[] =>
  start.reduce<number[]>((cells, value, i) => {
    if (value > 0) cells.push(i);
    return cells;
  }, []);

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

/** The piece that holds most of both starts, with how much of each; null when they share none. */
function sharedPiece(
  a: Float64Array,
  b: Float64Array,
  pieces: Int32Array,
): { piece: number; held: [number, number] } | null {
  const sums = new Map<number, [number, number]>();
  for (let i = 0; i < a.length; i++) {
    if (a[i] === 0 && b[i] === 0) continue;
    const held = sums.get(pieces[i]!) ?? [0, 0];
    held[0] += a[i]!;
    held[1] += b[i]!;
    sums.set(pieces[i]!, held);
  }
  let best: { piece: number; held: [number, number] } | null = null;
  let most = 0;
  for (const [piece, held] of sums) {
    if (Math.min(...held) > most) {
      most = Math.min(...held);
      best = { piece, held };
    }
  }
  return best;
}

/** Keeps both starts to the piece that holds most of both, one unit each; false when they share none. */
function balance(a: Float64Array, b: Float64Array, pieces: Int32Array): boolean {
  const shared = sharedPiece(a, b, pieces);
  if (!shared) return false;
  const [x, y] = shared.held;
  for (let i = 0; i < a.length; i++) {
    a[i] = pieces[i] === shared.piece ? a[i]! / x : 0;
    b[i] = pieces[i] === shared.piece ? b[i]! / y : 0;
  }
  return true;
}
