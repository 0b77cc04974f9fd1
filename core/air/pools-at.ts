import type { Grid } from '../grid/frame.ts';
import { findPatches } from '../grid/patches.ts';
import { levelOf } from './pools.ts';

/**
 * Pools when they hold a share of what they hold at the end of the night, each with a level top. One that stands at
 * its sill by then may have done so earlier: it is told as low as it may be.
 *
 * @param raw ground as surveyed, m
 * @param depth of the pools at the end of the night, m; NaN no data
 * @param share of their volume, 0..1
 * @returns depth, m; 0 outside, NaN no data
 */
export function poolsAt(raw: Grid, depth: Grid, share: number): Grid {
  const { frame } = depth;
  if (share >= 1) return depth;
  const cells = depth.cells.map((d) => (Number.isNaN(d) ? d : 0));
  if (!(share > 0)) return { frame, cells };
  const { labels, patches } = findPatches(
    frame,
    Uint8Array.from(depth.cells, (d) => (d > 0 ? 1 : 0)),
    8,
  );
  const start = new Int32Array(patches.length + 2);
  for (const label of labels.cells) if (label > 0) start[label + 1]!++;
  for (let k = 1; k < start.length; k++) start[k]! += start[k - 1]!;
  const members = new Int32Array(start[patches.length + 1]!);
  const next = start.slice();
  labels.cells.forEach((label, i) => {
    if (label > 0) members[next[label]!++] = i;
  });
  for (const { label } of patches) {
    const pool = members.subarray(start[label]!, start[label + 1]!);
    let volume = 0;
    for (const i of pool) volume += depth.cells[i]!;
    const level = levelOf(raw.cells, pool, share * volume);
    for (const i of pool) cells[i] = Math.max(0, level - raw.cells[i]!);
  }
  return { frame, cells };
}
