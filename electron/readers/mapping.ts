import type { Frame } from '../../core/grid/frame.ts';
import { crsDefinition, type Transform, transform } from './crs.ts';
import type { Raster } from './raster.ts';

/** Fills the full-resolution pixel coordinates of the cell centres of one frame row. */
export type Mapping = (row: number, xs: Float64Array, ys: Float64Array) => void;

/** Straight lines between exactly transformed nodes may be off by at most this much of a source pixel. */
const TOLERANCE = 0.001;

/**
 * Where the cells of a frame fall in a raster. A projection costs a microsecond a point, so it is computed on a
 * net of nodes and drawn straight between them, the net halved until the middles are right within a thousandth of
 * a source pixel.
 */
export function mapFrame(frame: Frame, raster: Raster): Mapping {
  const toPixel = pixelTransform(raster, transform(crsDefinition(frame.epsg), raster.crs.proj4));
  const centre = (column: number, row: number): [number, number] =>
    toPixel(frame.west + (column + 0.5) * frame.cellSize, frame.north - (row + 0.5) * frame.cellSize);
  if (crsDefinition(frame.epsg) === raster.crs.proj4) return net(frame, centre, 1 << 20);
  let step = 64;
  while (step > 1 && !straight(frame, centre, step)) step /= 2;
  return net(frame, centre, step);
}

function straight(frame: Frame, exact: Transform, step: number): boolean {
  const probes = 12;
  for (let i = 0; i < probes; i++)
    for (let j = 0; j < probes; j++) {
      const column = Math.floor((i / (probes - 1)) * Math.max(0, frame.width - step));
      const row = Math.floor((j / (probes - 1)) * Math.max(0, frame.height - step));
      const a = exact(column, row);
      const b = exact(column + step, row);
      const c = exact(column, row + step);
      const d = exact(column + step, row + step);
      const middle = exact(column + step / 2, row + step / 2);
      for (let axis = 0; axis < 2; axis++) {
        const between = (a[axis]! + b[axis]! + c[axis]! + d[axis]!) / 4;
        if (!(Math.abs(between - middle[axis]!) <= TOLERANCE)) return false;
      }
    }
  return true;
}

function net(frame: Frame, exact: Transform, wanted: number): Mapping {
  const step = Math.min(wanted, Math.max(1, frame.width - 1, frame.height - 1));
  const across = Math.ceil((frame.width - 1) / step) + 1;
  const down = Math.ceil((frame.height - 1) / step) + 1;
  const nodeX = new Float64Array(across * down);
  const nodeY = new Float64Array(across * down);
  for (let j = 0; j < down; j++)
    for (let i = 0; i < across; i++) {
      const [x, y] = exact(i * step, j * step);
      nodeX[j * across + i] = x;
      nodeY[j * across + i] = y;
    }
  return (row, xs, ys) => {
    const j = Math.min(Math.floor(row / step), Math.max(0, down - 2));
    const t = (row - j * step) / step;
    const above = j * across;
    const below = Math.min(j + 1, down - 1) * across;
    for (let i = 0; i < across; i++) {
      const next = Math.min(i + 1, across - 1);
      const x0 = nodeX[above + i]! + (nodeX[below + i]! - nodeX[above + i]!) * t;
      const y0 = nodeY[above + i]! + (nodeY[below + i]! - nodeY[above + i]!) * t;
      const dx = (nodeX[above + next]! + (nodeX[below + next]! - nodeX[above + next]!) * t - x0) / step;
      const dy = (nodeY[above + next]! + (nodeY[below + next]! - nodeY[above + next]!) * t - y0) / step;
      const end = Math.min(frame.width, (i + 1) * step);
      for (let column = i * step; column < end; column++) {
        xs[column] = x0 + dx * (column - i * step);
        ys[column] = y0 + dy * (column - i * step);
      }
    }
  };
}

function pixelTransform(raster: Raster, project: Transform): Transform {
  const [a, b, c, d, e, f] = raster.affine;
  const determinant = b * f - c * e;
  return (x, y) => {
    const [u, v] = project(x, y);
    return [(f * (u - a) - c * (v - d)) / determinant, (b * (v - d) - e * (u - a)) / determinant];
  };
}
