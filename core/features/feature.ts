import type { Geometry } from 'geojson';

/**
 * What a person draws or imports. Lines that hinder or help (road, railroad, creek, fence, barricade) act on
 * the edges between cells; `gap` is a point or short line where such a line is easy to pass (gate, lowered span,
 * culvert, underpass, ford).
 */
export const FEATURE_KINDS = [
  'boundary',
  'road',
  'railroad',
  'creek',
  'pond',
  'fence',
  'gap',
  'trail',
  'powerline',
  'building',
  'bedding',
  'food',
  'crop',
  'stand',
  'access',
  'barricade',
  'screen',
  'cut',
  'opening',
  'conifers',
  'feeder',
  'sighting',
  'note',
  'walk',
  'truth',
  'quiet',
  'visit',
  'observation',
] as const;

export type FeatureKind = (typeof FEATURE_KINDS)[number];

export type AttributeValue = string | number | boolean | null;

/** An attribute as a number, or what counts where it is none. */
export const numberOr = <T>(value: unknown, otherwise: T): number | T =>
  typeof value === 'number' && Number.isFinite(value) ? value : otherwise;

export interface Feature {
  id: string;
  kind: FeatureKind;
  /** Proposed features are drawn in another pattern and are left out of the state of today. */
  status: 'existing' | 'proposed';
  name: string | null;
  /** Coordinates in the frame's CRS, m. */
  geometry: Geometry;
  /**
   * Free attributes under the trade's words, SI units: fence `height` m; barricade `height`, `width`,
   * `clearance` m, `density` (loose, thick, tight), `lasts` years; creek `width`, `depth` m;
   * road `class` (highway, county, lane, track); gap `type` (gate, lowered, culvert, underpass, ford);
   * stand `seatHeight` m, `weapon`, `range` m; sighting (tracks, a trail, deer on a camera; several counts
   * at one spot: `records`, `firstDay`, `lastDay`, `byHour`, 24 counts from midnight) `count`, `date`, `hour`,
   * `what`, `stand`, `outcome`, `heading`; quiet (ground nobody enters) `from`, `to` MM-DD; visit `date`, `who`,
   * `stand`, `from`, `to` hours, `windFrom` degrees, `windSpeed` m/s; observation (deer seen from a sit) `sit` (id of
   * the visit), `hour`, `what`, `count`, `came` degrees from true north, `outcome`. What a piece of work is to be (`core/plan`): cut `method` (hinge, fell), `basalArea` m²/ha; trail `method`
   * (clear, mulch); screen and conifers `rows`, `spacing`, `rowSpacing` m; screen `species`; stand `structure` (hang-on, ladder, tower),
   * `towerHeight` m; feeder `remove`. Of any work: `owner`, who
   * answers for it, `due`, a date, `needs`, ids or names of work it is worth nothing without, `why` the program drafted it; once built `done`, a date, and `plannedLength` m or `plannedArea` m². Of the walk: walk `started` (ISO 8601, UTC)
   * and `seconds` since then, one a point; note `text`, `taken` (ISO 8601, UTC), `bearing` of its picture, degrees from
   * true north, `photo` (id of the picture) or `clip` (name of its file); truth (cover as it was seen) `cover`.
   */
  attributes: Record<string, AttributeValue>;
  /** The file it came from, or `drawn`. */
  source: string;
}

export const ofKind = (features: readonly Feature[], ...kinds: FeatureKind[]): Feature[] =>
  features.filter((feature) => kinds.includes(feature.kind));

/** What is written down of the ground’s use; the analysis of the ground does not rest on it. */
const LOGGED: readonly FeatureKind[] = ['quiet', 'visit', 'observation', 'note', 'walk'];

/** What stands or is proposed, without what is only written down. */
export const withoutLog = (features: readonly Feature[]): Feature[] =>
  features.filter(({ kind }) => !LOGGED.includes(kind));

/** What stands today, without what is only proposed or written down. */
export const existing = (features: readonly Feature[]): Feature[] =>
  withoutLog(features).filter(({ status }) => status === 'existing');
