/** Writes small LAS and LAZ files for the tests, by the ASPRS LAS 1.4 R15 specification. */

interface TestPoint {
  x: number;
  y: number;
  z: number;
  classification: number;
  returnNumber?: number;
  withheld?: boolean;
}

interface Options {
  format?: 0 | 1 | 6;
  /** EPSG of a projected system, written as GeoTIFF keys; or the text of its well-known form. */
  system?: number | string | null;
  verticalUnitCode?: number;
  scale?: number;
}

const RECORD = { 0: 20, 1: 28, 6: 30 };

const record = (user: string, id: number, data: Uint8Array): Uint8Array => {
  const bytes = new Uint8Array(54 + data.length);
  const view = new DataView(bytes.buffer);
  bytes.set(new TextEncoder().encode(user), 2);
  view.setUint16(18, id, true);
  view.setUint16(20, data.length, true);
  bytes.set(data, 54);
  return bytes;
};

function systemRecord({ system = 26916, verticalUnitCode = 9001 }: Options): Uint8Array[] {
  if (system === null) return [];
  if (typeof system === 'string')
    return [record('LASF_Projection', 2112, new TextEncoder().encode(`${system}\0`))];
  const keys = [1, 1, 0, 3, 1024, 0, 1, 1, 3072, 0, 1, system, 4099, 0, 1, verticalUnitCode];
  return [record('LASF_Projection', 34735, new Uint8Array(Uint16Array.from(keys).buffer))];
}

function pointRecord(
  point: TestPoint,
  format: 0 | 1 | 6,
  scale: number,
  origin: readonly number[],
): Uint8Array {
  const bytes = new Uint8Array(RECORD[format]);
  const view = new DataView(bytes.buffer);
  [point.x, point.y, point.z].forEach((value, axis) => {
    view.setInt32(axis * 4, Math.round((value - origin[axis]!) / scale), true);
  });
  const turn = point.returnNumber ?? 1;
  if (format === 6) {
    bytes[14] = turn | (2 << 4);
    bytes[15] = point.withheld ? 0x04 : 0;
    bytes[16] = point.classification;
  } else {
    bytes[14] = turn | (2 << 3);
    bytes[15] = point.classification | (point.withheld ? 0x80 : 0);
  }
  return bytes;
}

function header(points: TestPoint[], options: Options, records: Uint8Array[], packed: boolean): Uint8Array {
  const { format = 1, scale = 0.001 } = options;
  const size = format === 6 ? 375 : 227;
  const bytes = new Uint8Array(size);
  const view = new DataView(bytes.buffer);
  bytes.set(new TextEncoder().encode('LASF'));
  bytes[24] = 1;
  bytes[25] = format === 6 ? 4 : 2;
  view.setUint16(94, size, true);
  view.setUint32(96, size + records.reduce((sum, { length }) => sum + length, 0), true);
  view.setUint32(100, records.length, true);
  bytes[104] = format | (packed ? 0x80 : 0);
  view.setUint16(105, RECORD[format], true);
  view.setUint32(107, points.length, true);
  const axes = ['x', 'y', 'z'] as const;
  axes.forEach((axis, i) => {
    const values = points.map((point) => point[axis]);
    view.setFloat64(131 + 8 * i, scale, true);
    view.setFloat64(155 + 8 * i, Math.floor(values[0]!), true);
    view.setFloat64(179 + 16 * i, Math.max(...values), true);
    view.setFloat64(187 + 16 * i, Math.min(...values), true);
  });
  if (format === 6) view.setBigUint64(247, BigInt(points.length), true);
  return bytes;
}

const joined = (parts: Uint8Array[]): Uint8Array => {
  const out = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const bytes of parts) {
    out.set(bytes, at);
    at += bytes.length;
  }
  return out;
};

const originOf = (points: TestPoint[]) => [points[0]!.x, points[0]!.y, points[0]!.z].map(Math.floor);

export function las(points: TestPoint[], options: Options = {}): Uint8Array {
  const { format = 1, scale = 0.001 } = options;
  const records = systemRecord(options);
  const origin = originOf(points);
  return joined([
    header(points, options, records, false),
    ...records,
    ...points.map((point) => pointRecord(point, format, scale, origin)),
  ]);
}

/**
 * A LAZ file in chunks of one point: the first point of a chunk is stored as it is. In format 0 the four bytes that
 * start the (here unused) arithmetic decoder follow, in format 6 the count of points and the sizes of nine empty
 * layers. Sizes in the chunk table are not coded: readers that go through a file in order do not look at them.
 */
export function laz(
  points: TestPoint[],
  options: Omit<Options, 'format'> & { format?: 0 | 6 } = {},
): Uint8Array {
  const { format = 0, scale = 0.001 } = options;
  const settings = { ...options, format };
  const zip = new Uint8Array(34 + 6);
  const view = new DataView(zip.buffer);
  view.setUint16(0, format === 0 ? 2 : 3, true); // pointwise chunked, or layered chunked
  view.setUint8(4, 2);
  view.setUint8(5, 2);
  view.setUint32(12, 1, true); // points in a chunk
  view.setBigInt64(16, -1n, true);
  view.setBigInt64(24, -1n, true);
  view.setUint16(32, 1, true); // one item: the point itself
  view.setUint16(34, format === 0 ? 6 : 10, true);
  view.setUint16(36, RECORD[format], true);
  view.setUint16(38, format === 0 ? 2 : 3, true);
  const records = [...systemRecord(settings), record('laszip encoded', 22204, zip)];
  const head = header(points, settings, records, true);
  const start = new DataView(head.buffer).getUint32(96, true);
  const after = new Uint8Array(format === 0 ? 4 : 4 + 9 * 4);
  if (format === 6) after[0] = 1;
  const origin = originOf(points);
  const data = joined(points.flatMap((point) => [pointRecord(point, format, scale, origin), after]));
  const offset = new Uint8Array(8);
  new DataView(offset.buffer).setBigInt64(0, BigInt(start + 8 + data.length), true);
  const table = new Uint8Array(8 + points.length * 8 + 64);
  new DataView(table.buffer).setUint32(4, points.length, true);
  return joined([head, ...records, offset, data, table]);
}
