import type { Net } from './aggregation.ts';

/** The last net of a multigrid, solved outright. */
export interface Lowest {
  count: number;
  /** Cholesky factor, row by row, 0 on the diagonal where a piece is pinned. */
  factor: Float64Array;
}

/** Dense Cholesky; the last node of each connected piece that does not leak is pinned at zero. */
export function factorize({ count: n, start, to, conductance, sum }: Net): Lowest {
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

export function solveLowest({ count: n, factor }: Lowest, right: Float64Array, out: Float64Array): void {
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
