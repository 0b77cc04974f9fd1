import { formatArea, formatLength, formatShare, type Units } from '../features/units.ts';
import { cellAt, type Point } from '../grid/frame.ts';
import { along, hasClear, type Passable, REACH, type ReachGrid, reachAt } from './reach.ts';
import type { SightWindow } from './sight-window.ts';
import { CHEST } from './spot.ts';
import type { Direction, Lane } from './types.ts';

/** Degrees of a direction, and between the lines looked along in it. */
const WIDTH = 10;
const BETWEEN = 2;
const BEARINGS = 360 / BETWEEN;

const MOST_LANES = 4;
/** Less travel than this share of all is not worth a lane: our choice. */
const LEAST_GAIN = 0.003;

const heading = (bearing: number): Point => [
  Math.sin((bearing * Math.PI) / 180),
  Math.cos((bearing * Math.PI) / 180),
];

/** In each of 36 directions the longest line along which a deer is in clear view without a break, and what ends it. */
export function clearDirections(reach: ReachGrid): Direction[] {
  const { spot, codes } = reach;
  const step = codes.frame.cellSize / 2;
  const directions: Direction[] = [];
  for (let from = 0; from < 360; from += WIDTH) {
    let best: Direction = { bearing: from + WIDTH / 2, clear: -1, ends: 'unknown' };
    for (let bearing = from; bearing < from + WIDTH; bearing += BETWEEN) {
      const [east, north] = heading(bearing);
      let clear = 0;
      let ends: Direction['ends'] = 'range';
      for (let d = step; d <= spot.range; d += step) {
        const at: Point = [spot.at[0] + east * d, spot.at[1] + north * d];
        const code = reachAt(reach, at);
        if (code !== REACH.clear) {
          ends = endOf(reach, at, code);
          break;
        }
        clear = d;
      }
      if (clear > best.clear) best = { ...best, clear, ends };
    }
    directions.push(best);
  }
  return directions;
}

function endOf({ elevation }: ReachGrid, at: Point, code: number): Direction['ends'] {
  if (code === REACH.ground) return 'ground';
  if (code !== 0) return 'cover';
  const i = cellAt(elevation.frame, ...at);
  return i < 0 || Number.isNaN(elevation.cells[i]!) ? 'unknown' : 'range';
}

/** Where one drawn route that is not in view meets each line from the stand, m; Infinity where it does not. */
interface Hidden {
  share: number;
  meets: Float64Array;
}

/**
 * Shooting lanes that would have to be cut, the most travel brought into view for the ground cleared first: straight
 * strips from the stand to where drawn routes in range cross, which brush or timber hides and the ground does not.
 * A lane opens a route only where the two cross: a deer is in view for about the width of the lane.
 */
export function lanesToCut(
  reach: ReachGrid,
  window: SightWindow,
  routes: readonly Passable[],
  width: number,
  units: Units,
): Lane[] {
  const total = routes.reduce((sum, { share }) => sum + share, 0);
  let hidden = routes.flatMap((route) => hiddenRoute(reach, route));
  const cuts = Array.from({ length: BEARINGS }, (_, k) => cutAlong(reach, window, k * BETWEEN));
  const lanes: Lane[] = [];
  while (lanes.length < MOST_LANES && hidden.length > 0) {
    let best: { k: number; length: number; gains: number; cut: number; worth: number } | null = null;
    for (let k = 0; k < BEARINGS; k++) {
      const crossed = hidden
        .filter(({ meets }) => meets[k]! < Number.POSITIVE_INFINITY)
        .sort((a, b) => a.meets[k]! - b.meets[k]!);
      let gains = 0;
      for (const { share, meets } of crossed) {
        gains += share / total;
        const length = meets[k]!;
        const cut = cuts[k]!(length);
        // A strip of its own width is cut at least, however little stands in it.
        const worth = gains / Math.max(cut * width, width * width);
        if (gains >= LEAST_GAIN && (!best || worth > best.worth)) best = { k, length, gains, cut, worth };
      }
    }
    if (!best) break;
    const { k, length, gains, cut } = best;
    const bearing = k * BETWEEN;
    const [east, north] = heading(bearing);
    const [x, y] = reach.spot.at;
    lanes.push({
      id: `${reach.spot.id}-lane-${lanes.length + 1}`,
      bearing,
      path: [
        [x, y],
        [x + east * length, y + north * length],
      ],
      length,
      width,
      cut,
      area: cut * width,
      gains,
      sentence: `A lane ${formatLength(width, units, 'height')} wide for ${formatLength(length, units)} at ${bearing}° from grid north, ${formatLength(cut, units)} of it through cover (${formatArea(cut * width, units)}), brings ${formatShare(gains)} of all travel into view.`,
    });
    hidden = hidden.filter(({ meets }) => !(meets[k]! <= length));
  }
  return lanes;
}

/** A route in range that no place of is in clear view, and the lines from the stand it meets where cover alone hides it. */
function hiddenRoute(reach: ReachGrid, { share, path }: Passable): Hidden[] {
  const meets = new Float64Array(BEARINGS).fill(Number.POSITIVE_INFINITY);
  let found = false;
  let before: { bearing: number; distance: number } | null = null;
  for (const { at } of along(path, reach.codes.frame.cellSize / 2)) {
    if (hasClear(reach, at)) return [];
    const code = reachAt(reach, at);
    if (code === 0 || code === REACH.ground) {
      before = null;
      continue;
    }
    found = true;
    const [east, north] = [at[0] - reach.spot.at[0], at[1] - reach.spot.at[1]];
    const here = { bearing: (Math.atan2(east, north) * 180) / Math.PI, distance: Math.hypot(east, north) };
    for (const k of linesBetween(before?.bearing ?? here.bearing, here.bearing))
      meets[k] = Math.min(meets[k]!, here.distance);
    before = here;
  }
  return found ? [{ share, meets }] : [];
}

/** The lines from the stand swept by turning from one bearing to the next the short way round. */
function linesBetween(from: number, to: number): number[] {
  const turn = ((to - from + 540) % 360) - 180;
  const [low, high] = turn >= 0 ? [from, from + turn] : [from + turn, from];
  const lines: number[] = [];
  for (let k = Math.round(low / BETWEEN); k <= Math.round(high / BETWEEN); k++)
    lines.push(((k % BEARINGS) + BEARINGS) % BEARINGS);
  return lines;
}

/** Metres of a line from the stand to a deer at a distance that run below the top of what stands there. */
function cutAlong(
  { spot, eye }: ReachGrid,
  { elevation, standing }: SightWindow,
  bearing: number,
): (length: number) => number {
  const { frame, cells } = elevation;
  const step = frame.cellSize / 2;
  const [east, north] = heading(bearing);
  return (length) => {
    const cellAlong = (d: number): number => cellAt(frame, spot.at[0] + east * d, spot.at[1] + north * d);
    const target = cells[cellAlong(length)]! + CHEST;
    let cut = 0;
    for (let d = step / 2; d < length; d += step) {
      const i = cellAlong(d);
      const line = eye + ((target - eye) * d) / length;
      if (i >= 0 && standing.loss.cells[i]! > 0 && line - cells[i]! < standing.height.cells[i]!) cut += step;
    }
    return cut;
  };
}
