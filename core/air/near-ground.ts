import { cellAt, type Frame, type Grid, type Point } from '../grid/frame.ts';
import { SWEPT_ABOVE, valleyFroude } from './decoupling.ts';
import { leftByWind, lossUnderCloud } from './heat.ts';
import type { WindField } from './particles.ts';

/** What cold and warm ground does to the air at one hour of a day under light wind. */
export interface LayerAt {
  frame: Frame;
  /** m. */
  depth: Float32Array;
  /** K. */
  deficit: Float32Array;
  /** m/s. */
  east: Float32Array;
  south: Float32Array;
  /** Wind up the warm slopes, m/s; none where left out. */
  upEast?: Float32Array;
  upSouth?: Float32Array;
  /** Wind the layer was reckoned under, m/s, and the share of the sky covered, 0 where left out. */
  wind: number;
  cloud?: number;
}

/** The air near the ground round a spot. */
export interface NearGround {
  /** Its `eddies` are 1 where wind that eddies is not kept off by the cold layer: there the way is not known. */
  field: WindField & { eddies: Uint8Array };
  /** Deficit of the cold layer, K, as the wind leaves it. */
  deficit: Float32Array;
  /** Share of the cold layer's own flow in each cell, 1 where it holds and 0 where wind has swept it out. */
  held: Float32Array;
}

/** A square frame round a spot, on cells of the property or 5 m, whichever is larger. */
export function windowRound(frame: Frame, at: Point, reach: number): Frame {
  const cellSize = Math.max(5, frame.cellSize);
  const side = 2 * Math.ceil(reach / cellSize);
  return {
    ...frame,
    cellSize,
    width: side,
    height: side,
    west: at[0] - (side / 2) * cellSize,
    north: at[1] + (side / 2) * cellSize,
  };
}

/**
 * Wind and cold layer together, as scent near the ground feels them. Where the layer is cold and deep enough for the
 * wind over it (F = U / sqrt(g' depth) below 1.3, Bell & Thompson 1980) it keeps its own flow; above that the wind
 * takes over, by the square of how far it is beyond. A stronger wind than the layer was reckoned under leaves less
 * loss to drive it: by the bulk balance its speed falls with the cube root of the loss and its deficit with the
 * square of that, and so does cloud. The wind up the warm slopes is added where the cold layer does not hold, as far
 * as the wind leaves it.
 *
 * @param local the local wind near the ground for 1 m/s at the station, or null in a calm
 * @param speed at the station, m/s
 * @param layer or null where neither drainage nor slope wind is reckoned with
 * @param cloud share of the sky covered
 */
export function nearGround(
  frame: Frame,
  local: WindField | null,
  speed: number,
  layer: LayerAt | null,
  cloud = 0,
): NearGround {
  const count = frame.width * frame.height;
  const east = new Float32Array(count);
  const south = new Float32Array(count);
  const deficit = new Float32Array(count);
  const held = new Float32Array(count);
  const eddies = new Uint8Array(count);
  const left = (wind: number, covered: number) => leftByWind(wind) * lossUnderCloud(covered);
  const weaker = layer
    ? Math.cbrt(left(speed, cloud) / Math.max(1e-6, left(layer.wind, layer.cloud ?? 0)))
    : 0;
  const climbing = layer?.upEast && layer.upSouth ? leftByWind(speed) : 0;
  const take = sampler(frame);
  const blow = local ? take(local.frame) : null;
  const slide = layer ? take(layer.frame) : null;
  for (let y = 0, i = 0; y < frame.height; y++)
    for (let x = 0; x < frame.width; x++, i++) {
      let u = 0;
      let v = 0;
      if (local && blow) {
        blow.at(x, y);
        u = speed * blow.of(local.east);
        v = speed * blow.of(local.south);
      }
      let keep = 0;
      if (layer && slide && weaker > 0) {
        slide.at(x, y);
        deficit[i] = slide.of(layer.deficit) * weaker * weaker;
        const froude = valleyFroude(Math.hypot(u, v), deficit[i]!, slide.of(layer.depth));
        keep = Number.isNaN(froude) ? 0 : froude <= SWEPT_ABOVE ? 1 : (SWEPT_ABOVE / froude) ** 2;
        if (climbing > 0) {
          u += climbing * slide.of(layer.upEast!);
          v += climbing * slide.of(layer.upSouth!);
        }
        u = (1 - keep) * u + keep * weaker * slide.of(layer.east);
        v = (1 - keep) * v + keep * weaker * slide.of(layer.south);
      }
      east[i] = u;
      south[i] = v;
      held[i] = keep;
      if (blow && local?.eddies && keep < 0.5) eddies[i] = local.eddies[blow.nearest()]!;
    }
  return { field: { frame, east, south, eddies }, deficit, held };
}

/**
 * Stills the air in pools that the wind over them does not sweep out. Pools of a road fill or a small hollow are
 * finer than the cells the layer runs on, so they are laid over it here.
 *
 * @param poolDepth m, on the property's frame
 */
export function stillPools({ field, deficit }: NearGround, poolDepth: Grid): void {
  const { frame, east, south } = field;
  for (let y = 0, i = 0; y < frame.height; y++)
    for (let x = 0; x < frame.width; x++, i++) {
      const j = cellAt(
        poolDepth.frame,
        frame.west + (x + 0.5) * frame.cellSize,
        frame.north - (y + 0.5) * frame.cellSize,
      );
      const depth = j < 0 ? 0 : poolDepth.cells[j]!;
      if (!(depth > 0)) continue;
      if (valleyFroude(Math.hypot(east[i]!, south[i]!), deficit[i]!, depth) > SWEPT_ABOVE) continue;
      east[i] = 0;
      south[i] = 0;
    }
}

/** Bilinear reading of grids of another frame at this frame's cell centres; outside, the nearest cell. */
function sampler(frame: Frame) {
  return (other: Frame) => {
    let i = 0;
    let right = 0;
    let down = 0;
    let fx = 0;
    let fy = 0;
    return {
      at(x: number, y: number): void {
        const px = (frame.west + (x + 0.5) * frame.cellSize - other.west) / other.cellSize - 0.5;
        const py = (other.north - frame.north + (y + 0.5) * frame.cellSize) / other.cellSize - 0.5;
        const cx = Math.min(Math.max(px, 0), other.width - 1);
        const cy = Math.min(Math.max(py, 0), other.height - 1);
        const column = Math.min(Math.floor(cx), Math.max(0, other.width - 2));
        const row = Math.min(Math.floor(cy), Math.max(0, other.height - 2));
        i = row * other.width + column;
        right = other.width > 1 ? 1 : 0;
        down = other.height > 1 ? other.width : 0;
        fx = cx - column;
        fy = cy - row;
      },
      nearest: (): number => i + (fx < 0.5 ? 0 : right) + (fy < 0.5 ? 0 : down),
      of(cells: Float32Array): number {
        return (
          (cells[i]! * (1 - fx) + cells[i + right]! * fx) * (1 - fy) +
          (cells[i + down]! * (1 - fx) + cells[i + down + right]! * fx) * fy
        );
      },
    };
  };
}
