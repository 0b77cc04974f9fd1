import type { Geometry, Position } from 'geojson';
import { boundsOf } from '../writers/bounds.ts';

/** Geometries as GeoPackage keeps them: a small header, then well-known binary (OGC 12-128r17 clause 2.1.3). */

const TYPE = {
  Point: 1,
  LineString: 2,
  Polygon: 3,
  MultiPoint: 4,
  MultiLineString: 5,
  MultiPolygon: 6,
  GeometryCollection: 7,
} as const;

const NAMES = Object.fromEntries(Object.entries(TYPE).map(([name, code]) => [code, name])) as Record<
  number,
  keyof typeof TYPE
>;

/** Two dimensions, little-endian, with an envelope for everything but points. */
export function packGeometry(geometry: Geometry, srs: number): Buffer {
  const envelope = geometry.type === 'Point' ? 0 : 32;
  const bytes = Buffer.alloc(8 + envelope + sizeOf(geometry));
  bytes.write('GP', 0, 'latin1');
  const box = boundsOf(geometry);
  const empty = !Number.isFinite(box[0]);
  bytes[3] = 1 | (envelope > 0 ? 2 : 0) | (empty ? 16 : 0);
  bytes.writeInt32LE(srs, 4);
  if (envelope > 0) {
    for (const [slot, value] of [box[0], box[2], box[1], box[3]].entries()) {
      bytes.writeDoubleLE(empty ? Number.NaN : value, 8 + slot * 8);
    }
  }
  put(bytes, 8 + envelope, geometry);
  return bytes;
}

function sizeOf(geometry: Geometry): number {
  switch (geometry.type) {
    case 'Point':
      return 21;
    case 'LineString':
      return 9 + geometry.coordinates.length * 16;
    case 'Polygon':
      return 9 + geometry.coordinates.reduce((sum, ring) => sum + 4 + ring.length * 16, 0);
    default:
      return 9 + partsOf(geometry).reduce((sum, part) => sum + sizeOf(part), 0);
  }
}

function partsOf(geometry: Geometry): Geometry[] {
  switch (geometry.type) {
    case 'MultiPoint':
      return geometry.coordinates.map((coordinates) => ({ type: 'Point', coordinates }));
    case 'MultiLineString':
      return geometry.coordinates.map((coordinates) => ({ type: 'LineString', coordinates }));
    case 'MultiPolygon':
      return geometry.coordinates.map((coordinates) => ({ type: 'Polygon', coordinates }));
    case 'GeometryCollection':
      return geometry.geometries;
    default:
      return [];
  }
}

function put(bytes: Buffer, start: number, geometry: Geometry): number {
  let at = start;
  const count = (value: number): void => {
    at = bytes.writeUInt32LE(value, at);
  };
  const position = ([x, y]: Position): void => {
    at = bytes.writeDoubleLE(x ?? Number.NaN, at);
    at = bytes.writeDoubleLE(y ?? Number.NaN, at);
  };
  bytes[at++] = 1;
  count(TYPE[geometry.type]);
  switch (geometry.type) {
    case 'Point':
      position(geometry.coordinates);
      break;
    case 'LineString':
      count(geometry.coordinates.length);
      for (const corner of geometry.coordinates) position(corner);
      break;
    case 'Polygon':
      count(geometry.coordinates.length);
      for (const ring of geometry.coordinates) {
        count(ring.length);
        for (const corner of ring) position(corner);
      }
      break;
    default: {
      const parts = partsOf(geometry);
      count(parts.length);
      for (const part of parts) at = put(bytes, at, part);
    }
  }
  return at;
}

const ENVELOPE = [0, 32, 48, 48, 64];

/**
 * Reads both byte orders and leaves heights and measures out.
 * @throws Error when the bytes are no GeoPackage geometry
 */
export function unpackGeometry(blob: Uint8Array): Geometry {
  const view = new DataView(blob.buffer, blob.byteOffset, blob.byteLength);
  const envelope = ENVELOPE[(blob[3]! >> 1) & 7];
  if (blob[0] !== 0x47 || blob[1] !== 0x50 || envelope === undefined)
    throw new Error('not a GeoPackage geometry');
  let at = 8 + envelope;

  function read(): Geometry {
    const little = view.getUint8(at) === 1;
    const code = view.getUint32(at + 1, little);
    at += 5;
    // Extended codes put heights at 1000s, measures at 2000s, both at 3000s.
    const extra = code >= 3000 ? 2 : code >= 1000 ? 1 : 0;
    const count = (): number => {
      const value = view.getUint32(at, little);
      at += 4;
      return value;
    };
    const position = (): Position => {
      const pair = [view.getFloat64(at, little), view.getFloat64(at + 8, little)];
      at += 16 + extra * 8;
      return pair;
    };
    const many = <T>(one: () => T): T[] => Array.from({ length: count() }, one);
    const type = NAMES[code % 1000];
    switch (type) {
      case 'Point':
        return { type, coordinates: position() };
      case 'LineString':
        return { type, coordinates: many(position) };
      case 'Polygon':
        return { type, coordinates: many(() => many(position)) };
      case 'GeometryCollection':
        return { type, geometries: many(read) };
      case undefined:
        throw new Error(`geometry type ${code} is not one this program knows`);
      default:
        return {
          type,
          coordinates: many(() => (read() as { coordinates: unknown }).coordinates),
        } as Geometry;
    }
  }
  return read();
}
