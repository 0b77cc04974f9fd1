import type { Artifacts } from '../../core/analysis/artifacts.ts';
import type { Imagery } from '../../core/cover/types.ts';
import { FOOT, type Units } from '../../core/features/units.ts';
import type { Grid, TypedArray } from '../../core/grid/frame.ts';
import { NOSE_THRESHOLD } from '../../core/stands/scent.ts';
import type { Legend, OverlayKind, TILE_LAYERS } from '../service/contract.ts';
import {
  type ClassStyle,
  COVER_STYLES,
  FORM_STYLES,
  HOLE_STYLES,
  REACH_STYLES,
  SHADOW_STYLES,
  VIEW_STYLES,
  WATER_STYLES,
} from './palette.ts';
import { hexOf, type Ramp, rampColour, rampOf } from './ramp.ts';
import type { Sampling } from './sample.ts';

/** How each painted layer looks: its ramp or classes, its scale and its legend. */

export type TileLayer = (typeof TILE_LAYERS)[number];

/** What can be painted: layers of the analysis and grids made on demand. */
export type PaintLayer = TileLayer | OverlayKind;

export type PaintSource = Partial<Artifacts> & {
  /** A finer picture than the one the analysis uses, where there is one. */
  display?: Imagery | null;
} & Partial<Record<OverlayKind, Grid<TypedArray>>>;

export interface RampLayer {
  title: string;
  unit: string;
  sampling: Sampling;
  ramp: Ramp;
  /** Place of a value on the ramp, 0..1 (clamped), given the layer's top value. */
  place(value: number, top: number): number;
  /** The value at a place, for the legend. */
  value(place: number, top: number): number;
  /** Opacity 0..255 at a place. */
  opacity(place: number): number;
  /** Upper end of the ramp: fixed, or a high quantile of the grid. */
  top: number | 'quantile';
  label(value: number): string;
  /** A grid of nothing but smaller values is painted as nothing, and its legend says so. */
  nothing?: { below: number; label: string };
  grid(source: PaintSource): Grid<TypedArray> | undefined;
  /** The same everywhere, or by place on the ramp. */
  pattern?: ClassStyle['pattern'] | ((place: number) => ClassStyle['pattern']);
}

const opaque = (): number => 255;
const number = (digits: number) => (value: number) => value.toFixed(digits);
/** Of a depth that is reckoned, not measured: no more digits than it has. */
const depth = (value: number): string => value.toFixed(value < 10 ? 1 : 0);
const percent = (value: number): string => {
  const share = value * 100;
  return `${share >= 10 ? share.toFixed(0) : Number(share.toPrecision(2))}%`;
};
const straight = {
  place: (value: number, top: number) => value / top,
  value: (place: number, top: number) => place * top,
};
const logAbove = (least: number) => ({
  place: (value: number, top: number) => Math.log(value / least) / Math.log(top / least),
  value: (place: number, top: number) => least * (top / least) ** place,
});
/** A square root spreads a few high values among many low ones. */
const rooted = {
  place: (value: number, top: number) => Math.sqrt(value / top),
  value: (place: number, top: number) => place * place * top,
};
const logged = {
  place: (value: number, top: number) => Math.log(value) / Math.log(top),
  value: (place: number, top: number) => top ** place,
};

/** Scent by whose nose takes note of it; above the dull nose by how many times that. */
const noseWords = (value: number): string => {
  if (value < 0.99 * NOSE_THRESHOLD.usual) return 'a keen nose notices';
  if (value < 0.99 * NOSE_THRESHOLD.high) return 'a usual nose notices';
  const times = value / NOSE_THRESHOLD.high;
  return times < 1.5 ? 'a dull nose notices' : `${Math.round(times)} times that`;
};

/** Cells drained below this are hillside, not a channel, and stay clear. */
const CHANNEL = 30;
const channelTop = (top: number): number => Math.max(top, CHANNEL * 10);

const POOLS: Omit<RampLayer, 'grid'> = {
  title: 'Still cold air',
  unit: 'm',
  sampling: 'mean',
  ramp: rampOf(['#a7c7ea', '#3b4fa5', '#160e3d']),
  ...rooted,
  opacity: (place) => (place > 0 ? 150 + 90 * Math.min(1, place) : 0),
  top: 'quantile',
  label: depth,
  pattern: 'level',
};

