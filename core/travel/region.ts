import { cellAt, cellCentre, type Frame, type Point } from '../grid/frame.ts';
import { edgeFlow, type Flow } from './flow.ts';

/** Cells of a frame, ascending: a patch of ground travel may pass. */
export type Region = Int32Array;

/** A spot and how far around it counts, m. */
export interface Spot {
  at: Point;
  reach: number;
}

/** A spot whose downwind side is to be left alone. */
export interface DownwindSpot extends Spot {
  /** Bearing the wind comes from, degrees clockwise from grid north. */
  windFrom: number;
}

/** Half the angle of the downwind side: scent wanders about as far to either hand. Our assumption, degrees. */
const HALF_ANGLE = 45;

/** Cells whose centres lie within reach of a spot, the spot's own among them. */
export const withinReach = (frame: Frame, spot: Spot): Region => cellsNear(frame, spot, () => true);

/** Cells within reach of a spot on its downwind side. */
export function downwindOf(frame: Frame, { windFrom, ...spot }: DownwindSpot): Region {
  const toward = ((windFrom + 180) * Math.PI) / 180;
  const [east, north] = [Math.sin(toward), Math.cos(toward)];
  const least = Math.cos((HALF_ANGLE * Math.PI) / 180);
  return cellsNear(frame, spot, (dx, dy) => dx * east + dy * north >= least * Math.hypot(dx, dy));
}

export function joinRegions(...regions: Region[]): Region {
  return Int32Array.from(new Set(regions.flatMap((region) => [...region]))).sort();
}

function cellsNear(frame: Frame, { at, reach }: Spot, wanted: (dx: number, dy: number) => boolean): Region {
  const { west, north, cellSize, width, height } = frame;
  const cells = new Set<number>();
  const own = cellAt(frame, ...at);
  if (own >= 0) cells.add(own);
  const first = Math.max(0, Math.floor((north - at[1] - reach) / cellSize));
  const last = Math.min(height - 1, Math.floor((north - at[1] + reach) / cellSize));
  const left = Math.max(0, Math.floor((at[0] - reach - west) / cellSize));
  const right = Math.min(width - 1, Math.floor((at[0] + reach - west) / cellSize));
  for (let row = first; row <= last; row++)
    for (let column = left; column <= right; column++) {
      const cell = row * width + column;
      const [x, y] = cellCentre(frame, cell);
      const [dx, dy] = [x - at[0], y - at[1]];
      if (Math.hypot(dx, dy) <= reach && wanted(dx, dy)) cells.add(cell);
    }
  return Int32Array.from(cells).sort();
}

/**
 * Share of each pair's own travel that passes a region: what comes in over its edge or goes out again, whichever is
 * more, so that travel that starts or ends there counts. Travel that never leaves it does not. 0..1, in the order of
 * the flow's pairs.
 */
export function passing(flow: Flow, region: Region): Float64Array {
  const { width, height } = flow.frame;
  const inside = new Set(region);
  const into = new Float64Array(flow.pairs.length);
  const out = new Float64Array(flow.pairs.length);
  const count = (pair: number, outward: number): void => {
    if (outward > 0) out[pair]! += outward;
    else into[pair]! -= outward;
  };
  for (const cell of region) {
    const column = cell % width;
    const row = (cell - column) / width;
    const east = column + 1 < width && !inside.has(cell + 1);
    const south = row + 1 < height && !inside.has(cell + width);
    const west = column > 0 && !inside.has(cell - 1);
    const north = row > 0 && !inside.has(cell - width);
    if (!(east || south || west || north)) continue;
    for (let p = 0; p < into.length; p++) {
      if (east) count(p, edgeFlow(flow, p, cell, 0));
      if (south) count(p, edgeFlow(flow, p, cell, 2));
      if (west) count(p, -edgeFlow(flow, p, cell - 1, 0));
      if (north) count(p, -edgeFlow(flow, p, cell - width, 2));
    }
  }
  return into.map((value, p) => Math.min(1, Math.max(value, out[p]!)));
}
