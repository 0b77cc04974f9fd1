import { visitAround } from '../grid/around.ts';
import type { Grid } from '../grid/frame.ts';
import { cellAt, cellCentre, type Point } from '../grid/frame.ts';
import { pathLength, simplifyPath } from '../grid/simplify.ts';
import { footOn } from '../travel/barriers.ts';
import type { Neck, Route, TravelArea } from '../travel/types.ts';
import { along } from './reach.ts';
import type { ApproachWay, WalkTime } from './types.ts';
import { crossingsOf, linesCrossed } from './walk-lines.ts';
import { type Exposure, TIMES } from './walk-price.ts';
import type { WalkSurface } from './walk-surface.ts';
import { moveSeconds, type WalkGround } from './walking.ts';
import type { Group, Watchers } from './watchers.ts';
import { type Measured, NEAR_BEDDING } from './way-faults.ts';

/** A way within this of a neck's middle line walks through it, m. */
const AT_NECK = 10;
/** Routes the walker comes this near count as walked across, m. */
const ACROSS = 10;

/** A second in a vehicle on a road deer know troubles them as much as this of one on foot: our assumption. */
const VEHICLE = 0.5;

/** Everything a way is measured on. */
export interface WayGround {
  surface: WalkSurface;
  watchers: Watchers;
  exposure: Exposure;
  time: WalkTime;
  areas: Grid<Int32Array>;
  travelAreas: readonly TravelArea[];
  routes: readonly Route[];
  necks: readonly Neck[];
}

/**
 * Time, climb and trouble along a way.
 *
 * @param cells of the way in order, those driven first
 * @param driven how many of the moves are driven
 */
export function measureWay(
  ground: WayGround,
  walk: WalkGround,
  drive: WalkGround,
  cells: readonly number[],
  driven: number,
  name: Pick<ApproachWay, 'id' | 'kind' | 'start'>,
  from: Point,
  to: Point,
): Measured {
  const { surface, watchers, exposure, time } = ground;
  const { frame, elevation } = surface;
  const points = [from, ...cells.slice(1, -1).map((cell) => cellCentre(frame, cell)), to];
  const path = simplifyPath(points, frame.cellSize / 2);
  const walked = points.slice(driven);
  const crossings = linesCrossed(walked, surface.lines);
  let seconds = crossings.reduce((sum, crossed) => sum + crossed.seconds, 0);
  let climb = 0;
  let off = 0;
  const spent = { seenByBedding: 0, seenByTravel: 0, scent: 0, noise: 0 };
  const likely = (of: Record<Group, Grid>, cell: number): number => {
    const when = TIMES[time];
    return Math.min(
      1,
      when.bedding * of.bedding.cells[cell]! +
        when.travel * of.travel.cells[cell]! +
        when.food * of.food.cells[cell]!,
    );
  };
  for (let k = 1; k < cells.length; k++) {
    const [a, b] = [cells[k - 1]!, cells[k]!];
    const took = moveSeconds(k <= driven ? drive : walk, a, b);
    seconds += took;
    const minded = k <= driven ? took * VEHICLE : took;
    climb += Math.max(0, elevation.cells[b]! - elevation.cells[a]!);
    spent.seenByBedding += minded * watchers.seen.bedding.cells[b]!;
    spent.seenByTravel += minded * watchers.seen.travel.cells[b]!;
    spent.scent += minded * likely(exposure.scent, b);
    spent.noise += minded * likely(exposure.noise, b);
    if (surface.allowed[b] === 0) {
      const [p, q] = [cellCentre(frame, a), cellCentre(frame, b)];
      off += Math.hypot(p[0] - q[0], p[1] - q[1]);
    }
  }
  const neckShares = necksOn(walked, ground.necks);
  const drivenNecks = driven > 0 ? necksOn(points.slice(0, driven + 1), ground.necks) : [];
  return {
    ...name,
    path,
    length: pathLength(path),
    driven: pathLength(points.slice(0, driven + 1)),
    climb,
    minutes: seconds / 60,
    seenByBedding: spent.seenByBedding / 60,
    seenByTravel: spent.seenByTravel / 60,
    scent: spent.scent / 60,
    noise: spent.noise / 60,
    crossings: crossings.map(({ barrier, opening, at, seconds: took }) => ({
      kind: opening ? opening.type : barrier.kind,
      name: barrier.name ?? `a ${barrier.kind}`,
      at,
      seconds: took,
    })),
    crossesTravel: travelCrossed(walked, ground.routes),
    necks: neckShares.map(({ id }) => id),
    nearBedding: beddingNear(ground, cells.slice(driven)),
    acrossNeighbour: off,
    neckShares,
    drivenNecks,
  };
}

function necksOn(points: readonly Point[], necks: readonly Neck[]): Measured['neckShares'] {
  return necks
    .filter(
      ({ line, at }) =>
        crossingsOf(points, line).length > 0 || (footOn(points, at)?.distance ?? Infinity) <= AT_NECK,
    )
    .map(({ id, rank, share }) => ({ id, rank, share }));
}

/** The points of a way, with others between those of coarse cells, so that it steps over no route. */
const closely = (points: readonly Point[]): Point[] =>
  points.flatMap((point, k) => {
    const before = points[k - 1];
    if (!before || Math.hypot(point[0] - before[0], point[1] - before[1]) <= ACROSS) return [point];
    return [...[...along([before, point], ACROSS)].map(({ at }) => at), point];
  });

/** Share of all travel whose routes a way comes onto. */
function travelCrossed(way: readonly Point[], routes: readonly Route[]): number {
  const points = closely(way);
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  const box = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)] as const;
  let all = 0;
  let met = 0;
  for (const { path, share } of routes) {
    all += share;
    const meets = [...along(path, ACROSS)].some(
      ({ at: [x, y] }) =>
        x >= box[0] - ACROSS &&
        y >= box[1] - ACROSS &&
        x <= box[2] + ACROSS &&
        y <= box[3] + ACROSS &&
        points.some(([px, py]) => Math.hypot(px - x, py - y) <= ACROSS),
    );
    if (meets) met += share;
  }
  return all > 0 ? met / all : 0;
}

/** Bedding a way comes nearer to than deer there bear, the nearest first. */
function beddingNear(
  { surface, watchers, areas, travelAreas }: WayGround,
  cells: readonly number[],
): ApproachWay['nearBedding'] {
  const { frame } = surface;
  const nearest = new Map<number, number>();
  for (const cell of cells) {
    if (!(watchers.beddingDistance.cells[cell]! < NEAR_BEDDING)) continue;
    const at = cellCentre(frame, cell);
    const here = cellAt(areas.frame, ...at);
    if (here < 0) continue;
    const [x, y] = [here % areas.frame.width, Math.floor(here / areas.frame.width)];
    visitAround(areas.frame, x, y, NEAR_BEDDING, (i, u, v) => {
      const id = areas.cells[i]!;
      if (id === 0) return;
      const distance = Math.hypot(u - x, v - y) * areas.frame.cellSize;
      if (distance < Math.min(NEAR_BEDDING, nearest.get(id) ?? Number.POSITIVE_INFINITY))
        nearest.set(id, distance);
    });
  }
  return travelAreas
    .filter(({ id, kind }) => kind === 'bedding' && nearest.has(id))
    .map(({ id, name }) => ({ name, distance: nearest.get(id)! }))
    .sort((a, b) => a.distance - b.distance);
}
