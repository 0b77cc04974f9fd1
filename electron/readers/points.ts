import type { Frame } from '../../core/grid/frame.ts';
import { type Progress, silent } from '../../core/grid/progress.ts';
import { crsDefinition, transform } from './crs.ts';
import { type PointCloud, readRecords } from './las.ts';
import { readPackedRecords } from './laz.ts';
import { refusal } from './refusal.ts';

/** Classes of the ASPRS standard: ground, model key points; what is not a surface at all. */
const GROUND = new Set([2, 8]);
const NOISE = new Set([7, 18]);
const BUILDING = 6;

/** What a point cloud says of a frame's cells, m. */
export interface GriddedCloud {
  /** Mean of the ground points in a cell; NaN where there is none. */
  ground: Float32Array;
  /** Highest first return in a cell that is not a building or noise; NaN where there is none. */
  top: Float32Array;
  groundPoints: number;
}

/**
 * Sorts a point cloud into the cells of a frame.
 * @param metres length of the cloud's unit of height
 * @throws Problem when it holds no ground points, or is damaged
 */
export async function gridCloud(
  cloud: PointCloud,
  frame: Frame,
  metres: number,
  progress: Progress = silent,
): Promise<GriddedCloud> {
  const cells = frame.width * frame.height;
  const ground = new Float32Array(cells).fill(Number.NaN);
  const top = new Float32Array(cells).fill(Number.NaN);
  const counts = new Uint16Array(cells);
  const toFrame = frameTransform(cloud, frame);
  const { format, recordBytes } = cloud;
  const [scaleX, scaleY, scaleZ] = cloud.scale;
  const [offsetX, offsetY, offsetZ] = cloud.offset;
  const late = format >= 6;
  const at = new Float64Array(2);
  let [done, groundPoints, astray] = [0, 0, 0];
  const slackX = (cloud.high[0] - cloud.low[0]) * 0.01 + 1;
  const slackY = (cloud.high[1] - cloud.low[1]) * 0.01 + 1;

  const sort = (records: DataView, count: number): void => {
    for (let i = 0; i < count; i++) {
      const start = i * recordBytes;
      const flags = records.getUint8(start + 14);
      const code = records.getUint8(start + (late ? 16 : 15));
      const kind = late ? code : code & 0x1f;
      const withheld = late ? records.getUint8(start + 15) & 0x04 : code & 0x80;
      if (withheld || NOISE.has(kind)) continue;
      const x = records.getInt32(start, true) * scaleX + offsetX;
      const y = records.getInt32(start + 4, true) * scaleY + offsetY;
      if (
        x < cloud.low[0] - slackX ||
        x > cloud.high[0] + slackX ||
        y < cloud.low[1] - slackY ||
        y > cloud.high[1] + slackY
      ) {
        if (++astray > cloud.count / 100) refuseAstray(cloud.name);
        continue;
      }
      toFrame(x, y, at);
      const column = Math.floor(at[0]!);
      const row = Math.floor(at[1]!);
      const isGround = GROUND.has(kind);
      if (isGround) groundPoints++;
      if (column < 0 || row < 0 || column >= frame.width || row >= frame.height) continue;
      const cell = row * frame.width + column;
      const z = (records.getInt32(start + 8, true) * scaleZ + offsetZ) * metres;
      if (isGround && counts[cell]! < 65_535) {
        const n = ++counts[cell]!;
        ground[cell] = n === 1 ? z : ground[cell]! + (z - ground[cell]!) / n;
      }
      const first = (late ? flags & 0x0f : flags & 0x07) <= 1;
      if (first && kind !== BUILDING && !(top[cell]! >= z)) top[cell] = z;
    }
    done += count;
    progress(done / cloud.count);
  };
  await (cloud.packed ? readPackedRecords(cloud, sort) : readRecords(cloud, sort));

  if (groundPoints === 0)
    throw refusal(`${cloud.name} has no points marked as ground, so its elevation cannot be told`, {
      file: cloud.name,
      fix: 'use the classified version of the point cloud, or its elevation raster',
    });
  return { ground, top, groundPoints };
}

function refuseAstray(name: string): never {
  throw refusal(`${name} is damaged: many of its points lie outside the box its header gives`, {
    file: name,
    fix: 'download it again',
  });
}

/** Frame columns and rows of file coordinates; over a net of exact nodes where the systems differ. */
function frameTransform(cloud: PointCloud, frame: Frame): (x: number, y: number, out: Float64Array) => void {
  const column = (x: number) => (x - frame.west) / frame.cellSize;
  const row = (y: number) => (frame.north - y) / frame.cellSize;
  const target = crsDefinition(frame.epsg);
  if (cloud.crs.proj4 === target)
    return (x, y, out) => {
      out[0] = column(x);
      out[1] = row(y);
    };
  const project = transform(cloud.crs.proj4, target);
  const steps = 64;
  const [west, south] = [cloud.low[0], cloud.low[1]];
  const [width, height] = [cloud.high[0] - west || 1, cloud.high[1] - south || 1];
  const nodes = new Float64Array((steps + 1) * (steps + 1) * 2);
  for (let j = 0, k = 0; j <= steps; j++)
    for (let i = 0; i <= steps; i++, k += 2) {
      const [x, y] = project(west + (width * i) / steps, south + (height * j) / steps);
      nodes[k] = column(x);
      nodes[k + 1] = row(y);
    }
  return (x, y, out) => {
    const u = ((x - west) / width) * steps;
    const v = ((y - south) / height) * steps;
    const i = Math.max(0, Math.min(steps - 1, Math.floor(u)));
    const j = Math.max(0, Math.min(steps - 1, Math.floor(v)));
    const [s, t] = [u - i, v - j];
    const a = (j * (steps + 1) + i) * 2;
    const c = a + (steps + 1) * 2;
    for (let axis = 0; axis < 2; axis++)
      out[axis] =
        (nodes[a + axis]! * (1 - s) + nodes[a + 2 + axis]! * s) * (1 - t) +
        (nodes[c + axis]! * (1 - s) + nodes[c + 2 + axis]! * s) * t;
  };
}
