import type { TILE_LAYERS } from '../../electron/service/contract.ts';

export type TileLayer = (typeof TILE_LAYERS)[number];

/** The stages of the window, in the order of the work. */
export const STAGES = ['ground', 'cover', 'travel', 'air', 'stands', 'work', 'report'] as const;
export type Stage = (typeof STAGES)[number];

export const STAGE_TITLE: Record<Stage, string> = {
  ground: 'Ground',
  cover: 'Cover',
  travel: 'Travel',
  air: 'Air',
  stands: 'Stands',
  work: 'Work',
  report: 'Report',
};

/** Which of the readings under the pointer belong to a stage, by the start of their label; there is room for a few. */
export const STAGE_READINGS: Record<Stage, readonly string[]> = {
  ground: ['Elevation', 'Slope', 'Faces', 'Landform'],
  cover: ['Cover', 'Canopy', 'Screening', 'Footing'],
  travel: ['Elevation', 'Slope', 'Cover', 'Resistance', 'Passage'],
  air: ['Elevation', 'Slope', 'Faces', 'Cold air'],
  stands: ['Elevation', 'Slope', 'Cover', 'Passage', 'Cold air'],
  work: ['Elevation', 'Slope', 'Cover', 'Passage'],
  report: ['Elevation', 'Slope', 'Cover', 'Passage'],
};

/** Layers drawn as lines and marks, by the name a person reads. */
export const MARK_TITLE = {
  contours: 'Contours',
  drainage: 'Drainage',
  channels: 'Depth of channels',
  ridges: 'Ridges',
  draws: 'Draws',
  saddles: 'Saddles',
  benches: 'Benches',
  blocks: 'Cover blocks',
  areas: 'Ends of travel',
  corridors: 'Corridors',
  bands: 'Ways that cost hardly more',
  crossings: 'Crossings',
  routes: 'Routes drawn from the flow',
  junctions: 'Junctions',
  necks: 'Necks',
  'pool-marks': 'Pool depths',
  carries: 'Scent on a still night',
  stands: 'Stand risks',
  features: 'Features (broken: proposed)',
  boundary: 'Boundary',
} as const;
export type MarkLayer = keyof typeof MARK_TITLE;

export const PAINT_TITLE: Record<TileLayer, string> = {
  shade: 'Shade',
  imagery: 'Aerial photo',
  slope: 'Slope',
  aspect: 'Way the ground faces',
  accumulation: 'Water gathered',
  'water-work': 'Done so that water flows',
  holes: 'Holes filled in the elevation',
  vegetation: 'Height of what grows',
  forms: 'Landform',
  cover: 'Cover class',
  canopy: 'Canopy',
  screening: 'Screening at deer height',
  resistance: 'Cost of travel',
  passage: 'Passage',
  'cold-air': 'Cold air at dawn',
  pools: 'Pools of still air',
};

interface StageLayers {
  /** Painted layers, bottom first, with the opacity they start at; `off` start hidden. */
  paint: { layer: TileLayer; opacity: number; off?: true }[];
  marks: { layer: MarkLayer; off?: true }[];
}

const base: StageLayers['paint'] = [
  { layer: 'shade', opacity: 1 },
  { layer: 'imagery', opacity: 0.5, off: true },
];
const ownGround: StageLayers['marks'] = [{ layer: 'boundary' }, { layer: 'features' }];

export const STAGE_LAYERS: Record<Stage, StageLayers> = {
  ground: {
    paint: [
      ...base,
      { layer: 'slope', opacity: 0.6, off: true },
      { layer: 'aspect', opacity: 0.6, off: true },
      { layer: 'forms', opacity: 0.5, off: true },
      { layer: 'accumulation', opacity: 0.7, off: true },
      { layer: 'water-work', opacity: 0.8, off: true },
      { layer: 'holes', opacity: 0.8 },
    ],
    marks: [
      { layer: 'contours' },
      { layer: 'drainage' },
      { layer: 'channels', off: true },
      { layer: 'ridges' },
      { layer: 'draws', off: true },
      { layer: 'benches' },
      { layer: 'saddles' },
      ...ownGround,
    ],
  },
  cover: {
    paint: [
      ...base,
      { layer: 'cover', opacity: 0.65 },
      { layer: 'vegetation', opacity: 0.7, off: true },
      { layer: 'canopy', opacity: 0.7, off: true },
      { layer: 'screening', opacity: 0.7, off: true },
    ],
    marks: [{ layer: 'contours', off: true }, { layer: 'blocks' }, ...ownGround],
  },
  travel: {
    paint: [
      { layer: 'shade', opacity: 1 },
      { layer: 'imagery', opacity: 0.3 },
      { layer: 'cover', opacity: 0.5, off: true },
      { layer: 'resistance', opacity: 0.6, off: true },
      { layer: 'passage', opacity: 0.8 },
    ],
    marks: [
      { layer: 'contours' },
      { layer: 'drainage' },
      { layer: 'bands', off: true },
      { layer: 'corridors' },
      ...ownGround,
      { layer: 'areas' },
      { layer: 'routes', off: true },
      { layer: 'junctions', off: true },
      { layer: 'crossings' },
      { layer: 'necks' },
    ],
  },
  air: {
    paint: [...base, { layer: 'cold-air', opacity: 0.75 }, { layer: 'pools', opacity: 0.8, off: true }],
    marks: [
      { layer: 'contours' },
      { layer: 'drainage' },
      { layer: 'areas', off: true },
      ...ownGround,
      { layer: 'pool-marks' },
      { layer: 'carries' },
    ],
  },
  stands: {
    paint: [
      ...base,
      { layer: 'passage', opacity: 0.6 },
      { layer: 'cold-air', opacity: 0.6, off: true },
      { layer: 'pools', opacity: 0.7 },
    ],
    marks: [
      { layer: 'contours', off: true },
      { layer: 'corridors' },
      ...ownGround,
      { layer: 'necks', off: true },
      { layer: 'carries' },
      { layer: 'stands' },
    ],
  },
  work: {
    paint: [
      ...base,
      { layer: 'cover', opacity: 0.5, off: true },
      { layer: 'passage', opacity: 0.6, off: true },
    ],
    marks: [
      { layer: 'contours', off: true },
      { layer: 'drainage' },
      { layer: 'corridors', off: true },
      { layer: 'features' },
      { layer: 'boundary' },
      { layer: 'necks' },
    ],
  },
  report: {
    paint: [...base, { layer: 'passage', opacity: 0.7 }],
    marks: [
      { layer: 'drainage' },
      { layer: 'corridors' },
      ...ownGround,
      { layer: 'crossings' },
      { layer: 'necks' },
    ],
  },
};
