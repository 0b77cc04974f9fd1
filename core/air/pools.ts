import { cellCentre, type Grid } from '../grid/frame.ts';
import { indexOffsets, NEIGHBOURS_8 } from '../grid/neighbours.ts';
import { findPatches } from '../grid/patches.ts';
import { NO_RECEIVER } from '../terrain/flow.ts';
import type { Pool } from './types.ts';

/**
 * Shallower hollows are roughness of the ground or of its survey, m, the more so on coarse cells: our assumption,
 * as is the least area, m2.
 */
const leastDepth = (cellSize: number): number => Math.max(0.5, cellSize / 40);
const leastArea = (cellSize: number): number => Math.max(40, 3 * cellSize * cellSize);

/**
 * Still cold air in the closed hollows of the ground. A hollow fills to its sill and no further; where less cold
 * air reaches it in the night than it holds, it fills to the level whose volume equals the supply. What it cannot hold
 * runs over its sill and on to the next hollow below.
 *
 * @param raw ground as surveyed: a road fill dams air even where a culvert lets water through
 * @param filled the same ground with depressions filled, exact copies of sill elevations
 * @param supply cold air that reaches a hollow, given by its cells, in the time the picture is drawn for, m3
 * @param onward ways over the filled ground (`flowDirections`); without them nothing is handed on
 * @returns pools by volume, the largest first, their depth grid (0 outside, NaN no data) and, per cell, the place
 *   of its pool in the table plus one
 */
export function fillPools(
  raw: Grid,
  filled: Grid,
  supply: (hollow: Int32Array) => number,
  onward: Grid<Uint8Array> | null = null,
): { pools: Pool[]; depth: Grid; labels: Grid<Int32Array> } {
  const { frame } = raw;
  const { width, height, cellSize } = frame;
  const area = cellSize * cellSize;
  const count = raw.cells.length;
  const hollow = new Uint8Array(count);
  for (let i = 0; i < count; i++) if (filled.cells[i]! > raw.cells[i]!) hollow[i] = 1;
  const { labels, patches } = findPatches(frame, hollow, 8, leastArea(cellSize));

  const start = new Int32Array(patches.length + 2);
  for (let i = 0; i < count; i++) start[labels.cells[i]! + 1]!++;
  for (let k = 1; k < start.length; k++) start[k]! += start[k - 1]!;
  const members = new Int32Array(count);
  const next = start.slice();
  for (let i = 0; i < count; i++) members[next[labels.cells[i]!]!++] = i;

  const depth = new Float32Array(count);
  for (let i = 0; i < count; i++) if (Number.isNaN(raw.cells[i]!)) depth[i] = Number.NaN;
  const offsets = indexOffsets(NEIGHBOURS_8, width);
  const hollows = patches
    .map(({ label }) => hollowOf(label, members.subarray(start[label]!, start[label + 1]!)))
    .filter(({ deepest }) => deepest >= leastDepth(cellSize))
    // The highest first: what runs over comes to lower ones.
    .sort((a, b) => b.sillElevation - a.sillElevation || a.cells[0]! - b.cells[0]!);
  const byLabel = new Map(hollows.map((hollow) => [hollow.label, hollow]));
  const found: { pool: Pool; cells: Int32Array }[] = [];
  for (const hollow of hollows) {
    const { cells, sillElevation, lowest, room, sill } = hollow;
    const arriving = supply(cells) + hollow.handed;
    const full = arriving >= room;
    const level = full ? sillElevation : levelOf(raw.cells, cells, arriving / area);
    if (full) {
      const next = below(hollow);
      if (next) next.handed += arriving - room;
    }
    let volume = 0;
    let wet = 0;
    for (const i of cells) {
      const d = level - raw.cells[i]!;
      if (d <= 0) continue;
      depth[i] = d;
      volume += d * area;
      wet++;
    }
    if (wet === 0) continue;
    found.push({
      cells,
      pool: {
        id: '',
        at: cellCentre(frame, lowest),
        depth: level - raw.cells[lowest]!,
        area: wet * area,
        volume,
        sill: cellCentre(frame, sill),
        sillElevation,
        full,
      },
    });
  }
  found.sort((a, b) => b.pool.volume - a.pool.volume || a.cells[0]! - b.cells[0]!);
  labels.cells.fill(0);
  found.forEach(({ pool, cells }, k) => {
    pool.id = `pool-${k + 1}`;
    for (const i of cells) if (depth[i]! > 0) labels.cells[i] = k + 1;
  });
  return { pools: found.map(({ pool }) => pool), depth: { frame, cells: depth }, labels };

  function hollowOf(label: number, cells: Int32Array) {
    const sillElevation = filled.cells[cells[0]!]!;
    let lowest = cells[0]!;
    let room = 0;
    for (const i of cells) {
      if (raw.cells[i]! < raw.cells[lowest]!) lowest = i;
      room += (sillElevation - raw.cells[i]!) * area;
    }
    const deepest = sillElevation - raw.cells[lowest]!;
    return {
      label,
      cells,
      sillElevation,
      lowest,
      room,
      deepest,
      sill: sillOf(cells, sillElevation),
      handed: 0,
    };
  }

  /** The next hollow on the way down from a hollow's lowest spot over the filled ground; none where that leaves the map. */
  function below({ label, lowest }: { label: number; lowest: number }) {
    if (!onward) return undefined;
    let i = lowest;
    while (onward.cells[i]! > 0 && onward.cells[i]! < NO_RECEIVER) {
      i += offsets[onward.cells[i]! - 1]!;
      const there = labels.cells[i]!;
      if (there !== label && byLabel.has(there)) return byLabel.get(there);
    }
    return undefined;
  }

  /** The rim cell at the sill's elevation, one that leads on downhill or off the map where there are several. */
  function sillOf(cells: Int32Array, elevation: number): number {
    let rim = -1;
    for (const i of cells) {
      for (const j of around(i)) {
        if (filled.cells[j] !== elevation || raw.cells[j] !== elevation) continue;
        if (rim < 0) rim = j;
        const lower = around(j);
        // A rim cell on the edge of the map, or beside no data, lets the air out there.
        if (lower.length < 8 || lower.some((k) => !(filled.cells[k]! >= elevation))) return j;
      }
    }
    return rim < 0 ? cells[0]! : rim;
  }

  function around(i: number): number[] {
    const x = i % width;
    const y = (i - x) / width;
    const list: number[] = [];
    for (let k = 0; k < 8; k++) {
      const cx = x + NEIGHBOURS_8.dx[k]!;
      const cy = y + NEIGHBOURS_8.dy[k]!;
      if (cx >= 0 && cy >= 0 && cx < width && cy < height) list.push(i + offsets[k]!);
    }
    return list;
  }
}

/** Level to which cells of equal area hold a volume, given as metres of one cell's area. */
export function levelOf(raw: Float32Array, cells: Int32Array, volume: number): number {
  const heights = Float32Array.from(cells, (i) => raw[i]!).sort();
  let held = 0;
  for (let n = 1; n < heights.length; n++) {
    const step = n * (heights[n]! - heights[n - 1]!);
    if (held + step >= volume) return heights[n - 1]! + (volume - held) / n;
    held += step;
  }
  return heights[heights.length - 1]! + (volume - held) / heights.length;
}
