import type { Grid } from '../grid/frame.ts';
import { COARSEST_BENCH_CELL } from './benches.ts';
import { elevationRange } from './contours.ts';
import type { Bench, DrainageLine, Saddle } from './types.ts';

/** Cells from this size up are public coarse elevation, m. */
const COARSE = 30;

/** What this elevation cannot show, and which measures were left open for it, in plain words. */
export function groundDoubts(
  elevation: Grid,
  filled: Grid,
  lines: readonly DrainageLine[],
  saddles: readonly Saddle[],
  benches: readonly Bench[],
): string[] {
  const { cellSize } = elevation.frame;
  const cell = `${Number(cellSize.toFixed(cellSize < 10 ? 1 : 0))} m`;
  const doubts: string[] = [];
  if (cellSize >= COARSE) {
    doubts.push(
      `The elevation has cells of ${cell}. It cannot show a creek bed or a saddle that deer use; drainage lines may ` +
        'lie a cell or two off, and the saddles listed are gaps in whole ridges. Get 1 to 3 m elevation before siting anything.',
    );
  } else if (cellSize > 5) {
    doubts.push(
      `The elevation has cells of ${cell}: banks, ditches and gaps narrower than about ${Math.round(3 * cellSize)} m do not show.`,
    );
  }
  if (cellSize > COARSEST_BENCH_CELL) {
    doubts.push(
      `Benches are narrower than cells of ${cell} can show, so none are listed; that does not mean there are none.`,
    );
  } else if (benches.length === 0) doubts.push('No bench of 500 m² or more was found on the hillsides.');
  const open = saddles.filter((saddle) => saddle.width === null).length;
  if (open > 0) {
    doubts.push(
      `The width of ${open} of ${saddles.length} saddles is left open: the gap 3 m above the saddle is wider than 400 m or ` +
        `narrower than three cells of ${cell}.`,
    );
  }
  const range = elevationRange(elevation);
  if (!range) return ['The elevation holds no data at all.'];
  let missing = 0;
  let raised = 0;
  for (let i = 0; i < elevation.cells.length; i++) {
    if (Number.isNaN(elevation.cells[i]!)) missing++;
    else if (filled.cells[i]! - elevation.cells[i]! > 0.5) raised++;
  }
  const share = (n: number): string => `${((100 * n) / elevation.cells.length).toFixed(1)} %`;
  if (missing > 0)
    doubts.push(`${share(missing)} of the map has no elevation; nothing is said about that ground.`);
  if (raised > 0) {
    doubts.push(
      `${share(raised)} of the map lies in closed hollows deeper than half a metre that were filled to find the drainage: ponds, ` +
        'sinks, or draws dammed by a road whose culvert the elevation does not show.',
    );
  }
  if (range[1] - range[0] < 5)
    doubts.push('The ground is nearly level: drainage lines follow small errors of the elevation.');
  if (lines.length === 0)
    doubts.push(
      'No drainage line reaches the size that starts one; the ground drains off the map in sheets.',
    );
  return doubts;
}
