import { type Progress, silent } from '../grid/progress.ts';
import { coarsenGrid, coarsenNet, type GridNet, type Net, pairGrid, pairNet } from './aggregation.ts';

export interface Solution {
  /** Steps taken. */
  steps: number;
  /** Norm of the imbalance over the norm of what was injected. */
  residual: number;
}

export interface Solver {
  /**
   * Potentials that drive the injected flow.
   *
   * @param injected flow into every cell; where nothing leaks it must sum to zero over every connected piece
   * @param potential where to start from (zeros, or a former answer), and the answer; unconnected cells stay as
   *   they are
   * @throws Error when it does not converge within `mostSteps`
   */
  solve(
    injected: Float64Array,
    potential: Float64Array,
    options?: { tolerance?: number; mostSteps?: number; progress?: Progress },
  ): Solution;
  /** Bytes held by the solver besides the conductances and the caller's two vectors. */
  bytes: number;
}

/** A coarse level and the room its cycle needs. */
interface Level {
  net: Net;
  inverse: Float64Array;
  /** Place on the next coarser level, -1 none. */
  map: Int32Array;
  /** One step here is enough: in a leaky net errors are short, and every other level may save its second. */
  single: boolean;
  right: Float64Array;
  first: Float64Array;
  firstFlow: Float64Array;
  second: Float64Array;
  secondFlow: Float64Array;
}

const COARSEST = 150;

/**
 * Solves a net of conductors on a grid by conjugate gradients, preconditioned by an aggregation multigrid (Notay,
 * "An aggregation-based algebraic multigrid method", ETNA 37, 2010): pairs of pairs by strength, one Gauss-Seidel
 * sweep before and after, and two flexible conjugate gradient steps on every coarser level (K-cycle). Strength keeps
 * aggregates on one side of a fence, so jumps in conductance do not slow it. All in 64-bit; the finest level is
 * never stored as a matrix.
 */
export function createSolver(net: GridNet): Solver {
  const { width, height } = net;
  const count = width * height;
  // One empty row above and below saves every test of the border.
  const total = count + 2 * width;
  const east = padded(net.east, width);
  const south = padded(net.south, width);
  const leaky = net.ground !== null;
  const ground = net.ground ? padded(net.ground, width) : new Float64Array(0);
  const inverse = new Float64Array(total);
  for (let i = width; i < width + count; i++) {
    const sum = east[i]! + south[i]! + east[i - 1]! + south[i - width]! + (leaky ? ground[i]! : 0);
    inverse[i] = sum > 0 ? 1 / sum : 0;
  }

  const { map, levels, lowest } = buildLevels(net);
  const top = levels[0] ?? null;

  const residual = new Float64Array(total);
  const direction = new Float64Array(total);
  const flow = new Float64Array(total);
  const z = new Float64Array(total);
  const x = new Float64Array(total);

  /** out = net * v; returns v times out. */
  function apply(v: Float64Array, out: Float64Array): number {
    let product = 0;
    for (let i = width, end = width + count; i < end; i++) {
      const here = v[i]!;
      const value =
        east[i]! * (here - v[i + 1]!) +
        south[i]! * (here - v[i + width]!) +
        east[i - 1]! * (here - v[i - 1]!) +
        south[i - width]! * (here - v[i - width]!) +
        (leaky ? ground[i]! * here : 0);
      out[i] = value;
      product += here * value;
    }
    return product;
  }

  /** z = roughly the potentials that drive r; returns z times the flow of the last direction. */
  function precondition(r: Float64Array): number {
    const end = width + count;
    for (let i = width; i < end; i++) {
      z[i] = (r[i]! + east[i - 1]! * z[i - 1]! + south[i - width]! * z[i - width]!) * inverse[i]!;
    }
    if (top) {
      const { right, first } = top;
      right.fill(0);
      // After a forward sweep from zero only the cells ahead are out of balance with this one.
      for (let i = width, k = 0; i < end; i++, k++) {
        const to = map[k]!;
        if (to >= 0) right[to]! += east[i]! * z[i + 1]! + south[i]! * z[i + width]!;
      }
      cycle(levels, lowest, 0);
      for (let i = width, k = 0; i < end; i++, k++) {
        const to = map[k]!;
        if (to >= 0) z[i]! += first[to]!;
      }
    }
    let product = 0;
    for (let i = end - 1; i >= width; i--) {
      const value =
        (r[i]! +
          east[i]! * z[i + 1]! +
          south[i]! * z[i + width]! +
          east[i - 1]! * z[i - 1]! +
          south[i - width]! * z[i - width]!) *
        inverse[i]!;
      z[i] = value;
      product += value * flow[i]!;
    }
    return product;
  }

  function solve(
    injected: Float64Array,
    potential: Float64Array,
    { tolerance = 1e-8, mostSteps = 400, progress = silent } = {},
  ): Solution {
    x.set(potential, width);
    apply(x, flow);
    let wanted = 0;
    let left = 0;
    for (let i = width, k = 0; k < count; i++, k++) {
      // What cannot flow anywhere is left out.
      const b = inverse[i]! > 0 ? injected[k]! : 0;
      const r = b - flow[i]!;
      residual[i] = r;
      wanted += b * b;
      left += r * r;
    }
    const goal = tolerance * tolerance * wanted;
    const startedAt = left;
    let steps = 0;
    let driven = 0;
    while (left > goal) {
      if (steps === mostSteps)
        throw new Error(
          `the flow did not settle in ${mostSteps} steps: imbalance ${Math.sqrt(left / wanted)}`,
        );
      const along = precondition(residual);
      const beta = steps > 0 ? -along / driven : 0;
      let gain = 0;
      for (let i = width, end = width + count; i < end; i++) {
        const d = z[i]! + beta * direction[i]!;
        direction[i] = d;
        gain += d * residual[i]!;
      }
      driven = apply(direction, flow);
      const alpha = gain / driven;
      left = 0;
      for (let i = width, end = width + count; i < end; i++) {
        x[i]! += alpha * direction[i]!;
        const r = residual[i]! - alpha * flow[i]!;
        residual[i] = r;
        left += r * r;
      }
      steps++;
      progress(Math.min(1, Math.log(startedAt / left) / Math.log(startedAt / goal)));
    }
    for (let i = width, k = 0; k < count; i++, k++) if (inverse[i]! > 0) potential[k] = x[i]!;
    return { steps, residual: wanted > 0 ? Math.sqrt(left / wanted) : 0 };
  }

  let bytes = 8 * total * (leaky ? 9 : 8) + 4 * count + 8 * lowest.factor.length;
  for (const level of levels) {
    bytes += 8 * level.net.count * 8 + 4 * level.map.length + 8 * level.net.start.length;
    bytes += 12 * level.net.to.length;
  }
  return { solve, bytes };
}

