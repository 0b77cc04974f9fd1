import { indexOffsets, NEIGHBOURS_8 } from '../grid/neighbours.ts';

/** Level ground with a gradient of its own, in whole numbers. */
export interface FlatGradient {
  /** The level cells that wait for a way. */
  flat: Int32Array;
  /** For every cell of the grid its place in `flat` plus one; 0 for the others. */
  place: Int32Array;
  /** By place in `flat`: a lower number is nearer the flat's outlet; 0 where it has none. */
  gradient: Int32Array;
}

/**
 * A gradient over level ground that leads towards its outlet and away from higher ground: Barnes, Lehman &
 * Mulla, "An efficient assignment of drainage direction over flat surfaces in raster digital elevation models",
 * Computers & Geosciences 62 (2014), after Garbrecht & Martz (1997). Whole numbers only, so no elevation is touched.
 *
 * @param cells elevations; a flat is a group of cells of one elevation, joined over 8 neighbours
 * @param directions flow directions so far: 0 marks a level cell, waiting for its way. No such cell may lie on
 *   the map's edge or beside no data.
 */
export function flatGradient(cells: Float32Array, directions: Uint8Array, width: number): FlatGradient {
  const count = cells.length;
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  let size = 0;
  for (let i = 0; i < count; i++) if (directions[i] === 0 && !Number.isNaN(cells[i]!)) size++;
  const flat = new Int32Array(size);
  const place = new Int32Array(count);
  for (let i = 0, n = 0; i < count; i++) {
    if (directions[i] !== 0 || Number.isNaN(cells[i]!)) continue;
    flat[n++] = i;
    place[i] = n;
  }
  const ring = new Int32Array(size);

  /** Steps from the seeds over each flat, breadth first: 1 at a seed, 0 where no seed is reached. */
  const stepsFrom = (isSeed: (cell: number, neighbour: number) => boolean): Int32Array => {
    const steps = new Int32Array(size);
    let end = 0;
    for (let n = 0; n < size; n++) {
      const i = flat[n]!;
      for (let k = 0; k < 8; k++) {
        if (!isSeed(i, i + offsets[k]!)) continue;
        steps[n] = 1;
        ring[end++] = n;
        break;
      }
    }
    for (let at = 0; at < end; at++) {
      const n = ring[at]!;
      const i = flat[n]!;
      for (let k = 0; k < 8; k++) {
        const j = i + offsets[k]!;
        const m = place[j]! - 1;
        if (m < 0 || steps[m] !== 0 || cells[j] !== cells[i]) continue;
        steps[m] = steps[n]! + 1;
        ring[end++] = m;
      }
    }
    return steps;
  };

  const away = stepsFrom((i, j) => cells[j]! > cells[i]!);
  const gradient = stepsFrom((i, j) => place[j] === 0 && cells[j] === cells[i]);

  // The way towards the outlet weighs double, so that it always wins; the push away from higher ground counts from
  // the middle of each flat, so each flat must know its farthest cell.
  const done = new Uint8Array(size);
  for (let start = 0; start < size; start++) {
    if (done[start] === 1) continue;
    let head = 0;
    let tail = 1;
    let farthest = 0;
    ring[0] = start;
    done[start] = 1;
    while (head < tail) {
      const n = ring[head++]!;
      const i = flat[n]!;
      if (away[n]! > farthest) farthest = away[n]!;
      for (let k = 0; k < 8; k++) {
        const j = i + offsets[k]!;
        const m = place[j]! - 1;
        if (m < 0 || done[m] === 1 || cells[j] !== cells[i]) continue;
        done[m] = 1;
        ring[tail++] = m;
      }
    }
    for (let at = 0; at < tail; at++) {
      const n = ring[at]!;
      // A flat without an outlet is the bottom of a pit, on a surface that was not filled.
      if (gradient[n] !== 0) gradient[n] = 2 * gradient[n]! + (away[n] === 0 ? 0 : farthest - away[n]! + 1);
    }
  }
  return { flat, place, gradient };
}
