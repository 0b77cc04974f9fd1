import { type Crs, transform, utmCrs, utmZoneAt, WGS84 } from './crs.ts';

/** x = a + b column + c row, y = d + e column + f row; column 0, row 0 is the outer corner of the first cell. */
export type Affine = [a: number, b: number, c: number, d: number, e: number, f: number];

export type Box = [west: number, south: number, east: number, north: number];

/** Where a source of ground or pictures lies, before anything of it is read. */
export interface Placed {
  name: string;
  crs: Crs;
  affine: Affine;
  width: number;
  height: number;
  /** What its data would take unpacked, as its header claims. */
  claimedBytes: number;
}

/** Side of a cell along columns and along rows, in the source's own unit. */
export function pixelSize({ affine: [, b, c, , e, f] }: Placed): [number, number] {
  return [Math.hypot(b, e), Math.hypot(c, f)];
}

/** Whether the cells are square and not turned. */
export const isPlain = ({ affine }: Placed): boolean => {
  const [, b, c, , e, f] = affine;
  return c === 0 && e === 0 && f < 0 && Math.abs(b + f) < b * 1e-9;
};

/**
 * The raster's own cell side in metres: as it is on a UTM grid; elsewhere measured on the ground in the middle of
 * the file and brought to a round figure (geographic cells by their north-south side).
 */
export function ownCellSize(placed: Placed): number {
  if (placed.crs.utmZone !== null) return Math.max(...pixelSize(placed));
  const { width, height } = placed;
  const [a, b, c, d, e, f] = placed.affine;
  const [longitude, latitude] = centreOf(placed);
  const project = transform(placed.crs.proj4, utmCrs(utmZoneAt(longitude, latitude)).proj4);
  const at = (column: number, row: number) => project(a + b * column + c * row, d + e * column + f * row);
  const [x, y] = at(width / 2, height / 2);
  const across = at(width / 2 + 1, height / 2);
  const down = at(width / 2, height / 2 + 1);
  const [east, south] = [Math.hypot(across[0] - x, across[1] - y), Math.hypot(down[0] - x, down[1] - y)];
  return placed.crs.geographic ? significant(south, 1) : significant(Math.max(east, south), 2);
}

/** To so many significant digits. */
export const significant = (value: number, digits: number): number => Number(value.toPrecision(digits));

/** Middle of a source, degrees. */
export function centreOf(placed: Placed): [number, number] {
  const { width, height } = placed;
  const [a, b, c, d, e, f] = placed.affine;
  return transform(placed.crs.proj4, WGS84)(
    a + (b * width + c * height) / 2,
    d + (e * width + f * height) / 2,
  );
}

/** Box of a raster in another system, from points along its four sides. */
export function footprint(placed: Placed, proj4: string): Box {
  const { width, height } = placed;
  const [a, b, c, d, e, f] = placed.affine;
  const project = transform(placed.crs.proj4, proj4);
  const corner = (u: number, v: number) =>
    project(a + b * u * width + c * v * height, d + e * u * width + f * v * height);
  return boxOfSides(corner);
}

/** Box of a box in another system, from points along its four sides. */
export function boxIn(box: Box, from: string, to: string): Box {
  const project = transform(from, to);
  return boxOfSides((u, v) => project(box[0] + u * (box[2] - box[0]), box[1] + v * (box[3] - box[1])));
}

function boxOfSides(at: (u: number, v: number) => [number, number]): Box {
  const box: Box = [Infinity, Infinity, -Infinity, -Infinity];
  const steps = 20;
  for (let i = 0; i <= steps; i++)
    for (const [u, v] of [
      [i / steps, 0],
      [i / steps, 1],
      [0, i / steps],
      [1, i / steps],
    ] as const) {
      const [x, y] = at(u, v);
      if (!Number.isFinite(x) || !Number.isFinite(y)) continue;
      box[0] = Math.min(box[0], x);
      box[1] = Math.min(box[1], y);
      box[2] = Math.max(box[2], x);
      box[3] = Math.max(box[3], y);
    }
  return box;
}

export const union = (boxes: Box[]): Box => [
  Math.min(...boxes.map((box) => box[0])),
  Math.min(...boxes.map((box) => box[1])),
  Math.max(...boxes.map((box) => box[2])),
  Math.max(...boxes.map((box) => box[3])),
];

export const grow = (box: Box, by: number): Box => [box[0] - by, box[1] - by, box[2] + by, box[3] + by];
