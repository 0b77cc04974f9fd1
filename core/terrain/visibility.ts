import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { type SightOptions, sightDrop } from './sight.ts';
import { viewshed } from './viewshed.ts';

/**
 * From how many of the observers each cell is seen; 0 where there is no data. Along an approach, observers are the
 * cells of the route and what is looked for the ground a deer may stand on; the other way round, with the heights
 * changed about, it tells how much of the route an area sees.
 *
 * @param observers row-major indexes, at most 65535
 */
export function cumulativeView(
  elevation: Grid,
  observers: ArrayLike<number>,
  options: SightOptions,
  progress: Progress = silent,
): Grid<Uint16Array> {
  if (observers.length > 65535) throw new Error(`at most 65535 observers, got ${observers.length}`);
  const counts = new Uint16Array(elevation.cells.length);
  for (let n = 0; n < observers.length; n++) {
    progress(n / observers.length);
    const seen = viewshed(elevation, observers[n]!, options).cells;
    for (let i = 0; i < counts.length; i++) counts[i]! += seen[i]!;
  }
  return { frame: elevation.frame, cells: counts };
}

/** What stands on the ground and hides without being solid. */
export interface Vegetation {
  /** m over the ground; 0 or NaN none. */
  height: Grid;
  /** Share of the view lost in a metre of it, 0..1; NaN counts as 0. */
  loss: Grid;
}

/**
 * Share of the view of each cell that is left from the middle of a cell, 0..1: nothing where ground is in the way
 * (`viewshed`), and elsewhere what is left after every stretch of the sight line that runs below the top of the
 * vegetation, by a fixed loss a metre (Beer's law; the loss itself is the user's estimate).
 *
 * Costs the cells seen times their distance, so keep the radius to what matters.
 */
export function screenedView(
  elevation: Grid,
  vegetation: Vegetation,
  observer: number,
  options: SightOptions,
): Grid<Float32Array> {
  const { frame, cells } = elevation;
  assertOnFrame(frame, elevation, vegetation.height, vegetation.loss);
  const { width, cellSize } = frame;
  const seen = viewshed(elevation, observer, options).cells;
  const left = new Float32Array(cells.length);
  const tops = vegetation.height.cells;
  // Optical depth of a metre, so that lengths add up.
  const depths = Float64Array.from(vegetation.loss.cells, (share) =>
    share > 0 ? -Math.log1p(-Math.min(share, 0.999999)) : 0,
  );
  const x0 = observer % width;
  const y0 = Math.floor(observer / width);
  const eye = cells[observer]! + options.observerHeight;
  for (let i = 0; i < cells.length; i++) {
    if (seen[i] === 0) continue;
    const dx = (i % width) - x0;
    const dy = Math.floor(i / width) - y0;
    const steps = Math.max(Math.abs(dx), Math.abs(dy));
    const distance = Math.hypot(dx, dy) * cellSize;
    const target = cells[i]! + options.targetHeight - sightDrop(distance, options.refraction);
    const stretch = steps > 0 ? distance / steps : 0;
    let depth = 0;
    for (let k = 0; k <= steps; k++) {
      const t = steps > 0 ? k / steps : 0;
      const j = (y0 + Math.round(dy * t)) * width + x0 + Math.round(dx * t);
      if (!(tops[j]! > 0)) continue;
      const line = eye + (target - eye) * t;
      const ground = cells[j]! - sightDrop(distance * t, options.refraction);
      // The cells at both ends are crossed by half.
      if (line - ground < tops[j]!) depth += depths[j]! * stretch * (k === 0 || k === steps ? 0.5 : 1);
    }
    left[i] = Math.exp(-depth);
  }
  return { frame, cells: left };
}
