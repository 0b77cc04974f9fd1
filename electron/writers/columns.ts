import type { FeatureCollection } from 'geojson';
import type { Carry, Pool } from '../../core/air/types.ts';
import type { Artifacts } from '../../core/analysis/artifacts.ts';
import type { CoverBlock } from '../../core/cover/types.ts';
import type { Feature } from '../../core/features/feature.ts';
import type { StandRisk } from '../../core/stands/types.ts';
import type {
  Bench,
  ChannelStation,
  ContourLine,
  DrainageLine,
  Draw,
  RidgeLine,
  Saddle,
} from '../../core/terrain/types.ts';
import type {
  BarricadeCheck,
  Closure,
  Corridor,
  Crossing,
  Junction,
  Neck,
  Route,
  Spread,
  TravelArea,
} from '../../core/travel/types.ts';
import { type TableName, tableFeatures } from './tables.ts';

/**
 * The same tables for people with another program: plain column names that say their unit, plain values (lists as
 * text), coordinates still in the frame. GeoJSON files and the property file's result tables are written from this.
 */

type Value = string | number | boolean | null;
type Columns = Record<string, Value>;

const round = (value: number | null, digits: number): number | null =>
  value === null || !Number.isFinite(value) ? null : Number(value.toFixed(digits));
/** The spread of a share over the uncertain weights. */
const band = (spread: Spread | undefined) => ({
  share_low: round(spread?.low ?? null, 4),
  share_high: round(spread?.high ?? null, 4),
  runs: spread?.runs ?? 0,
});
/** Sentences follow one another; words are set apart by semicolons. */
const list = (words: readonly string[]): string => words.join(words[0]?.endsWith('.') ? ' ' : '; ');

const CHANNEL_SOURCE: Record<ChannelStation['source'], string> = {
  elevation: 'measured on the elevation',
  field: 'taped in the field',
  'no banks': 'no banks within 30 m',
  'cells too coarse': 'not measurable at this cell size',
};

