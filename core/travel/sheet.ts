/**
 * A net that is a grid but for what walls cut off: every node of the grid may conduct to its four neighbours, and
 * *spare* nodes, cut off from the node of the grid where they lie, have rows of their own. Grids need no lists of
 * neighbours, which makes sweeps over them several times quicker.
 *
 * Vectors over a sheet hold an empty row, the grid, an empty row (so that no sweep tests for the border), then the
 * spares; all places below count from there.
 */
export interface Sheet {
  width: number;
  height: number;
  /** Length of its vectors. */
  size: number;
  /** To the neighbour east and south; 0 means no way, as in the last column and row. */
  east: Float64Array;
  south: Float64Array;
  /** Leak to ground of every node; null when nothing leaks away. */
  leak: Float64Array | null;
  /** One over the sum of a node's conductances and its leak; 0 for a node without any. */
  inverse: Float64Array;
  spares: Spares;
}

/** Rows of the spares, in order; `(height + 2) * width` is the place of the first. */
export interface Spares {
  count: number;
  /** Place on the grid of the node each lies beside. */
  home: Int32Array;
  start: Int32Array;
  /** Where the neighbours numbered after the spare begin in its row: later spares, and all of the grid. */
  middle: Int32Array;
  to: Int32Array;
  conductance: Float64Array;
  /** Nodes of the grid with spares for neighbours, and rows of these. */
  tied: Int32Array;
  tiedStart: Int32Array;
  tiedTo: Int32Array;
  tiedConductance: Float64Array;
  /** Room for what the tied nodes' right sides were. */
  kept: Float64Array;
}

/** How a sheet's nodes are gathered into those of a sheet of half its width and height. */
export interface Gathering {
  /** Nodes of the grid that do not go to the node of the grid over them, in order, and where they go; 0 nowhere. */
  strays: Int32Array;
  straysTo: Int32Array;
  /** Where the spares go; 0 nowhere. */
  sparesTo: Int32Array;
}

export const firstSpare = ({ width, height }: { width: number; height: number }): number =>
  (height + 2) * width;

/** Place on the coarser grid over a place on the grid. */
export function over(place: number, width: number): number {
  const half = (width + 1) >> 1;
  const row = Math.floor(place / width) - 1;
  return ((row >> 1) + 1) * half + ((place - (row + 1) * width) >> 1);
}

/** A row of a forward Gauss-Seidel sweep from zero: spares come first, and were added to the right side. */
export function sweepRow(
  { width, east, south, inverse }: Sheet,
  row: number,
  right: Float64Array,
  out: Float64Array,
): void {
  const begin = (row + 1) * width;
  let last = 0;
  for (let i = begin, end = begin + width; i < end; i++) {
    // In this order only one product and one sum wait for the cell before.
    const inv = inverse[i]!;
    last = (right[i]! + south[i - width]! * out[i - width]!) * inv + east[i - 1]! * inv * last;
    out[i] = last;
  }
}

/**
 * Hands what a forward sweep left out of balance in a row to the coarser sheet: after a sweep from zero, only the
 * nodes ahead are out of balance with a node.
 */
export function gatherRow(
  { width, east, south }: Sheet,
  row: number,
  out: Float64Array,
  below: Float64Array,
): void {
  const half = (width + 1) >> 1;
  const pairs = width >> 1;
  let i = (row + 1) * width;
  let to = ((row >> 1) + 1) * half;
  const fresh = (row & 1) === 0;
  for (const end = to + pairs; to < end; to++, i += 2) {
    const next = out[i + 1]!;
    const sum =
      east[i]! * next +
      south[i]! * out[i + width]! +
      east[i + 1]! * out[i + 2]! +
      south[i + 1]! * out[i + 1 + width]!;
    below[to] = fresh ? sum : below[to]! + sum;
  }
  if (width & 1) {
    const sum = south[i]! * out[i + width]!;
    below[to] = fresh ? sum : below[to]! + sum;
  }
}

/** The same for strays and spares, once all rows are gathered. */
export function gatherRest(
  sheet: Sheet,
  { strays, straysTo, sparesTo }: Gathering,
  out: Float64Array,
  below: Float64Array,
): void {
  const { width, height, east, south, spares } = sheet;
  below.fill(0, firstSpare({ width: (width + 1) >> 1, height: (height + 1) >> 1 }));
  for (let k = 0; k < strays.length; k++) {
    const i = strays[k]!;
    const ahead = east[i]! * out[i + 1]! + south[i]! * out[i + width]!;
    below[over(i, width)]! -= ahead;
    if (straysTo[k]! > 0) below[straysTo[k]!]! += ahead;
  }
  const { count, start, middle, to, conductance } = spares;
  for (let s = 0; s < count; s++) {
    if (sparesTo[s] === 0) continue;
    let ahead = 0;
    for (let k = middle[s]!; k < start[s + 1]!; k++) ahead += conductance[k]! * out[to[k]!]!;
    below[sparesTo[s]!]! += ahead;
  }
}

/** Adds the coarser answer to the spares. */
export function addToSpares(
  sheet: Sheet,
  { sparesTo }: Gathering,
  out: Float64Array,
  coarse: Float64Array,
): void {
  const first = firstSpare(sheet);
  for (let s = 0; s < sparesTo.length; s++) if (sparesTo[s]! > 0) out[first + s]! += coarse[sparesTo[s]!]!;
}

