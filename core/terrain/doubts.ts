import { formatArea, formatLength, type Units } from '../features/units.ts';
import type { Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { COARSEST_BENCH_CELL } from './benches.ts';
import { elevationRange } from './contours.ts';
import {
  type Bench,
  COARSE_CELL,
  type DrainageLine,
  type DrainageStart,
  type FormsLeftOut,
  type Saddle,
  type WaterChanges,
} from './types.ts';

export interface GroundFindings {
  elevation: Grid;
  water: Grid;
  waterChanges: WaterChanges;
  drainageStart: DrainageStart;
  drainageLines: readonly DrainageLine[];
  saddles: readonly Saddle[];
  benches: readonly Bench[];
  formsLeftOut: FormsLeftOut;
}

/** What this elevation cannot show, and which measures were left open for it, in plain words. */
export function groundDoubts(findings: GroundFindings, units: Units, progress: Progress = silent): string[] {
  const { elevation, water, waterChanges, drainageStart, drainageLines, saddles, benches, formsLeftOut } =
    findings;
  const { cellSize } = elevation.frame;
  const range = elevationRange(elevation);
  if (!range) return ['The elevation holds no data at all.'];
  const length = (metres: number): string => formatLength(metres, units);
  const height = (metres: number): string => formatLength(metres, units, 'height');
  const cell = `${Number(cellSize.toFixed(cellSize < 10 ? 1 : 0))} m`;
  const doubts: string[] = [];
  const count = (n: number, what: string): string => `${n} ${what}${n === 1 ? '' : 's'}`;
  if (cellSize >= COARSE_CELL) {
    doubts.push(
      `The elevation has cells of ${cell}. It cannot show a creek bed or a saddle that deer use; drainage lines may ` +
        'lie a cell or two off, and the saddles listed are gaps in whole ridges. Get 1 to 3 m elevation before siting anything.',
    );
  } else if (cellSize > 5) {
    doubts.push(
      `The elevation has cells of ${cell}: banks, ditches and gaps narrower than about ${length(3 * cellSize)} do not show.`,
    );
  }
  if (cellSize > COARSEST_BENCH_CELL) {
    doubts.push(
      `Benches are narrower than cells of ${cell} can show, so none are listed; that does not mean there are none.`,
    );
  } else if (benches.length === 0) doubts.push('No bench worth a line was found on the hillsides.');
  const { faintSaddles, lesserSaddles, roadBeds } = formsLeftOut;
  if (lesserSaddles > 0) {
    doubts.push(
      `Only the ${saddles.length} most marked saddles are listed: ${lesserSaddles} more are left out, and ${faintSaddles} that hardly ` +
        `fall off to their sides, because cells of ${cell} cannot tell a low gap from an error of the elevation.`,
    );
  }
  if (roadBeds > 0) {
    doubts.push(
      `${count(roadBeds, 'level strip')} along a mapped road or railroad left out of the benches: the bed of the road makes it, ` +
        'not the hillside. Deer may still walk it.',
    );
  }
  const open = saddles.filter((saddle) => saddle.width === null).length;
  if (open > 0) {
    doubts.push(
      `The width of ${open} of ${saddles.length} saddles is left open: the gap ${height(3)} above the saddle is wider than ` +
        `${length(400)} or narrower than three cells of ${cell}.`,
    );
  }
  const { cuts, sinks } = waterChanges;
  if (cuts.length > 0) {
    const deepest = cuts.reduce((most, cut) => Math.max(most, cut.depth), 0);
    doubts.push(
      `${count(cuts.length, 'dam')} across draws cut through for the drainage, the deepest by ${height(deepest)}: road fills and ` +
        'field crossings whose culverts the elevation does not show. Whether each has a culvert is for the ground to say.',
    );
  }
  if (sinks.length > 0) {
    doubts.push(
      `${count(sinks.length, 'closed hollow')} with no way out kept as a sink, the deepest ${height(sinks[0]!.depth)}; if one is drained ` +
        'by a culvert, draw the culvert.',
    );
  }
  const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
  let missing = 0;
  let raised = 0;
  for (let i = 0; i < elevation.cells.length; i++) {
    if ((i & 0xfffff) === 0) progress(i / elevation.cells.length);
    if (Number.isNaN(elevation.cells[i]!)) missing++;
    else if (water.cells[i]! - elevation.cells[i]! > 0.5) raised++;
  }
  const share = (n: number): string => {
    const percent = (100 * n) / elevation.cells.length;
    return percent < 0.05 ? 'less than 0.1%' : `${percent.toFixed(1)}%`;
  };
  if (missing > 0)
    doubts.push(
      `${sentence(share(missing))} of the map has no elevation; nothing is said about that ground.`,
    );
  if (raised > 0) {
    doubts.push(
      `${sentence(share(raised))} of the map lies in closed hollows deeper than ${height(0.5)} that were filled to find the drainage: ponds, ` +
        'or draws behind a fill too large to cut without a mapped creek or culvert.',
    );
  }
  if (range[1] - range[0] < 5)
    doubts.push('The ground is nearly level: drainage lines follow small errors of the elevation.');
  if (drainageLines.length === 0)
    doubts.push(
      'No drainage line reaches the size that starts one; the ground drains off the map in sheets.',
    );
  else if (drainageStart.how === 'common size') {
    doubts.push(
      `Drainage lines start where ${formatArea(drainageStart.area, units)} drain together, a common size: this ground does not tell ` +
        'by itself where its channels begin.',
    );
  }
  return doubts;
}
