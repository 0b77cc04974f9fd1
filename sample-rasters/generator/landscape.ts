/**
 * Hill country carved by its own water: uplift against stream power erosion and the creep of soil, run until
 * ridges, draws and slopes hang together as one drainage net.
 *
 *   dz/dt = U - K A^1/2 S + D lap(z)
 *
 * Implicit stream power after Braun & Willett 2013 (Geomorphology 180-181), flooded best-first as in Barnes,
 * Lehman & Mulla 2014, so that every cell has a way out; soil creep by explicit steps.
 */

export interface Land {
  width: number;
  height: number;
  cellSize: number;
  /** m, row 0 north. */
  z: Float64Array;
  /** 1 where the height is given (valley floors, outlets). */
  fixed: Uint8Array;
  /** Rate of uplift, m per unit of time. */
  uplift: Float64Array;
}

export interface Erosion {
  /** Strength of streams, 1 per unit of time. */
  streams: number;
  /** Soil creep, m² per unit of time. */
  creep: number;
  step: number;
  steps: number;
}

/** Carves the land in place. */
export function carve(land: Land, erosion: Erosion): void {
  const { width, height, cellSize, z, fixed, uplift } = land;
  const count = width * height;
  const net = emptyNet(count);
  const area = new Float64Array(count);
  for (let step = 0; step < erosion.steps; step++) {
    drain(land, net);
    area.fill(cellSize * cellSize);
    for (let i = count - 1; i >= 0; i--) {
      const cell = net.order[i]!;
      const receiver = net.receiver[cell]!;
      if (receiver !== cell) area[receiver]! += area[cell]!;
    }
    for (let i = 0; i < count; i++) {
      const cell = net.order[i]!;
      if (fixed[cell]) continue;
      const receiver = net.receiver[cell]!;
      const raised = z[cell]! + erosion.step * uplift[cell]!;
      if (raised <= z[receiver]!) {
        z[cell] = raised;
        continue;
      }
      const pull = (erosion.streams * erosion.step * Math.sqrt(area[cell]!)) / net.distance[cell]!;
      z[cell] = (raised + pull * z[receiver]!) / (1 + pull);
    }
    creep(land, erosion.creep, erosion.step);
  }
}

interface Net {
  /** Cells from the outlets up. */
  order: Int32Array;
  receiver: Int32Array;
  distance: Float64Array;
  filled: Float64Array;
  heap: Int32Array;
  /** Flooded height of each heap entry, beside it so that sifting stays in one place of memory. */
  keys: Float64Array;
  seen: Uint8Array;
}

const emptyNet = (count: number): Net => ({
  order: new Int32Array(count),
  receiver: new Int32Array(count),
  distance: new Float64Array(count),
  filled: new Float64Array(count),
  heap: new Int32Array(count),
  keys: new Float64Array(count),
  seen: new Uint8Array(count),
});

/** Floods the land from its fixed cells up; each cell drains to its steepest neighbour on the flooded surface. */
function drain(land: Land, net: Net): void {
  const { width, height, cellSize, z, fixed } = land;
  const { order, receiver, distance, filled, heap, keys, seen } = net;
  const diagonal = cellSize * Math.SQRT2;
  let size = 0;
  let done = 0;
  const push = (cell: number): void => {
    const key = filled[cell]!;
    let i = size++;
    while (i > 0) {
      const parent = (i - 1) >> 1;
      if (keys[parent]! <= key) break;
      heap[i] = heap[parent]!;
      keys[i] = keys[parent]!;
      i = parent;
    }
    heap[i] = cell;
    keys[i] = key;
  };
  const pop = (): number => {
    const top = heap[0]!;
    const last = heap[--size]!;
    const key = keys[size]!;
    let i = 0;
    for (let child = 1; child < size; child = 2 * i + 1) {
      if (child + 1 < size && keys[child + 1]! < keys[child]!) child++;
      if (keys[child]! >= key) break;
      heap[i] = heap[child]!;
      keys[i] = keys[child]!;
      i = child;
    }
    heap[i] = last;
    keys[i] = key;
    return top;
  };
  seen.fill(0);
  for (let cell = 0; cell < z.length; cell++) {
    if (!fixed[cell]) continue;
    seen[cell] = 1;
    filled[cell] = z[cell]!;
    receiver[cell] = cell;
    push(cell);
  }
  while (size > 0) {
    const cell = pop();
    order[done++] = cell;
    const column = cell % width;
    const row = (cell - column) / width;
    let steepest = 0;
    for (let dr = -1; dr <= 1; dr++) {
      for (let dc = -1; dc <= 1; dc++) {
        if (row + dr < 0 || row + dr >= height || column + dc < 0 || column + dc >= width) continue;
        const other = cell + dr * width + dc;
        const length = dr !== 0 && dc !== 0 ? diagonal : cellSize;
        if (!seen[other]) {
          seen[other] = 1;
          filled[other] = Math.max(z[other]!, filled[cell]!);
          receiver[other] = cell;
          distance[other] = length;
          push(other);
        } else if (!fixed[cell]) {
          const slope = (filled[cell]! - filled[other]!) / length;
          if (slope > steepest) {
            steepest = slope;
            receiver[cell] = other;
            distance[cell] = length;
          }
        }
      }
    }
  }
}

/** Explicit diffusion in steps small enough to be stable; nothing crosses the map's edge. */
function creep(land: Land, rate: number, time: number): void {
  const { width, height, cellSize, fixed } = land;
  const parts = Math.ceil((5 * rate * time) / (cellSize * cellSize));
  const weight = (rate * time) / parts / (cellSize * cellSize);
  let from = land.z;
  let to: Float64Array = new Float64Array(from.length);
  for (let part = 0; part < parts; part++) {
    for (let row = 0, cell = 0; row < height; row++) {
      const up = row > 0 ? -width : 0;
      const down = row < height - 1 ? width : 0;
      for (let column = 0; column < width; column++, cell++) {
        const here = from[cell]!;
        if (fixed[cell]) {
          to[cell] = here;
          continue;
        }
        const west = column > 0 ? from[cell - 1]! : here;
        const east = column < width - 1 ? from[cell + 1]! : here;
        to[cell] = here + weight * (west + east + from[cell + up]! + from[cell + down]! - 4 * here);
      }
    }
    [from, to] = [to, from];
  }
  if (from !== land.z) land.z.set(from);
}

/** Cubic resampling at a point given in cells from the first cell's centre. */
export function cubic(values: Float64Array, width: number, height: number, x: number, y: number): number {
  const column = Math.floor(x);
  const row = Math.floor(y);
  let sum = 0;
  for (let j = -1; j <= 2; j++) {
    const r = Math.min(Math.max(row + j, 0), height - 1) * width;
    let line = 0;
    for (let i = -1; i <= 2; i++) {
      const c = Math.min(Math.max(column + i, 0), width - 1);
      line += values[r + c]! * kernel(x - column - i);
    }
    sum += line * kernel(y - row - j);
  }
  return sum;
}

/** Cubic B-spline: slightly smoothing, no overshoot. */
function kernel(distance: number): number {
  const t = Math.abs(distance);
  if (t >= 2) return 0;
  return t < 1 ? (4 - 6 * t * t + 3 * t * t * t) / 6 : ((2 - t) * (2 - t) * (2 - t)) / 6;
}
