import { cellCount, type Frame, type Grid, type Point } from '../grid/frame.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { CIRCUIT_MOVES, visitCrossedMoves } from './crossed-moves.ts';
import type { Conductances } from './edges.ts';
import { createSolver } from './multigrid.ts';

/** Two areas that travel runs between, and the pair's weight in all travel. */
export interface TravelPair {
  from: number;
  to: number;
  /** Share of all travel, 0..1. */
  share: number;
}

/** Flow between all pairs. The flow of a pair is that of its first area less that of its second. */
export interface Flow {
  net: Conductances;
  pairs: readonly TravelPair[];
  /** Potentials that drive one unit out of an area, by area number; 64-bit. */
  potentials: Map<number, Float64Array>;
  /** What is injected into each cell of the area, by area number. */
  injections: Map<number, { cells: Int32Array; each: number }>;
  /** Pairs whose areas are cut off from each other; they carry nothing. */
  cutOff: TravelPair[];
}

/**
 * Electrical flow as random walk (Doyle & Snell 1984; McRae et al. 2008): every area sends one unit, spread evenly
 * over its cells, drawn off evenly over its whole connected piece; the difference of two areas sends one unit from
 * the one to the other, so a solve per area serves every pair.
 *
 * @param areas area numbers on the frame of the net
 * @param warm potentials of a former solve of nearly the same net; they change how long it takes, not the answer
 */
export function solveFlow(
  net: Conductances,
  areas: Int32Array,
  pairs: readonly TravelPair[],
  {
    tolerance = 1e-7,
    warm = null,
    progress = silent,
  }: { tolerance?: number; warm?: Map<number, Float64Array> | null; progress?: Progress } = {},
): Flow {
  const count = cellCount(net.frame);
  const pieces = piecesOf(net);
  const numbers = [...new Set(pairs.flatMap(({ from, to }) => [from, to]))].sort((a, b) => a - b);
  const sources = new Map(numbers.map((number) => [number, sourceOf(areas, number, pieces)]));
  const connected = (pair: TravelPair): boolean => {
    const a = sources.get(pair.from);
    const b = sources.get(pair.to);
    return a != null && b != null && a.piece === b.piece;
  };
  const running = pairs.filter(connected);
  const solver = createSolver(net);
  const potentials = new Map<number, Float64Array>();
  const injections: Flow['injections'] = new Map();
  const injected = new Float64Array(count);
  const used = numbers.filter((n) => running.some(({ from, to }) => from === n || to === n));
  used.forEach((number, k) => {
    const { cells, piece } = sources.get(number)!;
    const drain = 1 / pieces.sizes[piece]!;
    for (let i = 0; i < count; i++) injected[i] = pieces.labels[i] === piece ? -drain : 0;
    for (const cell of cells) injected[cell]! += 1 / cells.length;
    const former = warm?.get(number);
    const potential = former?.length === count ? former.slice() : new Float64Array(count);
    solver.solve(injected, potential, {
      tolerance,
      progress: part(progress, k / used.length, (k + 1) / used.length),
    });
    potentials.set(number, potential);
    injections.set(number, { cells, each: 1 / cells.length });
  });
  return { net, pairs: running, potentials, injections, cutOff: pairs.filter((pair) => !connected(pair)) };
}

interface Pieces {
  /** Piece of every cell, 0 for a cell without a way out. */
  labels: Int32Array;
  sizes: number[];
}

/** Connected pieces of a net. */
function piecesOf({ frame, east, south }: Conductances): Pieces {
  const { width } = frame;
  const count = cellCount(frame);
  const labels = new Int32Array(count);
  const queue = new Int32Array(count);
  const sizes = [0];
  for (let first = 0; first < count; first++) {
    if (labels[first] !== 0 || !(east[first]! > 0 || south[first]! > 0)) continue;
    const piece = sizes.length;
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
    sizes.push(size);
  }
  return { labels, sizes };
}

/** The cells of an area in the piece that holds most of them, or null when none conducts. */
function sourceOf(
  areas: Int32Array,
  number: number,
  { labels }: Pieces,
): { cells: Int32Array; piece: number } | null {
  const byPiece = new Map<number, number[]>();
  for (let i = 0; i < areas.length; i++) {
    if (areas[i] !== number || labels[i] === 0) continue;
    const list = byPiece.get(labels[i]!);
    if (list) list.push(i);
    else byPiece.set(labels[i]!, [i]);
  }
  let best: { cells: Int32Array; piece: number } | null = null;
  for (const [piece, cells] of byPiece)
    if (!best || cells.length > best.cells.length) best = { cells: Int32Array.from(cells), piece };
  return best;
}

