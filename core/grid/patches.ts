import { cellCount, type Frame, type Grid, type Point, type TypedArray } from './frame.ts';

/** A connected piece of cells that hold one value. */
export interface Patch {
  /** The number its cells hold in `labels`, from 1. */
  label: number;
  /** The value its cells hold in the input. */
  value: number;
  cells: number;
  /** m². */
  area: number;
  /** Mean of its cell centres; it may lie outside a bent patch. */
  centre: Point;
  /** Row-major index of its first cell. */
  first: number;
}

/**
 * Connected components of equal value, labelled from 1 by size, the largest first (ties by first cell).
 * One row-order pass with union-find and path halving, then one pass to number them.
 *
 * @param values 0 and NaN are background
 * @param connectivity 4 or 8 neighbours
 * @param minArea patches below this are dropped to background, m²
 */
export function findPatches(
  frame: Frame,
  values: TypedArray,
  connectivity: 4 | 8 = 4,
  minArea = 0,
): { labels: Grid<Int32Array>; patches: Patch[] } {
  const { width, height, cellSize } = frame;
  const labels = new Int32Array(cellCount(frame));
  let parent = new Int32Array(1024);
  let provisional = 0;

  const root = (label: number): number => {
    let r = label;
    while (parent[r] !== r) {
      parent[r] = parent[parent[r]!]!;
      r = parent[r]!;
    }
    return r;
  };
  const join = (a: number, b: number): number => {
    const ra = root(a);
    const rb = root(b);
    if (ra < rb) parent[rb] = ra;
    else parent[ra] = rb;
    return Math.min(ra, rb);
  };

  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const value = values[i]!;
      if (value === 0 || Number.isNaN(value)) continue;
      let label = 0;
      if (x > 0 && values[i - 1] === value) label = labels[i - 1]!;
      if (y > 0) {
        const above = i - width;
        if (values[above] === value) label = label ? join(label, labels[above]!) : labels[above]!;
        if (connectivity === 8) {
          if (x > 0 && values[above - 1] === value)
            label = label ? join(label, labels[above - 1]!) : labels[above - 1]!;
          if (x + 1 < width && values[above + 1] === value)
            label = label ? join(label, labels[above + 1]!) : labels[above + 1]!;
        }
      }
      if (label === 0) {
        label = ++provisional;
        if (label === parent.length) {
          const bigger = new Int32Array(parent.length * 2);
          bigger.set(parent);
          parent = bigger;
        }
        parent[label] = label;
      }
      labels[i] = label;
    }
  }

  const cells = new Int32Array(provisional + 1);
  const first = new Int32Array(provisional + 1).fill(-1);
  const sumX = new Float64Array(provisional + 1);
  const sumY = new Float64Array(provisional + 1);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (labels[i] === 0) continue;
      const r = root(labels[i]!);
      labels[i] = r;
      if (first[r]! < 0) first[r] = i;
      cells[r]!++;
      sumX[r]! += x;
      sumY[r]! += y;
    }
  }

  const cellArea = cellSize * cellSize;
  const kept: number[] = [];
  for (let r = 1; r <= provisional; r++) if (cells[r]! > 0 && cells[r]! * cellArea >= minArea) kept.push(r);
  kept.sort((a, b) => cells[b]! - cells[a]! || first[a]! - first[b]!);
  const final = new Int32Array(provisional + 1);
  const patches = kept.map((r, k): Patch => {
    final[r] = k + 1;
    return {
      label: k + 1,
      value: values[first[r]!]!,
      cells: cells[r]!,
      area: cells[r]! * cellArea,
      centre: [
        frame.west + (sumX[r]! / cells[r]! + 0.5) * cellSize,
        frame.north - (sumY[r]! / cells[r]! + 0.5) * cellSize,
      ],
      first: first[r]!,
    };
  });
  for (let i = 0; i < labels.length; i++) if (labels[i] !== 0) labels[i] = final[labels[i]!]!;
  return { labels: { frame, cells: labels }, patches };
}
