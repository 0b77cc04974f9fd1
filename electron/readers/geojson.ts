import type { FeatureCollection, Feature as GeoFeature, Geometry } from 'geojson';
import { crsOfEpsg } from './crs.ts';
import { type RawVectors, toLonLat } from './raw.ts';
import { refusal } from './refusal.ts';

/**
 * GeoJSON (RFC 7946): WGS 84 degrees, or the system named by the `crs` member of the 2008 format.
 * @throws Problem when it is not GeoJSON
 */
export function readGeoJson(name: string, text: string): RawVectors {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (error) {
    throw refusal(`${name} is not valid GeoJSON: ${(error as Error).message}`, {
      file: name,
      fix: 'export it again; it may have been cut short',
    });
  }
  const root = data as { type?: string; crs?: { properties?: { name?: string } } };
  const features = featuresOf(root);
  if (!features)
    throw refusal(`${name} is JSON but not GeoJSON`, {
      file: name,
      fix: 'export the features as GeoJSON',
    });
  for (const { geometry } of features)
    if (!isWellFormed(geometry))
      throw refusal(`${name} holds a shape whose coordinates are not lists of numbers`, {
        file: name,
        fix: 'export it again; GeoJSON shapes are points, lines and areas',
      });
  const stated = root.crs?.properties?.name ?? null;
  const code = /EPSG:+(?:[\d.]*:)?(\d+)$/i.exec(stated ?? '')?.[1];
  if (stated && !code && !/CRS84/i.test(stated))
    throw refusal(`${name} is in a coordinate system this program does not know (${stated})`, {
      file: name,
      fix: 'export it in WGS 84 longitude and latitude',
    });
  const crs = code ? crsOfEpsg(Number(code), name) : null;
  const raw = features.map((feature) => ({
    id: feature.id === undefined ? null : String(feature.id),
    geometry: feature.geometry,
    properties: { ...feature.properties },
    layer: null,
  }));
  return toLonLat(raw, crs, name);
}

function featuresOf(root: { type?: string } | null): GeoFeature[] | null {
  if (root === null || typeof root !== 'object') return null;
  if (root.type === 'FeatureCollection') {
    const { features } = root as Partial<FeatureCollection>;
    if (!Array.isArray(features)) return null;
    return features.filter((feature) => feature?.type === 'Feature' && feature.geometry);
  }
  if (root.type === 'Feature') return (root as GeoFeature).geometry ? [root as GeoFeature] : [];
  if ('coordinates' in root || 'geometries' in root)
    return [{ type: 'Feature', geometry: root as unknown as Geometry, properties: {} }];
  return null;
}

/** How deep the coordinates of each type are nested. */
const DEPTH: Record<string, number> = {
  Point: 0,
  MultiPoint: 1,
  LineString: 1,
  MultiLineString: 2,
  Polygon: 2,
  MultiPolygon: 3,
};

function isWellFormed(geometry: Geometry): boolean {
  if (geometry.type === 'GeometryCollection')
    return Array.isArray(geometry.geometries) && geometry.geometries.every(isWellFormed);
  const nested = (value: unknown, depth: number): boolean =>
    Array.isArray(value) &&
    (depth === 0
      ? value.length >= 2 && typeof value[0] === 'number' && typeof value[1] === 'number'
      : value.every((child) => nested(child, depth - 1)));
  const depth = DEPTH[geometry.type];
  return depth !== undefined && nested(geometry.coordinates, depth);
}
