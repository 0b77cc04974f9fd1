import type { Feature } from '../features/feature.ts';
import { cellCount, type Frame, type Grid } from '../grid/frame.ts';
import { classifyImagery } from './classify.ts';
import { cleanClasses } from './clean.ts';
import { drawFeatures } from './drawn.ts';
import { applyHeight } from './height.ts';
import { NLCD } from './landcover.ts';
import { COVER, type CoverLayers, type CoverSource, type Imagery } from './types.ts';

/** Patches smaller than this are taken for specks, m²: our assumption. */
const SPECK = 150;

export interface CoverResult extends CoverLayers {
  source: CoverSource;
  doubts: string[];
}

/**
 * Cover classes, canopy, screening and footing from the best input there is: the photo, the land-cover codes
 * where there is no photo, the height of vegetation over both, and drawn features over all. What the inputs do not show is unknown: class 0 or NaN.
 *
 * A photo shows the canopy. Of what lies below it only this is inferred: water neither screens nor carries, and
 * bare soil is clear and firm. Grass of any height, brush and timber floors stay unknown.
 */
export function coverLayers(
  frame: Frame,
  imagery: Imagery | null,
  landcover: Grid<Uint8Array> | null,
  features: readonly Feature[],
  vegetation: Grid | null = null,
): CoverResult {
  const count = cellCount(frame);
  const cover = new Uint8Array(count);
  const canopy = new Float32Array(count).fill(Number.NaN);
  const screening = new Float32Array(count).fill(Number.NaN);
  const footing = new Float32Array(count).fill(Number.NaN);
  const doubts: string[] = [];
  const source: CoverSource = imagery
    ? 'imagery'
    : landcover
      ? 'land cover'
      : vegetation
        ? 'vegetation height'
        : 'terrain alone';

  if (imagery) {
    const seen = classifyImagery(imagery);
    doubts.push(...seen.doubts);
    cover.set(cleanClasses(frame, seen.cover, SPECK));
    canopy.set(seen.canopy);
    for (let i = 0; i < count; i++) {
      if (cover[i] === COVER.water) {
        canopy[i] = 0;
        screening[i] = 0;
        footing[i] = 0;
      } else if (cover[i] === COVER.open && seen.bare[i] === 1) {
        screening[i] = 0;
        footing[i] = 1;
      }
    }
  }
  if (landcover) doubts.push(...applyLandCover(landcover, { cover, canopy, screening, footing }, imagery));

  if (vegetation) doubts.push(...applyHeight(vegetation, { cover, canopy, screening }));

  if (imagery || landcover || vegetation)
    doubts.push(
      'Seen from above, only the canopy is known: screening at deer height and footing are unknown except on water, roads, bare ground and mown or cropped fields, and travel is varied for it.',
    );
  else
    doubts.push(
      'No imagery and no land cover: travel rests on terrain alone, with drawn features the only cover known.',
    );
  doubts.push(...drawFeatures(frame, features, { cover, canopy, screening, footing }));

  let blank = 0;
  for (let i = 0; i < count; i++) if (cover[i] === 0) blank++;
  if (source !== 'terrain alone' && blank > 0.005 * count)
    doubts.push(`${Math.round((100 * blank) / count)}% of the map has no cover data; its cover is unknown.`);
  const grid = (cells: Float32Array): Grid => ({ frame, cells });
  return {
    cover: { frame, cells: cover },
    canopy: grid(canopy),
    screening: grid(screening),
    footing: grid(footing),
    source,
    doubts,
  };
}

/** Fills cells still unknown from the land-cover codes. */
function applyLandCover(
  landcover: Grid<Uint8Array>,
  layers: { cover: Uint8Array; canopy: Float32Array; screening: Float32Array; footing: Float32Array },
  imagery: Imagery | null,
): string[] {
  const codes = landcover.cells;
  const strangers = new Map<number, number>();
  let filled = 0;
  let mixed = 0;
  for (let i = 0; i < codes.length; i++) {
    if (layers.cover[i] !== 0 || codes[i] === 0) continue;
    const entry = NLCD[codes[i]!];
    if (!entry) {
      strangers.set(codes[i]!, (strangers.get(codes[i]!) ?? 0) + 1);
      continue;
    }
    filled++;
    if (codes[i] === 43) mixed++;
    layers.cover[i] = entry.cover;
    layers.canopy[i] = entry.canopy;
    layers.screening[i] = entry.screening;
    layers.footing[i] = entry.footing;
  }
  const doubts: string[] = [];
  if (filled > 0)
    doubts.push(
      imagery
        ? 'Ground the photo does not reach is filled from the public land cover, mapped at 30 m.'
        : 'Cover comes from the public land cover, mapped at 30 m: fence rows, narrow strips and single thickets are not in it.',
    );
  if (mixed > 0) doubts.push('Mixed forest in the land cover counts as deciduous timber.');
  if (strangers.size > 0) {
    const list = [...strangers.keys()].sort((a, b) => a - b).join(', ');
    doubts.push(
      `The land-cover raster holds codes that are not in the public legend (${list}); they are unknown.`,
    );
  }
  return doubts;
}
