import type { Feature, FeatureCollection, Geometry, Position } from 'geojson';
import type { Artifacts } from '../../core/analysis/artifacts.ts';
import { crsDefinition, type Transform, transform, WGS84 } from '../readers/crs.ts';
import { extentOf } from './bounds.ts';
import { plainTable } from './columns.ts';
import { woundRight } from './rings.ts';
import type { TableName } from './tables.ts';

/** Seven decimals of a degree are about a centimetre, finer than any of the data. */
const DECIMALS = 7;

export interface GeoJsonNote {
  name: string;
  /** Marks a made-up property, wherever its file turns up. */
  invented: boolean;
}

/**
 * A table as an RFC 7946 document: longitude and latitude on WGS 84, rings wound right, a bounding box.
 *
 * @param epsg the frame's CRS
 */
export function geoJsonOf(
  name: TableName,
  artifacts: Partial<Artifacts>,
  epsg: number,
  note: GeoJsonNote,
): FeatureCollection & { name: string; property: GeoJsonNote } {
  const place = placer(epsg);
  const table = plainTable(name, artifacts);
  const features = table.features.map(
    (feature): Feature => ({ ...feature, geometry: woundRight(moved(feature.geometry, place)) }),
  );
  const box = extentOf(features.map(({ geometry }) => geometry));
  return {
    type: 'FeatureCollection',
    name,
    property: note,
    ...(box ? { bbox: box } : {}),
    features,
  };
}

function placer(epsg: number): Transform {
  const toDegrees = transform(crsDefinition(epsg), WGS84);
  return (x, y) => {
    const [longitude, latitude] = toDegrees(x, y);
    return [Number(longitude.toFixed(DECIMALS)), Number(latitude.toFixed(DECIMALS))];
  };
}

function moved(geometry: Geometry, place: Transform): Geometry {
  if (geometry.type === 'GeometryCollection') {
    return { ...geometry, geometries: geometry.geometries.map((part) => moved(part, place)) };
  }
  return { ...geometry, coordinates: movedPositions(geometry.coordinates, place) } as Geometry;
}

type Nested = Position | Nested[];

function movedPositions(nested: Nested, place: Transform): Nested {
  return typeof nested[0] === 'number'
    ? place(nested[0], nested[1] as number)
    : (nested as Nested[]).map((part) => movedPositions(part, place));
}