const COLUMNS: { [N in TableName]: (row: never, artifacts: Partial<Artifacts>) => Columns } = {
  features: (row: Feature) => ({
    ...row.attributes,
    kind: row.kind,
    status: row.status,
    name: row.name,
    source: row.source,
  }),
  contours: (row: ContourLine) => ({ elevation_m: row.elevation, index_contour: row.index }),
  drainage: (row: DrainageLine) => ({
    id: row.id,
    strahler_order: row.order,
    length_m: round(row.length, 1),
    catchment_m2: round(row.catchment, 0),
    drop_m: round(row.drop, 2),
    next: row.next,
  }),
  channels: (row: ChannelStation) => ({
    id: row.id,
    line: row.line,
    along_m: round(row.along, 0),
    depth_below_left_bank_m: round(row.left, 2),
    depth_below_right_bank_m: round(row.right, 2),
    bank_full_width_m: round(row.width, 1),
    source: CHANNEL_SOURCE[row.source],
  }),
  ridges: (row: RidgeLine) => ({ id: row.id, length_m: round(row.length, 1) }),
  draws: (row: Draw) => ({
    id: row.id,
    length_m: round(row.length, 1),
    depth_m: round(row.depth, 1),
    relief_m: round(row.relief, 1),
  }),
  saddles: (row: Saddle) => ({
    id: row.id,
    elevation_m: round(row.elevation, 2),
    rise_m: round(row.rise, 1),
    fall_one_side_m: round(row.falls[0], 1),
    fall_other_side_m: round(row.falls[1], 1),
    width_m: round(row.width, 1),
  }),
  benches: (row: Bench) => ({
    id: row.id,
    area_m2: round(row.area, 0),
    length_m: round(row.length, 0),
    width_m: round(row.width, 0),
    slope_above_deg: round(row.slopeAbove, 1),
    slope_below_deg: round(row.slopeBelow, 1),
  }),
  blocks: (row: CoverBlock) => ({ block: row.id, area_m2: round(row.area, 0) }),
  areas: (row: TravelArea) => ({
    area: row.id,
    kind: row.kind,
    name: row.name,
    source: row.source,
    area_m2: round(row.area, 0),
    reasons: list(row.reasons ?? []),
  }),
  corridors: (row: Corridor, { travelAreas = [] }) => ({
    id: row.id,
    from: areaName(travelAreas, row.from),
    to: areaName(travelAreas, row.to),
    share: round(row.share, 4),
    length_m: round(row.length, 0),
    cost_as_metres_of_easy_ground: round(row.cost, 0),
    cost_there: round(row.there, 0),
    cost_back: round(row.back, 0),
  }),
  necks: (row: Neck) => ({
    id: row.id,
    rank: row.rank,
    width_m: round(row.width, 1),
    share: round(row.share, 4),
    ...band(row.spread),
    firm: row.firm,
    edge_artefact: row.edgeArtefact ?? false,
    owner: row.owner,
    landmarks: list(row.landmarks),
    pairs: list(row.pairs.map(({ from, to, share }) => `${from} to ${to} ${Math.round(share * 100)} %`)),
    reasons: list(row.reasons),
  }),
  crossings: (row: Crossing) => ({
    id: row.id,
    kind: row.kind,
    feature: row.feature,
    share: round(row.share, 4),
    ...band(row.spread),
    corridors: list(row.corridors),
    easiest: row.easiest?.what ?? null,
    owner: row.owner,
    reasons: list(row.reasons),
  }),
  junctions: (row: Junction) => ({
    id: row.id,
    rank: row.rank,
    share: round(row.share, 4),
    ...band(row.spread),
    reach_m: round(row.reach, 0),
    arms: list(
      row.arms.map(({ bearing, share }) => `${bearing.toFixed(0)} deg ${Math.round(share * 100)} %`),
    ),
    owner: row.owner,
    reasons: list(row.reasons),
  }),
  routes: (row: Route) => ({
    id: row.id,
    from: row.from,
    to: row.to,
    when: row.when,
    length_m: round(row.length, 0),
    minutes: round(row.minutes, 0),
    share: round(row.share, 4),
  }),
  barricades: (row: BarricadeCheck) => ({
    feature: row.feature,
    name: row.name,
    holds: row.holds,
    share_across_before: round(row.before, 4),
    share_across_after: round(row.after, 4),
    cheapest: row.cheapest,
    ways_as_metres_of_easy_ground: list(
      row.ways.map(({ way, cost }) => `${way}: ${cost === null ? 'no way' : cost.toFixed(0)}`),
    ),
    detour_as_metres_of_easy_ground: round(row.detour, 0),
    crossing_as_metres_of_easy_ground: round(row.crossing, 0),
    gaps: list(
      row.ends.flatMap(({ side, gap }) =>
        gap ? [`${side} end ${gap.distance.toFixed(1)} m from ${gap.to}`] : [],
      ),
    ),
    reasons: list(row.reasons),
  }),
  closures: (row: Closure & { neck: string | null }) => ({
    id: row.id,
    neck: row.neck,
    length_m: round(row.length, 0),
    work_as_metres_in_timber: round(row.work, 0),
    owner: row.owner,
    leak: round(row.leak, 4),
    neck_before: round(row.neckBefore, 4),
    neck_after: round(row.neckAfter, 4),
    reasons: list(row.reasons),
  }),
  pools: (row: Pool) => ({
    id: row.id,
    depth_m: round(row.depth, 2),
    area_m2: round(row.area, 0),
    volume_m3: round(row.volume, 0),
    sill_elevation_m: round(row.sillElevation, 2),
  }),
  carries: (row: Carry) => ({
    length_m: round(row.length, 0),
    layer_depth_m: round(row.layerDepth, 2),
    speed_m_per_s: round(row.speed, 2),
    ends: row.ends,
    pool: row.pool,
  }),
  'stand-risks': (row: StandRisk) => ({
    id: row.id,
    subject: row.subject.type,
    subject_id: row.subject.id,
    name: row.subject.name,
    level: row.level,
    in_pool: row.inPool,
    pool_depth_m: round(row.poolDepth, 2),
    meets: list(row.meets),
    owner: row.owner,
    verdict: row.verdict,
    reasons: list(row.reasons),
    doubts: list(row.doubts),
  }),
};

const areaName = (areas: readonly TravelArea[], id: number): string =>
  areas.find((area) => area.id === id)?.name ?? String(id);

/** A table in frame coordinates with its plain columns. */
export function plainTable(name: TableName, artifacts: Partial<Artifacts>): FeatureCollection {
  const table = tableFeatures(name, artifacts);
  const columns = COLUMNS[name] as (row: unknown, artifacts: Partial<Artifacts>) => Columns;
  return {
    ...table,
    features: table.features.map((feature) => ({
      ...feature,
      properties: columns(feature.properties, artifacts),
    })),
  };
}
