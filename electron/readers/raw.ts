import type { Geometry, Position } from 'geojson';
import type { FeatureKind } from '../../core/features/feature.ts';
import { type Crs, transform, WGS84 } from './crs.ts';
import { refusal } from './refusal.ts';

/** A feature as its file gives it, brought to WGS 84 degrees; height and measure dropped. */
export interface RawFeature {
  id: string | null;
  geometry: Geometry;
  properties: Record<string, unknown>;
  /** Folder of a KML, layer of a GeoPackage or Shapefile; null where the format has none. */
  layer: string | null;
  /** What it is where nothing says so. */
  otherwise?: FeatureKind;
}

export interface RawVectors {
  features: RawFeature[];
  notes: string[];
}

/** Brings features to degrees; `crs` null means they are in degrees already. */
export function toLonLat(features: RawFeature[], crs: Crs | null, name: string): RawVectors {
  if (!crs || crs.proj4 === WGS84) {
    for (const feature of features)
      eachPosition(feature.geometry, ([x, y]) => {
        if (Math.abs(x!) <= 180.001 && Math.abs(y!) <= 90) return;
        throw refusal(`${name} has the coordinate ${x}, ${y}, which is not longitude and latitude`, {
          file: name,
          fix: 'export it in WGS 84 longitude and latitude, or with its coordinate system stated',
        });
      });
    return { features, notes: crs?.note ? [crs.note] : [] };
  }
  const project = transform(crs.proj4, WGS84);
  return {
    features: features.map((feature) => ({
      ...feature,
      geometry: mapGeometry(feature.geometry, ([x, y]) => project(x!, y!)),
    })),
    notes: crs.note ? [crs.note] : [],
  };
}

/** Splits collections, drops height and empty shapes. */
export function tidy(feature: RawFeature, name: string): RawFeature[] {
  const { geometry } = feature;
  if (!geometry) return [];
  if (geometry.type === 'GeometryCollection')
    return geometry.geometries.flatMap((one) => tidy({ ...feature, geometry: one }, name));
  let count = 0;
  eachPosition(geometry, ([x, y]) => {
    count++;
    if (!Number.isFinite(x) || !Number.isFinite(y))
      throw refusal(`${name} holds a coordinate that is not a number`, {
        file: name,
        fix: 'export it again',
      });
  });
  if (count === 0) return [];
  return [{ ...feature, geometry: mapGeometry(geometry, ([x, y]) => [x!, y!]) }];
}

type Nested = Position | Nested[];
const isPosition = (value: Nested): value is Position => typeof value[0] === 'number';

export function eachPosition(geometry: Geometry, visit: (position: Position) => void): void {
  if (geometry.type === 'GeometryCollection') {
    for (const one of geometry.geometries) eachPosition(one, visit);
    return;
  }
  const walk = (value: Nested): void => {
    if (isPosition(value)) visit(value);
    else for (const child of value) walk(child);
  };
  walk(geometry.coordinates as Nested);
}

export function mapGeometry(geometry: Geometry, change: (position: Position) => Position): Geometry {
  if (geometry.type === 'GeometryCollection')
    return { ...geometry, geometries: geometry.geometries.map((one) => mapGeometry(one, change)) };
  const walk = (value: Nested): Nested => (isPosition(value) ? change(value) : value.map(walk));
  return { type: geometry.type, coordinates: walk(geometry.coordinates as Nested) } as Geometry;
}