function padded(cells: Float64Array, width: number): Float64Array {
  const out = new Float64Array(cells.length + 2 * width);
  out.set(cells, width);
  return out;
}

function buildLevels(net: GridNet): { map: Int32Array; levels: Level[]; lowest: Lowest } {
  let pairs = pairGrid(net);
  const half = coarsenGrid(net, pairs.map, pairs.count);
  let quarter = pairNet(half);
  const map = joined(pairs.map, quarter.map);
  let coarse = coarsenNet(half, quarter.map, quarter.count);
  const levels: Level[] = [];
  while (coarse.count > COARSEST) {
    pairs = pairNet(coarse);
    const middle = coarsenNet(coarse, pairs.map, pairs.count);
    quarter = pairNet(middle);
    const down = joined(pairs.map, quarter.map);
    const next = coarsenNet(middle, quarter.map, quarter.count);
    levels.push(levelOf(coarse, down, net.ground !== null && levels.length % 2 === 1));
    // Many unconnected scraps cannot be gathered further; they have no neighbours and drop out.
    if (next.count > 0.8 * coarse.count) {
      coarse = next;
      break;
    }
    coarse = next;
  }
  levels.push(levelOf(coarse, new Int32Array(0), true));
  return { map, levels, lowest: factorize(coarse) };
}

function joined(fine: Int32Array, coarse: Int32Array): Int32Array {
  const out = new Int32Array(fine.length);
  for (let i = 0; i < fine.length; i++) out[i] = fine[i]! >= 0 ? coarse[fine[i]!]! : -1;
  return out;
}

function levelOf(net: Net, map: Int32Array, single: boolean): Level {
  const vector = (): Float64Array => new Float64Array(net.count);
  return {
    net,
    inverse: net.sum.map((sum) => (sum > 0 ? 1 / sum : 0)),
    map,
    single,
    right: vector(),
    first: vector(),
    firstFlow: vector(),
    second: vector(),
    secondFlow: vector(),
  };
}

interface Lowest {
  count: number;
  /** Cholesky factor of the last level, row by row, 0 on the diagonal where a piece is pinned. */
  factor: Float64Array;
}

/** Dense Cholesky of the coarsest net; the last node of each connected piece is pinned at zero. */
function factorize({ count: n, start, to, conductance, sum }: Net): Lowest {
  const factor = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    factor[i * n + i] = sum[i]!;
    for (let k = start[i]!; k < start[i + 1]!; k++) factor[i * n + to[k]!] = -conductance[k]!;
  }
  for (let j = 0; j < n; j++) {
    let pivot = factor[j * n + j]!;
    for (let k = 0; k < j; k++) pivot -= factor[j * n + k]! ** 2;
    const d = pivot > 1e-11 * sum[j]! ? Math.sqrt(pivot) : 0;
    factor[j * n + j] = d;
    for (let i = j + 1; i < n; i++) {
      let value = factor[i * n + j]!;
      for (let k = 0; k < j; k++) value -= factor[i * n + k]! * factor[j * n + k]!;
      factor[i * n + j] = d > 0 ? value / d : 0;
    }
  }
  return { count: n, factor };
}