const SCENT: Omit<RampLayer, 'grid'> = {
  title: 'Scent a nose takes note of',
  unit: '',
  sampling: 'largest',
  ramp: rampOf(['#f3d9ec', '#c2539c', '#4a0d3f']),
  ...logAbove(NOSE_THRESHOLD.low),
  opacity: (place) => (place >= 0 ? 120 + 110 * Math.min(1, place) : 0),
  top: 100 * NOSE_THRESHOLD.low,
  label: noseWords,
  pattern: (place) => (place < 0.24 ? 'plain' : place < 0.49 ? 'dots' : 'lattice'),
};

/** More or less of the share of travel. */
const CHANGE: RampLayer = {
  title: 'Change of the share of travel',
  unit: '',
  sampling: 'mean',
  ramp: rampOf(['#123f7a', '#6aa5d8', '#f4f1ea', '#e8923d', '#7a2e08']),
  place: (value, top) => 0.5 + 0.5 * Math.sign(value) * Math.sqrt(Math.min(1, Math.abs(value) / top)),
  value: (place, top) => Math.sign(place - 0.5) * (2 * place - 1) ** 2 * top,
  opacity: (place) => 230 * Math.min(1, Math.max(0, Math.abs(place - 0.5) * 6 - 0.6)),
  top: 'quantile',
  label: (value) =>
    value < 0 ? `less: ${percent(-value)}` : value > 0 ? `more: ${percent(value)}` : 'as now',
  nothing: { below: 5e-5, label: 'Nothing changed' },
  grid: (source) => source['passage-change'],
  pattern: (place) => (place < 0.5 ? 'falling' : 'plain'),
};

const PASSAGE: RampLayer = {
  title: 'Share of travel',
  unit: '',
  sampling: 'largest',
  ramp: rampOf(['#ffe9a3', '#f0913a', '#b0234f', '#3d0b45']),
  ...rooted,
  opacity: (place) => 235 * Math.min(1, Math.max(0, (place - 0.15) * 2)),
  top: 'quantile',
  label: percent,
  grid: (source) => source.passage,
};

