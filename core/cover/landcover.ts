import { COVER } from './types.ts';

/**
 * What the public NLCD legend says of a class (Multi-Resolution Land Characteristics Consortium, National Land
 * Cover Database class legend): the cover class, and only those values the legend's own words settle. Forest
 * means "more than 20% of cover", which leaves the canopy anywhere from 0.2 to 1, so it stays unknown.
 */
export interface LegendEntry {
  label: string;
  cover: number;
  canopy: number;
  screening: number;
  footing: number;
}

const unknown = Number.NaN;

export const NLCD: Readonly<Record<number, LegendEntry>> = {
  11: { label: 'open water', cover: COVER.water, canopy: 0, screening: 0, footing: 0 },
  12: { label: 'perennial ice and snow', cover: COVER.open, canopy: 0, screening: 0, footing: unknown },
  21: { label: 'developed, open space', cover: COVER.open, canopy: unknown, screening: 0, footing: 1 },
  22: { label: 'developed, low', cover: COVER.built, canopy: unknown, screening: unknown, footing: 1 },
  23: { label: 'developed, medium', cover: COVER.built, canopy: unknown, screening: unknown, footing: 1 },
  24: { label: 'developed, high', cover: COVER.built, canopy: unknown, screening: unknown, footing: 1 },
  31: { label: 'barren', cover: COVER.open, canopy: 0, screening: 0, footing: unknown },
  41: {
    label: 'deciduous forest',
    cover: COVER.deciduous,
    canopy: unknown,
    screening: unknown,
    footing: unknown,
  },
  42: {
    label: 'evergreen forest',
    cover: COVER.evergreen,
    canopy: unknown,
    screening: unknown,
    footing: unknown,
  },
  43: {
    label: 'mixed forest',
    cover: COVER.deciduous,
    canopy: unknown,
    screening: unknown,
    footing: unknown,
  },
  51: { label: 'dwarf scrub', cover: COVER.brush, canopy: 0, screening: unknown, footing: unknown },
  52: { label: 'shrub or scrub', cover: COVER.brush, canopy: 0, screening: unknown, footing: unknown },
  71: { label: 'grassland', cover: COVER.open, canopy: 0, screening: unknown, footing: unknown },
  72: { label: 'sedge', cover: COVER.open, canopy: 0, screening: unknown, footing: unknown },
  73: { label: 'lichens', cover: COVER.open, canopy: 0, screening: 0, footing: unknown },
  74: { label: 'moss', cover: COVER.open, canopy: 0, screening: 0, footing: unknown },
  81: { label: 'pasture or hay', cover: COVER.open, canopy: 0, screening: 0, footing: 1 },
  82: { label: 'cultivated crops', cover: COVER.open, canopy: 0, screening: unknown, footing: 1 },
  90: { label: 'woody wetland', cover: COVER.wet, canopy: unknown, screening: unknown, footing: unknown },
  95: { label: 'emergent wetland', cover: COVER.wet, canopy: 0, screening: unknown, footing: unknown },
};
