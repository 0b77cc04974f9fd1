import { type Progress, silent } from '../grid/progress.ts';
import type { GridNet } from './aggregation.ts';
import { finishSheet, noSpares } from './blocks.ts';
import { buildCycle, runCycle } from './cycle.ts';
import { addToRow, gatherRest, gatherRow, sweepBackRow, sweepRow } from './sheet.ts';

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

/**
 * Solves a net of conductors on a grid by conjugate gradients, preconditioned by an aggregation multigrid (Notay,
 * "An aggregation-based algebraic multigrid method", ETNA 37, 2010): blocks of two by two that fall into parts along
 * walls, one Gauss-Seidel sweep before and after, and two flexible conjugate gradient steps on every coarser level
 * (K-cycle). No part lies on both sides of a fence, so jumps in conductance do not slow it. All in 64-bit; every pass
 * does as much as it can while a row is at hand.
 */
export function createSolver(net: GridNet): Solver {
  const { width, height } = net;
  const count = width * height;
  // One empty row above and below saves every test of the border.
  const total = count + 2 * width;
  const sheet = finishSheet(
    {
      width,
      height,
      size: total,
      east: padded(net.east, width),
      south: padded(net.south, width),
      leak: net.ground && padded(net.ground, width),
    },
    noSpares(),
  );
  const { east, south, leak, inverse } = sheet;
  const cycle = buildCycle(sheet);
  const { gathering } = cycle;
  const below = cycle.levels[0]!.right;

  const residual = new Float64Array(total);
  const direction = new Float64Array(total);
  const flow = new Float64Array(total);
  const z = new Float64Array(total);
  const x = new Float64Array(total);

  /** A row of out = net * v; returns v times out. */
  function applyRow(row: number, v: Float64Array, out: Float64Array): number {
    let product = 0;
    const begin = (row + 1) * width;
    for (let i = begin; i < begin + width; i++) {
      const here = v[i]!;
      let value =
        east[i]! * (here - v[i + 1]!) +
        south[i]! * (here - v[i + width]!) +
        east[i - 1]! * (here - v[i - 1]!) +
        south[i - width]! * (here - v[i - width]!);
      if (leak !== null) value += leak[i]! * here;
      out[i] = value;
      product += here * value;
    }
    return product;
  }

  /** Goes a way along the direction, and sweeps forward for the next; the squares of what is left. */
  function advance(alpha: number): number {
    let left = 0;
    for (let row = 0; row < height; row++) {
      const begin = (row + 1) * width;
      for (let i = begin; i < begin + width; i++) {
        x[i]! += alpha * direction[i]!;
        const r = residual[i]! - alpha * flow[i]!;
        residual[i] = r;
        left += r * r;
      }
      sweepRow(sheet, row, residual, z);
      if (row > 0) gatherRow(sheet, row - 1, z, below);
    }
    gatherRow(sheet, height - 1, z, below);
    return left;
  }

  /** z = roughly the potentials that drive what is left; returns z times the flow of the last direction. */
  function correct(): number {
    gatherRest(sheet, gathering, z, below);
    const coarse = runCycle(cycle, 0);
    let along = 0;
    let strays = addToRow(sheet, gathering, gathering.strays.length, height - 1, z, coarse);
    for (let row = height - 1; row >= 0; row--) {
      if (row > 0) strays = addToRow(sheet, gathering, strays, row - 1, z, coarse);
      along += sweepBackRow(sheet, row, residual, z, flow);
    }
    return along;
  }

  /** Turns the direction, and finds the flow along it. */
  function turn(beta: number): { gain: number; driven: number } {
    let gain = 0;
    let driven = 0;
    for (let row = 0; row <= height; row++) {
      const begin = (row + 1) * width;
      if (row < height)
        for (let i = begin; i < begin + width; i++) {
          const d = z[i]! + beta * direction[i]!;
          direction[i] = d;
          gain += d * residual[i]!;
        }
      if (row > 0) driven += applyRow(row - 1, direction, flow);
    }
    return { gain, driven };
  }

  function solve(
    injected: Float64Array,
    potential: Float64Array,
    { tolerance = 1e-8, mostSteps = 400, progress = silent } = {},
  ): Solution {
    x.set(potential, width);
    for (let row = 0; row < height; row++) applyRow(row, x, flow);
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
      if (steps === 0) advance(0);
      const along = correct();
      const turned = turn(steps > 0 ? -along / driven : 0);
      driven = turned.driven;
      left = advance(turned.gain / driven);
      steps++;
      progress(Math.min(1, Math.log(startedAt / left) / Math.log(startedAt / goal)));
    }
    for (let i = width, k = 0; k < count; i++, k++) if (inverse[i]! > 0) potential[k] = x[i]!;
    return { steps, residual: wanted > 0 ? Math.sqrt(left / wanted) : 0 };
  }

  return { solve, bytes: 8 * total * (leak ? 9 : 8) + cycle.bytes };
}

function padded(cells: Float64Array, width: number): Float64Array {
  const out = new Float64Array(cells.length + 2 * width);
  out.set(cells, width);
  return out;
}