function solveLowest({ count: n, factor }: Lowest, right: Float64Array, out: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let value = right[i]!;
    for (let k = 0; k < i; k++) value -= factor[i * n + k]! * out[k]!;
    const d = factor[i * n + i]!;
    out[i] = d > 0 ? value / d : 0;
  }
  for (let i = n - 1; i >= 0; i--) {
    const d = factor[i * n + i]!;
    if (d === 0) continue;
    let value = out[i]!;
    for (let k = i + 1; k < n; k++) value -= factor[k * n + i]! * out[k]!;
    out[i] = value / d;
  }
}

/**
 * One smoothing, coarse correction, smoothing on level l: `out` = roughly the potentials that drive `right`, and
 * `flow` = the net's answer to them. The backward sweep leaves every row in balance but for what the rows before it
 * changed since, so that answer costs half a product.
 */
function smoothed(
  levels: Level[],
  lowest: Lowest,
  l: number,
  right: Float64Array,
  out: Float64Array,
  flow: Float64Array,
): void {
  const { net, inverse, map } = levels[l]!;
  const { count, start, middle, to, conductance } = net;
  const below = levels[l + 1]!;
  // From zero, a forward sweep meets nothing ahead, and leaves only what lies ahead out of balance.
  for (let i = 0; i < count; i++) {
    let value = right[i]!;
    for (let k = start[i]!, end = middle[i]!; k < end; k++) value += conductance[k]! * out[to[k]!]!;
    out[i] = value * inverse[i]!;
  }
  below.right.fill(0);
  for (let i = 0; i < count; i++) {
    const place = map[i]!;
    if (place < 0) continue;
    let ahead = 0;
    for (let k = middle[i]!, end = start[i + 1]!; k < end; k++) ahead += conductance[k]! * out[to[k]!]!;
    below.right[place]! += ahead;
  }
  cycle(levels, lowest, l + 1);
  for (let i = 0; i < count; i++) {
    const place = map[i]!;
    if (place >= 0) out[i]! += below.first[place]!;
  }
  for (let i = count - 1; i >= 0; i--) {
    let value = right[i]!;
    for (let k = start[i]!, end = start[i + 1]!; k < end; k++) value += conductance[k]! * out[to[k]!]!;
    const now = value * inverse[i]!;
    flow[i] = out[i]! - now;
    out[i] = now;
  }
  for (let i = count - 1; i >= 0; i--) {
    // A node without conductors answers nothing.
    let value = inverse[i]! > 0 ? right[i]! : 0;
    for (let k = start[i]!, end = middle[i]!; k < end; k++) value += conductance[k]! * flow[to[k]!]!;
    flow[i] = value;
  }
}

/** Up to two flexible conjugate gradient steps on level l for its `right`; the answer is left in `first`. */
function cycle(levels: Level[], lowest: Lowest, l: number): void {
  const level = levels[l]!;
  const { net, single, right, first, firstFlow, second, secondFlow } = level;
  if (l === levels.length - 1) {
    solveLowest(lowest, right, first);
    return;
  }
  smoothed(levels, lowest, l, right, first, firstFlow);
  let driven = 0;
  let gain = 0;
  let before = 0;
  for (let i = 0; i < net.count; i++) {
    driven += first[i]! * firstFlow[i]!;
    gain += first[i]! * right[i]!;
    before += right[i]! * right[i]!;
  }
  if (!(driven > 0)) return;
  const alpha = gain / driven;
  let after = 0;
  for (let i = 0; i < net.count; i++) {
    const r = right[i]! - alpha * firstFlow[i]!;
    right[i] = r;
    after += r * r;
  }
  if (single || after <= 0.0625 * before) {
    for (let i = 0; i < net.count; i++) first[i]! *= alpha;
    return;
  }
  smoothed(levels, lowest, l, right, second, secondFlow);
  let mixed = 0;
  let drivenNow = 0;
  let gainNow = 0;
  for (let i = 0; i < net.count; i++) {
    mixed += second[i]! * firstFlow[i]!;
    drivenNow += second[i]! * secondFlow[i]!;
    gainNow += second[i]! * right[i]!;
  }
  const free = drivenNow - (mixed * mixed) / driven;
  if (!(free > 0)) {
    for (let i = 0; i < net.count; i++) first[i]! *= alpha;
    return;
  }
  const along = alpha - (mixed * gainNow) / (driven * free);
  const across = gainNow / free;
  for (let i = 0; i < net.count; i++) first[i] = along * first[i]! + across * second[i]!;
}
