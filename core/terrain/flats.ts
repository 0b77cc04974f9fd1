import { indexOffsets, NEIGHBOURS_8 } from '../grid/neighbours.ts';

/**
 * A gradient over level ground that leads towards its outlet and away from higher ground: Barnes, Lehman &
 * Mulla, "An efficient assignment of drainage direction over flat surfaces in raster digital elevation models",
 * Computers & Geosciences 62 (2014), after Garbrecht & Martz (1997). Whole numbers only, so no elevation is touched.
 *
 * @param cells elevations; a flat is a group of cells of one elevation, joined over 8 neighbours
 * @param directions flow directions so far: 0 marks a level cell, waiting for its way. No such cell may lie on
 *   the map's edge or beside no data.
 * @returns the level cells, and the gradient: within a flat, a lower number is nearer its outlet; 0 elsewhere
 */
export function flatGradient(
  cells: Float32Array,
  directions: Uint8Array,
  width: number,
  height: number,
): { flat: Int32Array; gradient: Int32Array } {
  const count = width * height;
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const gradient = new Int32Array(count);
  let size = 0;
  for (let i = 0; i < count; i++) if (directions[i] === 0 && !Number.isNaN(cells[i]!)) size++;
  const flat = new Int32Array(size);
  for (let i = 0, n = 0; i < count; i++) if (directions[i] === 0 && !Number.isNaN(cells[i]!)) flat[n++] = i;

  // Away from higher ground: steps from the nearest cell that touches a higher one.
  const away = new Int32Array(count);
  const ring = new Int32Array(size);
  let end = 0;
  for (let n = 0; n < size; n++) {
    const i = flat[n]!;
    for (let k = 0; k < 8; k++) {
      if (cells[i + offsets[k]!]! > cells[i]!) {
        away[i] = 1;
        ring[end++] = i;
        break;
      }
    }
  }
  for (let at = 0; at < end; at++) {
    const i = ring[at]!;
    for (let k = 0; k < 8; k++) {
      const j = i + offsets[k]!;
      if (cells[j] === cells[i] && directions[j] === 0 && away[j] === 0) {
        away[j] = away[i]! + 1;
        ring[end++] = j;
      }
    }
  }

  // Towards the outlet: steps from the nearest cell of the same level that already drains. Weighs double, so
  // that it always wins; the push away from higher ground counts from the middle of its own flat.
  const group = new Int32Array(count);
  const highest: number[] = [0];
  for (let n = 0; n < size; n++) {
    const start = flat[n]!;
    if (group[start] !== 0) continue;
    const label = highest.length;
    let most = 0;
    let tail = 0;
    let head = 0;
    ring[tail++] = start;
    group[start] = label;
    while (head < tail) {
      const i = ring[head++]!;
      if (away[i]! > most) most = away[i]!;
      for (let k = 0; k < 8; k++) {
        const j = i + offsets[k]!;
        if (cells[j] === cells[i] && directions[j] === 0 && group[j] === 0) {
          group[j] = label;
          ring[tail++] = j;
        }
      }
    }
    highest.push(most);
  }
  end = 0;
  for (let n = 0; n < size; n++) {
    const i = flat[n]!;
    for (let k = 0; k < 8; k++) {
      const j = i + offsets[k]!;
      if (cells[j] === cells[i] && directions[j] !== 0) {
        gradient[i] = 1;
        ring[end++] = i;
        break;
      }
    }
  }
  for (let at = 0; at < end; at++) {
    const i = ring[at]!;
    for (let k = 0; k < 8; k++) {
      const j = i + offsets[k]!;
      if (cells[j] === cells[i] && directions[j] === 0 && gradient[j] === 0) {
        gradient[j] = gradient[i]! + 1;
        ring[end++] = j;
      }
    }
  }
  for (let n = 0; n < size; n++) {
    const i = flat[n]!;
    if (gradient[i] === 0) continue; // a pit without outlet, on a surface that was not filled
    const push = away[i] === 0 ? 0 : highest[group[i]!]! - away[i]! + 1;
    gradient[i] = 2 * gradient[i]! + push;
  }
  return { flat, gradient };
}