/** Adds the coarser answer to a row; `from` strays of it and the rows before are left, of which the rest are returned. */
export function addToRow(
  { width }: Sheet,
  { strays, straysTo }: Gathering,
  from: number,
  row: number,
  out: Float64Array,
  coarse: Float64Array,
): number {
  const half = (width + 1) >> 1;
  const begin = (row + 1) * width;
  let to = ((row >> 1) + 1) * half;
  let left = from;
  for (; left > 0 && strays[left - 1]! >= begin; left--) {
    const i = strays[left - 1]!;
    // Place 0 is empty.
    out[i]! += coarse[straysTo[left - 1]!]! - coarse[over(i, width)]!;
  }
  let i = begin;
  for (const end = begin + width - 1; i < end; i += 2, to++) {
    const value = coarse[to]!;
    out[i]! += value;
    out[i + 1]! += value;
  }
  if (width & 1) out[i]! += coarse[to]!;
  return left;
}

/** A row of a backward Gauss-Seidel sweep; returns what came out times `by`. */
export function sweepBackRow(
  { width, east, south, inverse }: Sheet,
  row: number,
  right: Float64Array,
  out: Float64Array,
  by: Float64Array,
): number {
  const begin = (row + 1) * width;
  let product = 0;
  let last = out[begin + width]!;
  for (let i = begin + width - 1; i >= begin; i--) {
    const inv = inverse[i]!;
    last =
      (right[i]! +
        south[i]! * out[i + width]! +
        east[i - 1]! * out[i - 1]! +
        south[i - width]! * out[i - width]!) *
        inv +
      east[i]! * inv * last;
    out[i] = last;
    product += last * by[i]!;
  }
  return product;
}

/** The same, leaving in `change` by how much less every node holds than before. */
export function sweepBackRowNoting(
  { width, east, south, inverse }: Sheet,
  row: number,
  right: Float64Array,
  out: Float64Array,
  change: Float64Array,
): void {
  const begin = (row + 1) * width;
  let last = out[begin + width]!;
  for (let i = begin + width - 1; i >= begin; i--) {
    const inv = inverse[i]!;
    last =
      (right[i]! +
        south[i]! * out[i + width]! +
        east[i - 1]! * out[i - 1]! +
        south[i - width]! * out[i - width]!) *
        inv +
      east[i]! * inv * last;
    change[i] = out[i]! - last;
    out[i] = last;
  }
}

/**
 * Turns the changes of a row into the net's answer to what a backward sweep left: every node was in balance but for
 * what the nodes before it changed since. The row before still holds changes.
 */
export function answerRow(
  { width, east, south, inverse }: Sheet,
  row: number,
  right: Float64Array,
  change: Float64Array,
): void {
  const begin = (row + 1) * width;
  for (let i = begin + width - 1; i >= begin; i--) {
    const ahead = east[i - 1]! * change[i - 1]! + south[i - width]! * change[i - width]!;
    // A node without conductors answers nothing.
    change[i] = inverse[i]! > 0 ? right[i]! + ahead : 0;
  }
}

/** Forward sweep over the spares from zero. */
export function sweepSpares(sheet: Sheet, right: Float64Array, out: Float64Array): void {
  const { count, start, middle, to, conductance } = sheet.spares;
  const first = firstSpare(sheet);
  for (let s = 0; s < count; s++) {
    let value = right[first + s]!;
    for (let k = start[s]!; k < middle[s]!; k++) value += conductance[k]! * out[to[k]!]!;
    out[first + s] = value * sheet.inverse[first + s]!;
  }
}

/** Backward sweep over the spares; leaves in `change` by how much less each holds than before, if asked for. */
export function sweepBackSpares(
  sheet: Sheet,
  right: Float64Array,
  out: Float64Array,
  change: Float64Array | null,
): void {
  const { count, start, to, conductance } = sheet.spares;
  const first = firstSpare(sheet);
  for (let s = count - 1; s >= 0; s--) {
    let value = right[first + s]!;
    for (let k = start[s]!; k < start[s + 1]!; k++) value += conductance[k]! * out[to[k]!]!;
    const now = value * sheet.inverse[first + s]!;
    if (change) change[first + s] = out[first + s]! - now;
    out[first + s] = now;
  }
}

/** Adds what the changes of the spares do to the answers of the tied nodes, then turns them into their own. */
export function answerSpares(sheet: Sheet, right: Float64Array, change: Float64Array): void {
  const { count, start, middle, to, conductance, tied, tiedStart, tiedTo, tiedConductance } = sheet.spares;
  const first = firstSpare(sheet);
  for (let t = 0; t < tied.length; t++)
    for (let k = tiedStart[t]!; k < tiedStart[t + 1]!; k++)
      change[tied[t]!]! += tiedConductance[k]! * change[tiedTo[k]!]!;
  for (let s = count - 1; s >= 0; s--) {
    let value = sheet.inverse[first + s]! > 0 ? right[first + s]! : 0;
    for (let k = start[s]!; k < middle[s]!; k++) value += conductance[k]! * change[to[k]!]!;
    change[first + s] = value;
  }
}

/** Adds to the right side what comes from the spares. */
export function tieSpares({ spares }: Sheet, right: Float64Array, out: Float64Array): void {
  const { tied, tiedStart, tiedTo, tiedConductance, kept } = spares;
  for (let t = 0; t < tied.length; t++) {
    const i = tied[t]!;
    let value = right[i]!;
    kept[t] = value;
    for (let k = tiedStart[t]!; k < tiedStart[t + 1]!; k++) value += tiedConductance[k]! * out[tiedTo[k]!]!;
    right[i] = value;
  }
}

/** Takes it off again, and off the answers made with it, if any. */
export function untieSpares({ spares }: Sheet, right: Float64Array, answer: Float64Array | null): void {
  const { tied, kept } = spares;
  for (let t = 0; t < tied.length; t++) {
    const i = tied[t]!;
    if (answer) answer[i]! += kept[t]! - right[i]!;
    right[i] = kept[t]!;
  }
}