/** Net flow of every pair across a path, from its left to its right, of one unit sent; in the order of the pairs. */
export function netAcross(flow: Flow, path: readonly Point[]): Float64Array {
  const { frame, east, south } = flow.net;
  const across = new Float64Array(flow.pairs.length);
  const ends = potentialsOf(flow);
  visitCrossedMoves(frame, path, CIRCUIT_MOVES, ({ cell, move, side }) => {
    const conductance = move === 0 ? east[cell]! : south[cell]!;
    if (conductance === 0) return;
    const next = move === 0 ? cell + 1 : cell + frame.width;
    for (let p = 0; p < ends.length; p++) {
      const [a, b] = ends[p]!;
      across[p]! += side * conductance * (a[cell]! - b[cell]! - a[next]! + b[next]!);
    }
  });
  return across;
}

/** Potentials of the two areas of every pair. */
export const potentialsOf = (flow: Flow): [Float64Array, Float64Array][] =>
  flow.pairs.map(({ from, to }) => [flow.potentials.get(from)!, flow.potentials.get(to)!]);

/** Share of all travel that crosses a path on balance, pair by pair: 0..1. */
export function shareAcross(flow: Flow, path: readonly Point[]): { share: number; pairs: Float64Array } {
  const pairs = netAcross(flow, path).map((value) => Math.min(1, Math.abs(value)));
  let share = 0;
  flow.pairs.forEach((pair, p) => {
    share += pair.share * pairs[p]!;
  });
  return { share: Math.min(1, share), pairs };
}

/**
 * Share of all travel through every cell: half the flow on its four edges and of what is injected there, summed
 * over the pairs. NaN where no way leads.
 */
export function passageOf(flow: Flow): Grid {
  const { frame, east, south } = flow.net;
  const { width } = frame;
  const count = cellCount(frame);
  const sum = new Float64Array(count);
  potentialsOf(flow).forEach(([a, b], p) => {
    const half = flow.pairs[p]!.share / 2;
    for (let i = 0; i < count; i++) {
      const here = a[i]! - b[i]!;
      if (east[i]! > 0) {
        const amount = half * Math.abs(east[i]! * (here - a[i + 1]! + b[i + 1]!));
        sum[i]! += amount;
        sum[i + 1]! += amount;
      }
      if (south[i]! > 0) {
        const amount = half * Math.abs(south[i]! * (here - a[i + width]! + b[i + width]!));
        sum[i]! += amount;
        sum[i + width]! += amount;
      }
    }
    for (const number of [flow.pairs[p]!.from, flow.pairs[p]!.to]) {
      const { cells, each } = flow.injections.get(number)!;
      for (const cell of cells) sum[cell]! += half * each;
    }
  });
  const cells = Float32Array.from(sum);
  for (let i = 0; i < count; i++) if (isolated(flow.net, i)) cells[i] = Number.NaN;
  return { frame, cells };
}

function isolated({ frame, east, south }: Conductances, i: number): boolean {
  return !(
    east[i]! > 0 ||
    south[i]! > 0 ||
    (i % frame.width > 0 && east[i - 1]! > 0) ||
    (i >= frame.width && south[i - frame.width]! > 0)
  );
}

/** Largest imbalance of a pair over all cells, as a share of the unit it sends: Kirchhoff's law, checked. */
export function largestImbalance(flow: Flow): number {
  const { net } = flow;
  const { frame, east, south } = net;
  const count = cellCount(frame);
  let worst = 0;
  potentialsOf(flow).forEach(([a, b], p) => {
    const left = new Float64Array(count);
    const inject = (number: number, sign: number): void => {
      const { cells, each } = flow.injections.get(number)!;
      for (const cell of cells) left[cell]! += sign * each;
    };
    inject(flow.pairs[p]!.from, 1);
    inject(flow.pairs[p]!.to, -1);
    for (let i = 0; i < count; i++) {
      const here = a[i]! - b[i]!;
      if (east[i]! > 0) {
        const amount = east[i]! * (here - a[i + 1]! + b[i + 1]!);
        left[i]! -= amount;
        left[i + 1]! += amount;
      }
      if (south[i]! > 0) {
        const next = i + frame.width;
        const amount = south[i]! * (here - a[next]! + b[next]!);
        left[i]! -= amount;
        left[next]! += amount;
      }
    }
    for (const value of left) worst = Math.max(worst, Math.abs(value));
  });
  return worst;
}

/** Frame of the flow, which may be coarser than the property's. */
export const flowFrame = (flow: Flow): Frame => flow.net.frame;
