import type { Artifacts } from '../../core/analysis/artifacts.ts';
import type { TABLES, TILE_LAYERS } from './contract.ts';

/** The artifact behind each painted layer. */
export const LAYER_ARTIFACT: Record<(typeof TILE_LAYERS)[number], keyof Artifacts> = {
  shade: 'shade',
  imagery: 'imagery',
  slope: 'slope',
  aspect: 'aspect',
  accumulation: 'accumulation',
  'water-work': 'waterWork',
  holes: 'holes',
  vegetation: 'vegetation',
  forms: 'forms',
  cover: 'cover',
  canopy: 'canopy',
  screening: 'screening',
  resistance: 'resistance',
  passage: 'passage',
  'cold-air': 'coldAir',
  pools: 'poolDepth',
};

/** The artifact behind each table. */
export const TABLE_ARTIFACT: Record<(typeof TABLES)[number], keyof Artifacts> = {
  features: 'features',
  contours: 'contours',
  drainage: 'drainageLines',
  channels: 'channels',
  ridges: 'ridges',
  draws: 'draws',
  saddles: 'saddles',
  benches: 'benches',
  blocks: 'coverBlocks',
  areas: 'travelAreas',
  corridors: 'corridors',
  necks: 'necks',
  crossings: 'crossings',
  junctions: 'junctions',
  routes: 'routes',
  barricades: 'planTravel',
  closures: 'planTravel',
  pools: 'pools',
  carries: 'carries',
  'stand-risks': 'standRisks',
};