export const RAMPS: Partial<Record<PaintLayer, RampLayer>> = {
  shade: {
    title: 'Shade',
    unit: '',
    sampling: 'mean',
    ramp: rampOf(['#231f2b', '#8a8580', '#fbf9f1']),
    ...straight,
    opacity: opaque,
    top: 255,
    label: number(0),
    grid: (source) => source.shade,
  },
  slope: {
    title: 'Slope',
    unit: '°',
    sampling: 'mean',
    ramp: rampOf(['#fbf6e3', '#e3bd6f', '#a35c2c', '#3b1a1c']),
    ...straight,
    opacity: opaque,
    top: 40,
    label: number(0),
    grid: (source) => source.slope,
  },
  accumulation: {
    title: 'Ground drained',
    unit: 'cells',
    sampling: 'largest',
    ramp: rampOf(['#a9cfe8', '#3f86c0', '#102a5e']),
    place: (value, top) => Math.log(value / CHANNEL) / Math.log(channelTop(top) / CHANNEL),
    value: (place, top) => CHANNEL * (channelTop(top) / CHANNEL) ** place,
    opacity: (place) => (place < 0 ? 0 : 120 + 135 * Math.min(1, place)),
    top: 'quantile',
    label: (value) => Number(value.toPrecision(2)).toLocaleString('en-US'),
    grid: (source) => source.accumulation,
  },
  vegetation: {
    title: 'Height of what grows',
    unit: 'm',
    sampling: 'largest',
    ramp: rampOf(['#f7f3d9', '#a9c47a', '#2f7d4f', '#123a3f']),
    ...straight,
    opacity: opaque,
    top: 30,
    label: number(0),
    grid: (source) => source.vegetation ?? undefined,
  },
  canopy: {
    title: 'Under canopy',
    unit: '',
    sampling: 'mean',
    ramp: rampOf(['#f4f2dc', '#9dbf78', '#17452c']),
    ...straight,
    opacity: opaque,
    top: 1,
    label: percent,
    grid: (source) => source.canopy,
  },
  screening: {
    title: 'Deer hidden at 1 to 5 ft',
    unit: '',
    sampling: 'mean',
    ramp: rampOf(['#f5efe6', '#b491b5', '#3c1f4f']),
    ...straight,
    opacity: opaque,
    top: 1,
    label: percent,
    grid: (source) => source.screening,
  },
  resistance: {
    title: 'Cost of travel against easy ground, climbing apart',
    unit: 'times',
    sampling: 'mean',
    ramp: rampOf(['#f6f3e4', '#d9a86c', '#8d4136', '#2a1224']),
    ...logged,
    opacity: opaque,
    top: 30,
    label: (value) => `${Number(value.toPrecision(2))}`,
    grid: (source) => source.resistance,
  },
  passage: PASSAGE,
  'passage-after': {
    ...PASSAGE,
    title: 'Share of travel as proposed',
    grid: (source) => source['passage-after'],
  },
  'first-after': {
    ...PASSAGE,
    title: 'Share of travel under the first plan',
    grid: (source) => source['first-after'],
  },
  'second-after': {
    ...PASSAGE,
    title: 'Share of travel under the second plan',
    grid: (source) => source['second-after'],
  },
  'first-change': {
    ...CHANGE,
    title: 'Change of the share of travel under the first plan',
    grid: (source) => source['first-change'],
  },
  'second-change': {
    ...CHANGE,
    title: 'Change of the share of travel under the second plan',
    grid: (source) => source['second-change'],
  },
  'plans-difference': {
    ...CHANGE,
    title: 'Share of travel under the second plan less that under the first',
    label: (value) =>
      value < 0 ? `less: ${percent(-value)}` : value > 0 ? `more: ${percent(value)}` : 'the same',
    nothing: { below: 5e-5, label: 'Both plans do the same' },
    grid: (source) => source['plans-difference'],
  },
  'cold-air': {
    title: 'Depth of cold air',
    unit: 'm',
    sampling: 'mean',
    ramp: rampOf(['#dff1f2', '#6fa8d6', '#4449a0', '#1d1147']),
    ...rooted,
    opacity: (place) => 225 * Math.min(1, Math.max(0, place * 3)),
    top: 'quantile',
    label: depth,
    grid: (source) => source.coldAir,
  },
  pools: { ...POOLS, grid: (source) => source.poolDepth },
  'air-pools': { ...POOLS, title: 'Still cold air at that hour', grid: (source) => source['air-pools'] },
  'air-layer': {
    title: 'Depth of cold air at that hour',
    unit: 'm',
    sampling: 'mean',
    ramp: rampOf(['#dff1f2', '#6fa8d6', '#4449a0', '#1d1147']),
    ...rooted,
    opacity: (place) => 225 * Math.min(1, Math.max(0, place * 3)),
    top: 'quantile',
    label: depth,
    grid: (source) => source['air-layer'],
  },
  scent: { ...SCENT, grid: (source) => source.scent },
  'way-scent': { ...SCENT, title: 'Scent of who walks there', grid: (source) => source['way-scent'] },
  approach: {
    title: 'What a second there counts for',
    unit: 'times',
    sampling: 'mean',
    ramp: rampOf(['#f2e6c9', '#c98a5b', '#7b3358', '#26103a']),
    ...logged,
    opacity: (place) => 190 * Math.min(1, Math.max(0, place * 4)),
    top: 12,
    label: (value) => `${Number(value.toPrecision(2))}`,
    grid: (source) => source.approach,
  },
  'passage-change': CHANGE,
  'way-view': {
    title: 'Share of the way in view',
    unit: '',
    sampling: 'mean',
    ramp: rampOf(['#d9c7e8', '#8a4fa3', '#3a0f4d']),
    ...straight,
    opacity: (place) => (place > 0 ? 90 + 140 * Math.min(1, place) : 0),
    top: 1,
    label: percent,
    grid: (source) => source['way-view'],
  },
  'screened-view': {
    title: 'Share of the view left',
    unit: '',
    sampling: 'mean',
    ramp: rampOf(['#8a4b14', '#f0b429', '#fff3b8']),
    ...straight,
    opacity: (place) => (place > 0.05 ? 90 + 130 * Math.min(1, place) : 0),
    top: 1,
    label: percent,
    grid: (source) => source['screened-view'],
  },
};

export const CLASSES: Partial<
  Record<
    PaintLayer,
    {
      title: string;
      styles: Record<number, ClassStyle>;
      grid(source: PaintSource): Grid<TypedArray> | undefined;
    }
  >
> = {
  forms: { title: 'Landforms', styles: FORM_STYLES, grid: (source) => source.forms },
  cover: { title: 'Cover', styles: COVER_STYLES, grid: (source) => source.cover },
  'water-work': {
    title: 'Done so that water flows',
    styles: WATER_STYLES,
    grid: (source) => source.waterWork,
  },
  holes: {
    title: 'Holes filled in the elevation',
    styles: HOLE_STYLES,
    grid: (source) => source.holes ?? undefined,
  },
  view: { title: 'Seen from the spot', styles: VIEW_STYLES, grid: (source) => source.view },
  reach: { title: 'In range of the stand', styles: REACH_STYLES, grid: (source) => source.reach },
  shadow: { title: 'Shade of the terrain', styles: SHADOW_STYLES, grid: (source) => source.shadow },
};

