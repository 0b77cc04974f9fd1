import type { Grid } from '../../core/grid/frame.ts';
import { contourLines, elevationRange } from '../../core/terrain/contours.ts';
import { accumulateSplit, splitFlow } from '../../core/terrain/dispersal.ts';
import { fillDepressions } from '../../core/terrain/filling.ts';
import { accumulate, flowDirections } from '../../core/terrain/flow.ts';
import { surfaceOf } from '../../core/terrain/slope.ts';
import { viewshed } from '../../core/terrain/viewshed.ts';
import { walkEveryRay } from './rays.ts';

/** A kernel under the clock. `prepare` is not timed; what it returns is run. */
export interface Kernel {
  name: string;
  /** What peers.py runs under the kernel's name; empty where there is no peer. */
  peer: string;
  prepare(ground: Grid): () => unknown;
  /** A peer that runs here: what it returns is timed, and done so many times the work. */
  ownPeer?: (ground: Grid) => { run: () => unknown; share: number };
}

/** An interval that makes about fifty levels. */
export function benchInterval(ground: Grid): number {
  const [low, high] = elevationRange(ground) ?? [0, 50];
  return (high - low) / 50;
}

const middle = ({ frame }: Grid): number => (frame.height >> 1) * frame.width + (frame.width >> 1);
const SIGHT = { observerHeight: 2, targetHeight: 1, radius: Number.POSITIVE_INFINITY, refraction: 0.13 };

export const KERNELS: readonly Kernel[] = [
  {
    name: 'slope + aspect + shade',
    peer: 'GDAL DEMProcessing, in memory',
    prepare: (ground) => () => surfaceOf(ground, { azimuth: 315, altitude: 45 }),
  },
  {
    name: 'depression filling',
    peer: 'scikit-image reconstruction',
    prepare: (ground) => () => fillDepressions(ground),
  },
  {
    name: 'viewshed, exact',
    peer: 'brute-force exact rays, here',
    prepare: (ground) => () => viewshed(ground, middle(ground), SIGHT),
    // Every 16th target stands for all: the whole would take minutes at the larger sizes.
    ownPeer: (ground) => ({ run: () => walkEveryRay(ground, middle(ground), SIGHT, 16), share: 16 }),
  },
  {
    name: 'viewshed, gdal_viewshed',
    peer: 'gdal_viewshed (interpolates; not the same answer)',
    prepare: (ground) => () => viewshed(ground, middle(ground), SIGHT),
  },
  {
    name: 'contours',
    peer: 'GDAL ContourGenerate, memory layer',
    prepare: (ground) => {
      const interval = benchInterval(ground);
      return () => contourLines(ground, interval, ground.frame.cellSize / 4);
    },
  },
  {
    name: 'accumulation, D8',
    peer: 'NumPy topological sweep',
    prepare: (ground) => {
      const directions = flowDirections(fillDepressions(ground));
      return () => accumulate(directions);
    },
  },
  {
    name: 'flow direction, D8',
    peer: '',
    prepare: (ground) => {
      const filled = fillDepressions(ground);
      return () => flowDirections(filled);
    },
  },
  {
    name: 'D-infinity, both',
    peer: '',
    prepare: (ground) => {
      const filled = fillDepressions(ground);
      const directions = flowDirections(filled);
      return () => accumulateSplit(splitFlow(filled, directions));
    },
  },
];
