import { bearingOf } from '../grid/bearing.ts';
import { cellAt, type Frame, type Grid, type Point } from '../grid/frame.ts';
import type { Route } from '../travel/types.ts';

/** The farthest cell over the threshold, but for one in fifty that chance throws out. */
export function farthest({ frame, cells }: Grid, [x0, y0]: Point, threshold: number): number {
  const distances: number[] = [];
  for (let i = 0; i < cells.length; i++) {
    if (cells[i]! < threshold) continue;
    const x = frame.west + ((i % frame.width) + 0.5) * frame.cellSize;
    const y = frame.north - (Math.floor(i / frame.width) + 0.5) * frame.cellSize;
    distances.push(Math.hypot(x - x0, y - y0));
  }
  distances.sort((a, b) => a - b);
  return distances.length === 0 ? 0 : distances[Math.floor(0.98 * (distances.length - 1))]!;
}

/** So many cells at the rim, or so late, are more than chance. */
const AT_THE_RIM = 3;
/** Scent that comes in the last tenth of the time it is followed would have gone on. */
const LATE = 0.9;

/**
 * Whether scent over a threshold comes to the rim of its map, or only came at the end of the time it was followed: it
 * goes on beyond what was looked at.
 *
 * @param age mean time since release, s
 * @param followed s
 */
export function goesOn(
  { frame, cells }: Grid,
  age: Float32Array,
  followed: number,
  threshold: number,
): boolean {
  const { width, height } = frame;
  let rim = 0;
  let late = 0;
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++) {
      if (!(cells[i]! >= threshold)) continue;
      if (x === 0 || y === 0 || x === width - 1 || y === height - 1) rim++;
      if (age[i]! > LATE * followed) late++;
    }
  return rim >= AT_THE_RIM || late >= AT_THE_RIM;
}

/** Bearing from a spot to where most of the scent lies, degrees from grid north. */
export function mainBearing({ frame, cells }: Grid, [x0, y0]: Point): number {
  let east = 0;
  let north = 0;
  for (let i = 0; i < cells.length; i++) {
    if (cells[i] === 0) continue;
    east += cells[i]! * (frame.west + ((i % frame.width) + 0.5) * frame.cellSize - x0);
    north += cells[i]! * (frame.north - (Math.floor(i / frame.width) + 0.5) * frame.cellSize - y0);
  }
  return bearingOf(east, north);
}

/** Share of travel whose route runs through scent over a threshold. */
export function travelThrough({ frame, cells }: Grid, routes: readonly Route[], threshold: number): number {
  let all = 0;
  let met = 0;
  for (const { path, share } of routes) {
    all += share;
    if (meets(frame, path, (i) => cells[i]! >= threshold)) met += share;
  }
  return all > 0 ? met / all : 0;
}

/** Whether any cell along a path fits, at half-cell steps. */
function meets(frame: Frame, path: readonly Point[], fits: (cell: number) => boolean): boolean {
  for (let k = 1; k < path.length; k++) {
    const [ax, ay] = path[k - 1]!;
    const [bx, by] = path[k]!;
    const pieces = Math.max(1, Math.ceil((2 * Math.hypot(bx - ax, by - ay)) / frame.cellSize));
    for (let p = 0; p <= pieces; p++) {
      const i = cellAt(frame, ax + ((bx - ax) * p) / pieces, ay + ((by - ay) * p) / pieces);
      if (i >= 0 && fits(i)) return true;
    }
  }
  return false;
}
