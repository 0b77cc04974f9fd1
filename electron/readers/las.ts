import { open } from 'node:fs/promises';
import {
  type Crs,
  crsOfEpsg,
  crsOfWkt,
  type LengthUnit,
  METRES,
  verticalUnitOfEpsg,
  verticalUnitOfWkt,
} from './crs.ts';
import { crsOfGeoKeys, geoKeysOf, verticalUnitOfKeys } from './geokeys.ts';
import type { InputFile } from './inputs.ts';
import type { Affine, Placed } from './placement.ts';
import { refusal } from './refusal.ts';
import { type FileBytes, openBytes } from './source.ts';

/** A LAS or LAZ point cloud opened but not read: what its header says. */
export interface PointCloud extends Placed {
  file: InputFile;
  /** Points the header counts. */
  count: number;
  /** Point data record format 0 to 10. */
  format: number;
  recordBytes: number;
  /** Byte of the first point record, or of the packed block. */
  start: number;
  packed: boolean;
  scale: [number, number, number];
  offset: [number, number, number];
  /** x, y and z as the header bounds them, in the file's units. */
  low: [number, number, number];
  high: [number, number, number];
  verticalUnit: LengthUnit | null;
}

export const isCloud = (name: string): boolean => /\.la[sz]$/i.test(name);

const FIX = 'download it again; a LAS or LAZ file of version 1.0 to 1.4 is needed';
/** Fewest bytes of a record in each format (LAS 1.4 R15, tables 7 to 17). */
const SHORTEST = [20, 28, 26, 34, 57, 63, 30, 36, 38, 59, 67];

/**
 * Reads the header and the coordinate system of a point cloud (ASPRS LAS 1.4 R15, and the versions before it).
 * @param epsg code the person stated, used instead of the file's own
 * @throws Problem naming the file and the fix
 */
export async function openCloud(file: InputFile, epsg: number | null = null): Promise<PointCloud> {
  const { name } = file;
  const bytes = await openBytes(file.path, name);
  try {
    const refuse = (why: string): never => {
      throw refusal(`${name} ${why}`, { file: name, fix: FIX });
    };
    const head = new DataView((await bytes.fetch([{ offset: 0, length: 375 }]))[0]!);
    if (head.byteLength < 227 || head.getUint32(0, false) !== 0x4c415346)
      refuse('is not a LAS or LAZ point cloud');
    const minor = head.getUint8(25);
    const headerBytes = head.getUint16(94, true);
    const start = head.getUint32(96, true);
    const records = head.getUint32(100, true);
    const kind = head.getUint8(104);
    const recordBytes = head.getUint16(105, true);
    const format = kind & 0x3f;
    const three = (at: number, step = 8): [number, number, number] => [
      head.getFloat64(at, true),
      head.getFloat64(at + step, true),
      head.getFloat64(at + 2 * step, true),
    ];
    const count =
      minor >= 4 && head.byteLength >= 255 ? Number(head.getBigUint64(247, true)) : head.getUint32(107, true);
    const high = three(179, 16);
    const low = three(187, 16);
    const scale = three(131);
    const sound =
      head.getUint8(24) === 1 &&
      minor <= 4 &&
      format <= 10 &&
      recordBytes >= SHORTEST[format]! &&
      start >= headerBytes &&
      start <= bytes.size &&
      // Not even points all alike pack to less than a fortieth of a byte.
      count <= bytes.size * 40 &&
      scale.every((value) => value > 0) &&
      [...low, ...high].every(Number.isFinite) &&
      low.every((value, axis) => value <= high[axis]!);
    if (!sound) refuse('has a damaged header');
    if (count === 0) refuse('holds no points');
    const packed = (kind & 0xc0) !== 0;
    if (!packed && start + count * recordBytes > bytes.size)
      refuse('ends before all of its points: it was cut short while downloading or copying');

    const system = await systemOf(bytes, headerBytes, start, records, name, epsg);
    return {
      name,
      file,
      count,
      format,
      recordBytes,
      start,
      packed,
      scale,
      offset: three(155),
      low,
      high,
      ...system,
      ...placed(low, high, count, system.crs),
      claimedBytes: count * recordBytes,
    };
  } finally {
    await bytes.close();
  }
}

