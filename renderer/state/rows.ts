import type { Feature, FeatureCollection, Geometry } from 'geojson';
import type { Pool } from '../../core/air/types.ts';
import type { AttributeValue, FeatureKind } from '../../core/features/feature.ts';
import type { Point } from '../../core/grid/frame.ts';
import type { StandRisk } from '../../core/stands/types.ts';
import type { Bench, ChannelStation, Draw, Saddle } from '../../core/terrain/types.ts';
import type { Crossing, Junction, Neck } from '../../core/travel/types.ts';

/** A row of a table: the columns of its type, and the shape it has on the map. */
export type Row<T> = T & { shape: Geometry };

/** A drawn or imported thing as the map carries it. */
export interface FeatureRow {
  id: string;
  kind: FeatureKind;
  status: 'existing' | 'proposed';
  name: string | null;
  attributes: Record<string, AttributeValue>;
  source: string;
}

interface TableRow {
  necks: Neck;
  crossings: Crossing;
  junctions: Junction;
  'stand-risks': StandRisk;
  pools: Pool;
  saddles: Saddle;
  benches: Bench;
  draws: Draw;
  channels: ChannelStation;
  features: FeatureRow;
}

/** The table's rows in order, or none while it is not there. `at` falls back on the middle of the shape. */
export function rowsOf<N extends keyof TableRow>(
  _name: N,
  collection: FeatureCollection | null,
): Row<TableRow[N]>[] {
  return (collection?.features ?? []).map(
    (feature) =>
      ({
        id: String(feature.id ?? ''),
        at: middle(feature),
        ...feature.properties,
        shape: feature.geometry,
      }) as unknown as Row<TableRow[N]>,
  );
}

function middle(feature: Feature): Point {
  const points = pointsOf(feature.geometry);
  const point = points[Math.floor(points.length / 2)];
  return point ? [point[0]!, point[1]!] : [Number.NaN, Number.NaN];
}

/** Every vertex of a shape. */
export function pointsOf(shape: Geometry): number[][] {
  switch (shape.type) {
    case 'Point':
      return [shape.coordinates];
    case 'LineString':
    case 'MultiPoint':
      return shape.coordinates;
    case 'Polygon':
    case 'MultiLineString':
      return shape.coordinates.flat();
    case 'MultiPolygon':
      return shape.coordinates.flat(2);
    case 'GeometryCollection':
      return shape.geometries.flatMap(pointsOf);
  }
}
