import { cellsAlong, cellsInside } from '../features/cells.ts';
import { type Feature, numberOr } from '../features/feature.ts';
import type { Frame } from '../grid/frame.ts';
import { COVER } from './types.ts';

/** Cells of the layers that drawn features override, changed in place. */
export interface DrawnOn {
  cover: Uint8Array;
  canopy: Float32Array;
  screening: Float32Array;
  footing: Float32Array;
}

/** Half width of a road with no width given, m, by class: our assumption. */
const ROAD_HALF_WIDTH: Record<string, number> = { highway: 6, county: 3.5, lane: 2.5, track: 1.5 };

const { NaN: UNKNOWN } = Number;
/** Canopy, screening and footing of cover named on the ground: what its word says, the rest unknown. */
const SEEN: Record<keyof typeof COVER, [canopy: number, screening: number, footing: number]> = {
  open: [0, 0, 1],
  brush: [0, UNKNOWN, UNKNOWN],
  deciduous: [1, UNKNOWN, UNKNOWN],
  evergreen: [1, UNKNOWN, UNKNOWN],
  wet: [UNKNOWN, UNKNOWN, UNKNOWN],
  water: [0, 0, 0],
  built: [0, UNKNOWN, 0],
};

/**
 * What a person drew counts before what a photo seems to show. Only features of today: proposed ones are left out.
 * Ponds become water, buildings built, crops and cleared openings open; drawn bedding on ground that was open or unknown becomes brush,
 * since deer do not bed in the bare; a creek with a width of its own becomes water. Roads keep the cover above
 * them and only clear what is below.
 */
export function drawFeatures(frame: Frame, features: readonly Feature[], layers: DrawnOn): string[] {
  const { cover, canopy, screening, footing } = layers;
  const doubts: string[] = [];
  const today = features.filter((feature) => feature.status === 'existing');
  const set = (index: number, kind: number, above: number, hidden: number, ease: number) => {
    cover[index] = kind;
    canopy[index] = above;
    screening[index] = hidden;
    footing[index] = ease;
  };
  let crops = 0;
  let beds = 0;
  // Order matters: water and buildings last, they are the surest.
  for (const { kind, geometry, attributes } of today) {
    if (kind === 'crop' || kind === 'opening') {
      if (kind === 'crop') crops++;
      cellsInside(frame, geometry, (i) => set(i, COVER.open, 0, 0, 1));
    } else if (kind === 'bedding') {
      const hidden = numberOr(attributes.screening, Number.NaN);
      cellsInside(frame, geometry, (i) => {
        if (cover[i] === COVER.open || cover[i] === 0) {
          beds++;
          cover[i] = COVER.brush;
          screening[i] = Number.NaN;
          footing[i] = Number.NaN;
        }
        if (!Number.isNaN(hidden)) screening[i] = hidden;
      });
    } else if (kind === 'cut') {
      cellsInside(frame, geometry, (i) => set(i, COVER.brush, 0, Number.NaN, Number.NaN));
    }
  }
  for (const { kind, geometry, attributes } of today) {
    if (kind === 'road' || kind === 'railroad') {
      const usual = kind === 'railroad' ? 3 : (ROAD_HALF_WIDTH[String(attributes.class)] ?? 2.5);
      cellsAlong(frame, geometry, numberOr(attributes.width, 2 * usual) / 2, (i) => {
        screening[i] = 0;
        footing[i] = 1;
      });
    } else if (kind === 'creek' && typeof attributes.width === 'number') {
      cellsAlong(frame, geometry, attributes.width / 2, (i) =>
        set(i, COVER.water, canopy[i]!, 0, footing[i]!),
      );
    } else if (kind === 'pond') {
      cellsInside(frame, geometry, (i) => set(i, COVER.water, 0, 0, 0));
    } else if (kind === 'building') {
      cellsInside(frame, geometry, (i) => set(i, COVER.built, 0, Number.NaN, 0));
    }
  }
  // What was seen on the ground counts before everything.
  for (const { kind, geometry, attributes } of today) {
    if (kind !== 'truth') continue;
    const seen = COVER[attributes.cover as keyof typeof COVER];
    if (seen === undefined) continue;
    const [above, hidden, ease] = SEEN[attributes.cover as keyof typeof COVER];
    cellsInside(frame, geometry, (i) => set(i, seen, above, numberOr(attributes.screening, hidden), ease));
  }
  if (crops > 0) doubts.push('Drawn cropland counts as cut: standing corn would screen and feed.');
  if (beds > 0)
    doubts.push('Drawn bedding lies on ground that looks open from above; it counts as brush there.');
  return doubts;
}
