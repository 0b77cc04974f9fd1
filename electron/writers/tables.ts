import type { Feature, FeatureCollection, Geometry, Position } from 'geojson';
import type { Artifacts } from '../../core/analysis/artifacts.ts';
import type { Point } from '../../core/grid/frame.ts';
import type { TABLES } from '../service/contract.ts';
import { polygonOf } from './rings.ts';

/**
 * The tables of a property as GeoJSON in frame coordinates, with the columns of their core types: what the window
 * draws and lists. Shapes leave the columns they came from, but a spot (`at`, `centre`) stays beside its shape.
 */

export type TableName = (typeof TABLES)[number];

interface Row {
  id: string | number;
  geometry: Geometry;
  /** The columns. */
  row: object;
}

const point = (at: Point): Geometry => ({ type: 'Point', coordinates: at });
/** A path of one spot (air that stands still) is that spot. */
const path = (points: Point[], at: Point): Geometry =>
  points.length > 1 ? { type: 'LineString', coordinates: points } : point(points[0] ?? at);

function without<T extends object>(row: T, column: keyof T): object {
  const { [column]: _shape, ...rest } = row;
  return rest;
}

type Maker = (artifacts: Partial<Artifacts>) => Row[];

const MAKERS: Record<TableName, Maker> = {
  features: ({ features = [] }) =>
    features.map((feature) => ({
      id: feature.id,
      geometry: feature.geometry,
      row: without(feature, 'geometry'),
    })),
  contours: ({ contours = [] }) =>
    contours.map((line) => ({
      id: `contour ${line.elevation}`,
      geometry: { type: 'MultiLineString', coordinates: line.paths },
      row: without(line, 'paths'),
    })),
  drainage: ({ drainageLines = [] }) =>
    drainageLines.map((line) => ({
      id: line.id,
      geometry: path(line.path, line.path[0]!),
      row: without(line, 'path'),
    })),
  channels: ({ channels = [] }) => channels.map((row) => ({ id: row.id, geometry: point(row.at), row })),
  ridges: ({ ridges = [] }) =>
    ridges.map((line) => ({
      id: line.id,
      geometry: path(line.path, line.path[0]!),
      row: without(line, 'path'),
    })),
  draws: ({ draws = [] }) =>
    draws.map((line) => ({
      id: line.id,
      geometry: path(line.path, line.path[0]!),
      row: without(line, 'path'),
    })),
  saddles: ({ saddles = [] }) => saddles.map((row) => ({ id: row.id, geometry: point(row.at), row })),
  benches: ({ benches = [] }) =>
    benches.map((bench) => ({
      id: bench.id,
      geometry: polygonOf(bench.outline),
      row: without(bench, 'outline'),
    })),
  blocks: ({ coverBlocks = [] }) =>
    coverBlocks.map((block) => ({
      id: block.id,
      geometry: polygonOf(block.outline),
      row: without(block, 'outline'),
    })),
  areas: ({ travelAreas = [] }) =>
    travelAreas.map((row) => ({ id: row.id, geometry: point(row.centre), row })),
  corridors: ({ corridors = [] }) =>
    corridors.map((row) => ({
      id: row.id,
      geometry: path(row.path, row.path[0]!),
      row: without(row, 'path'),
    })),
  necks: ({ necks = [] }) =>
    necks.map((row) => ({ id: row.id, geometry: { type: 'LineString', coordinates: row.line }, row })),
  crossings: ({ crossings = [] }) => crossings.map((row) => ({ id: row.id, geometry: point(row.at), row })),
  junctions: ({ junctions = [] }) => junctions.map((row) => ({ id: row.id, geometry: point(row.at), row })),
  routes: ({ routes = [] }) =>
    routes.map((row) => ({ id: row.id, geometry: path(row.path, row.path[0]!), row: without(row, 'path') })),
  barricades: ({ planTravel }) =>
    (planTravel?.barricades ?? []).map((row) => ({ id: row.feature, geometry: point(row.at), row })),
  closures: ({ planTravel }) =>
    (planTravel?.closures ?? []).map((row) => ({
      id: row.id,
      geometry: path(row.path, row.path[0]!),
      row: { ...without(row, 'path'), neck: planTravel!.goal },
    })),
  pools: ({ pools = [] }) => pools.map((row) => ({ id: row.id, geometry: point(row.at), row })),
  carries: ({ carries = [], standRisks = [] }) =>
    carries.map((row, index) => ({
      id: standRisks[index]?.id ?? `carry ${index + 1}`,
      geometry: path(row.path, row.from),
      row: without(row, 'path'),
    })),
  'stand-risks': ({ standRisks = [] }) =>
    standRisks.map((row) => ({ id: row.id, geometry: point(row.at), row })),
};

/** A table in frame coordinates; empty while its artifact is not there. Rows keep their order. */
export function tableFeatures(name: TableName, artifacts: Partial<Artifacts>): FeatureCollection {
  const features = MAKERS[name](artifacts)
    .filter(({ geometry }) => hasPosition(geometry))
    .map(({ id, geometry, row }): Feature => ({ type: 'Feature', id, geometry, properties: { ...row } }));
  return { type: 'FeatureCollection', features };
}

/** How many rows a table has, those without a place on the map included. */
export const tableCount = (name: TableName, artifacts: Partial<Artifacts>): number =>
  MAKERS[name](artifacts).length;

function hasPosition(geometry: Geometry): boolean {
  if (geometry.type === 'GeometryCollection') return geometry.geometries.some(hasPosition);
  const first = (nested: unknown): unknown =>
    Array.isArray(nested) && Array.isArray(nested[0]) ? first(nested[0]) : nested;
  return typeof (first(geometry.coordinates) as Position)?.[0] === 'number';
}