interface System {
  crs: Crs;
  verticalUnit: LengthUnit | null;
}

/** Walks the variable length records for the GeoTIFF keys or the well-known text of the coordinate system. */
async function systemOf(
  bytes: FileBytes,
  headerBytes: number,
  start: number,
  records: number,
  name: string,
  epsg: number | null,
): Promise<System> {
  const found = new Map<number, Uint8Array>();
  let at = headerBytes;
  for (let i = 0; i < records && at + 54 <= start; i++) {
    const head = new DataView((await bytes.fetch([{ offset: at, length: 54 }]))[0]!);
    const user = new TextDecoder().decode(new Uint8Array(head.buffer, 2, 16)).replace(/\0.*$/s, '');
    const length = head.getUint16(20, true);
    if (user === 'LASF_Projection' && length > 0)
      found.set(
        head.getUint16(18, true),
        new Uint8Array((await bytes.fetch([{ offset: at + 54, length }]))[0]!),
      );
    at += 54 + length;
  }
  const wkt = found.get(2112);
  if (wkt) {
    const text = new TextDecoder().decode(wkt).replaceAll('\0', '').trim();
    const crs = epsg === null ? crsOfWkt(text, name) : crsOfEpsg(epsg, name);
    return { crs, verticalUnit: verticalUnitOfWkt(text) ?? crs.verticalUnit };
  }
  const directory = found.get(34735);
  const keys = directory ? geoKeysOf(directory, found.get(34736), found.get(34737)) : null;
  const crs = crsOfGeoKeys(keys, name, epsg);
  const stated = keys?.ProjectedCSTypeGeoKey;
  return {
    crs,
    verticalUnit:
      verticalUnitOfKeys(keys) ??
      crs.verticalUnit ??
      (typeof stated === 'number' ? verticalUnitOfEpsg(stated) : null),
  };
}

/** Cells the cloud can fill: 1 m where it holds a point for each, else 2 m or 5 m, on round coordinates. */
function placed(
  low: readonly number[],
  high: readonly number[],
  count: number,
  crs: Crs,
): { affine: Affine; width: number; height: number } {
  const metres = crs.geographic ? 111_195 : metresPerUnit(crs.proj4);
  const area = Math.max(1, (high[0]! - low[0]!) * (high[1]! - low[1]!) * metres * metres);
  const spacing = Math.sqrt(area / count);
  const cell = (spacing <= 1.05 ? 1 : spacing <= 2.1 ? 2 : spacing <= 5 ? 5 : Math.ceil(spacing)) / metres;
  const west = Math.floor(low[0]! / cell) * cell;
  const north = Math.ceil(high[1]! / cell) * cell;
  return {
    affine: [west, cell, 0, north, 0, -cell],
    width: Math.max(1, Math.ceil((high[0]! - west) / cell)),
    height: Math.max(1, Math.ceil((north - low[1]!) / cell)),
  };
}

function metresPerUnit(definition: string): number {
  if (/\+units=us-ft|US survey foot|Foot_US|US_Survey_Foot/i.test(definition))
    return METRES['us-survey-foot'];
  if (/\+units=ft(\s|$)|UNIT\["(international )?(foot|feet)"/i.test(definition)) return METRES.foot;
  return 1;
}

/** Hands out raw point records, a block at a time; see `eachPoint`. */
export type RecordSink = (records: DataView, count: number) => void;

/** Unpacked records of a LAS file in blocks of some megabytes. */
export async function readRecords(cloud: PointCloud, sink: RecordSink): Promise<void> {
  const perBlock = Math.max(1, Math.floor((8 << 20) / cloud.recordBytes));
  const handle = await open(cloud.file.path, 'r');
  try {
    const block = new Uint8Array(perBlock * cloud.recordBytes);
    for (let first = 0; first < cloud.count; first += perBlock) {
      const count = Math.min(perBlock, cloud.count - first);
      await handle.read(block, 0, count * cloud.recordBytes, cloud.start + first * cloud.recordBytes);
      sink(new DataView(block.buffer), count);
    }
  } finally {
    await handle.close();
  }
}
