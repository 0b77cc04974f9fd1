import { cellCentre, type Grid } from '../grid/frame.ts';
import { pathLength, simplifyPath } from '../grid/simplify.ts';
import { carvedDirections } from './carving.ts';
import { accumulate } from './flow.ts';
import { GEOMORPHON } from './geomorphons.ts';
import { findReaches, stemsOf } from './reaches.ts';
import type { RidgeLine } from './types.ts';

/** Area whose water parts along it that makes a ridge worth a line, m² (our choice: 2 ha). */
const RIDGE_AREA = 20_000;
/** Shortest ridge line, m. */
const SHORTEST = 80;
/** A ridge line runs on over a break in the crest up to this long, m: a saddle, a level top. */
const BRIDGED = 60;

/**
 * Crest lines: the drainage net of the ground turned upside down, kept where it runs on ridge, spur or peak.
 * Long stems come whole, with their spurs as lines of their own. Paths run downhill along the crest.
 *
 * @param surface the grid landforms are read on
 * @param patterns its geomorphons
 */
export function findRidges(surface: Grid, patterns: Grid<Uint8Array>): RidgeLine[] {
  const { frame } = surface;
  const upsideDown: Grid = { frame, cells: surface.cells.map((z) => -z) };
  const directions = carvedDirections(upsideDown);
  const threshold = Math.max(8, RIDGE_AREA / frame.cellSize ** 2);
  const stems = stemsOf(findReaches(directions, accumulate(directions), threshold), 'length');
  const shortest = Math.max(SHORTEST, 4 * frame.cellSize);
  const ridges: RidgeLine[] = [];
  for (const stem of stems) {
    const onCrest = (i: number): boolean => {
      const pattern = patterns.cells[i];
      return pattern === GEOMORPHON.ridge || pattern === GEOMORPHON.peak || pattern === GEOMORPHON.spur;
    };
    for (const run of runsOf(stem.cells, onCrest, Math.ceil(BRIDGED / frame.cellSize))) {
      const path = simplifyPath(
        run.map((i) => cellCentre(frame, i)),
        frame.cellSize / 2,
      );
      const length = pathLength(path);
      if (length < shortest) continue;
      ridges.push({ id: '', path, length });
    }
  }
  ridges.sort((a, b) => b.length - a.length);
  return ridges.map((ridge, n) => ({ ...ridge, id: `ridge-${n + 1}` }));
}

/** Unbroken runs of the cells that pass a test, joined over gaps of up to `gap` cells. */
function runsOf(cells: Int32Array, test: (cell: number) => boolean, gap: number): number[][] {
  const runs: number[][] = [];
  let from = -1;
  let to = -1;
  for (let n = 0; n < cells.length; n++) {
    if (!test(cells[n]!)) continue;
    if (from >= 0 && n - to > gap + 1) {
      runs.push(Array.from(cells.subarray(from, to + 1)));
      from = n;
    }
    if (from < 0) from = n;
    to = n;
  }
  if (from >= 0) runs.push(Array.from(cells.subarray(from, to + 1)));
  return runs;
}