/**
 * The way the ground faces, from dark (north) to light (south), cool east and warm west: blue against orange is the
 * pair that most colour-blind eyes keep apart.
 */
const ASPECTS = ['#2b2d4f', '#3c5f96', '#5f9fc9', '#b9d3d0', '#f7f1d0', '#eac58b', '#c97f4a', '#6f4049'];
const FACINGS = ['North', 'Northeast', 'East', 'Southeast', 'South', 'Southwest', 'West', 'Northwest'];
export const ASPECT_RAMP = rampOf([...ASPECTS, ASPECTS[0]!]);

/**
 * What the colours of a layer mean. A layer scaled to its own grid needs the source to say so; depths come in feet
 * where the person reads US units.
 */
export function legendOf(layer: PaintLayer, source: PaintSource = {}, units: Units = 'metric'): Legend {
  const classes = CLASSES[layer];
  if (classes) {
    const entries = Object.values(classes.styles).map(({ label, colour, pattern }) => ({
      label,
      colour,
      pattern,
    }));
    return { title: classes.title, unit: '', entries };
  }
  if (layer === 'aspect') {
    return {
      title: 'The way the ground faces',
      unit: '',
      entries: FACINGS.map((label, index) => ({ label, colour: ASPECTS[index]! })),
    };
  }
  const ramp = RAMPS[layer];
  if (!ramp || layer === 'shade')
    return { title: layer === 'shade' ? 'Shade' : 'Imagery', unit: '', entries: [] };
  const grid = ramp.grid(source);
  if (ramp.nothing && grid && isNothing(ramp, grid.cells)) {
    const colour = hexOf(rampColour(ramp.ramp, 0.5));
    return { title: ramp.title, unit: '', entries: [{ label: ramp.nothing.label, colour }] };
  }
  const top = grid ? topOf(ramp, grid.cells) : ramp.top === 'quantile' ? 1 : ramp.top;
  const feet = ramp.unit === 'm' && units === 'us';
  const entries = [0, 0.25, 0.5, 0.75, 1].map((place) => ({
    label:
      ramp.label(ramp.value(place, top) / (feet ? FOOT : 1)) +
      ((place === 1 || ramp.value(place, top) < 0) && ramp.top !== 1 ? ' or more' : ''),
    colour: hexOf(rampColour(ramp.ramp, place)),
    ...(ramp.pattern ? { pattern: patternAt(ramp, place)! } : {}),
  }));
  return { title: ramp.title, unit: feet ? 'ft' : ramp.unit, entries };
}

/** How a layer is marked at a place on its ramp. */
export const patternAt = ({ pattern }: RampLayer, place: number): ClassStyle['pattern'] | undefined =>
  typeof pattern === 'function' ? pattern(place) : pattern;

const isNothing = ({ nothing }: RampLayer, cells: TypedArray): boolean =>
  nothing !== undefined && !(largest(cells) >= nothing.below);

/** The upper end of a ramp for a grid; 1 where the grid holds nothing, which leaves it clear. */
export const topOf = (ramp: RampLayer, cells: TypedArray): number => {
  if (ramp.top !== 'quantile') return ramp.top;
  return isNothing(ramp, cells) ? 1 : highQuantile(cells);
};

const largests = new WeakMap<TypedArray, number>();

/** The size of the largest value, kept for the grid's life. */
function largest(cells: TypedArray): number {
  let most = largests.get(cells);
  if (most === undefined) {
    most = 0;
    for (const value of cells) if (Math.abs(value) > most) most = Math.abs(value);
    largests.set(cells, most);
  }
  return most;
}

const quantiles = new WeakMap<TypedArray, number>();

/** The size that one in a thousand of the cells other than 0 passes, from an even sample, kept for the grid's life. */
function highQuantile(cells: TypedArray): number {
  const known = quantiles.get(cells);
  if (known !== undefined) return known;
  const stride = Math.max(1, Math.floor(cells.length / 200_000));
  const picked: number[] = [];
  for (let index = 0; index < cells.length; index += stride) {
    const value = Math.abs(cells[index]!);
    if (value > 0 && value < Number.POSITIVE_INFINITY) picked.push(value);
  }
  const sorted = Float64Array.from(picked).sort();
  const top = sorted.length > 0 ? sorted[Math.floor((sorted.length - 1) * 0.999)]! : 1;
  quantiles.set(cells, top);
  return top;
}
