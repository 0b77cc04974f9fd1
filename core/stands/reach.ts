import { cellAt, cellCentre, type Grid, type Point } from '../grid/frame.ts';
import { Problem } from '../grid/problem.ts';
import { SIGHT } from '../terrain/sight.ts';
import { screenedView } from '../terrain/visibility.ts';
import type { SightWindow } from './sight-window.ts';
import { CHEST, eyeHeight } from './spot.ts';
import type { Passing, Shot, StandSpot } from './types.ts';

/** Codes of a reach grid: how a deer standing there is had; 0 out of range or no data. */
export const REACH = { ground: 1, screened: 2, glimpsed: 3, clear: 4 } as const;

/** Share of the view of a deer that must be left for it to be in clear view, and to be seen at all: our choice. */
const CLEAR = 0.5;
const GLIMPSED = 0.1;

/** What one stand reaches, cell by cell, on a window of the map. */
export interface ReachGrid {
  spot: StandSpot;
  /** Elevation of the eye, m. */
  eye: number;
  /** REACH codes. */
  codes: Grid<Uint8Array>;
  /** Share of the view left, 0..1; NaN out of range. */
  view: Grid;
  elevation: Grid;
}

/**
 * The shot from an eye to a place: lengths in m, angles in degrees. Planar on the frame's grid, which over shooting
 * distances differs from the geodesic by the scale of the projection alone (0.04% in the middle of a UTM zone).
 *
 * @param eye and @param target elevations, m
 */
export function shotTo(from: Point, eye: number, to: Point, target: number): Shot {
  const [east, north] = [to[0] - from[0], to[1] - from[1]];
  const level = Math.hypot(east, north);
  const drop = eye - target;
  return {
    slant: Math.hypot(level, drop),
    level,
    down: degrees(Math.atan2(drop, level)),
    bearing: (degrees(Math.atan2(east, north)) + 360) % 360,
  };
}

const degrees = (radians: number): number => (radians * 180) / Math.PI;

/**
 * Range and view of a stand for every cell round it: the chest of a standing deer within range on the slant, and what
 * is left of the view of it through brush and timber.
 *
 * @param window reaching at least as far as the range
 * @throws Problem where the ground under the stand is not known
 */
export function reachGrid(window: SightWindow, spot: StandSpot): ReachGrid {
  const { frame, elevation } = window;
  const here = cellAt(frame, ...spot.at);
  const ground = here < 0 ? Number.NaN : elevation.cells[here]!;
  if (Number.isNaN(ground))
    throw new Problem(`There is no ground under ${spot.name}.`, {
      fix: 'Put the stand on ground inside the map.',
    });
  const eye = ground + eyeHeight(spot);
  const left = screenedView(elevation, window.standing, here, {
    observerHeight: eyeHeight(spot),
    targetHeight: CHEST,
    radius: spot.range + frame.cellSize,
    refraction: SIGHT.refraction,
  }).cells;
  const codes = new Uint8Array(left.length);
  const view = new Float32Array(left.length).fill(Number.NaN);
  for (let i = 0; i < left.length; i++) {
    const z = elevation.cells[i]!;
    if (Number.isNaN(z) || shotTo(spot.at, eye, cellCentre(frame, i), z + CHEST).slant > spot.range) continue;
    view[i] = left[i]!;
    codes[i] = codeOf(left[i]!);
  }
  return { spot, eye, codes: { frame, cells: codes }, view: { frame, cells: view }, elevation };
}

function codeOf(left: number): number {
  if (left === 0) return REACH.ground;
  if (left < GLIMPSED) return REACH.screened;
  return left < CLEAR ? REACH.glimpsed : REACH.clear;
}

/** The REACH code at a place; 0 outside. */
export function reachAt({ codes }: ReachGrid, [x, y]: Point): number {
  const i = cellAt(codes.frame, x, y);
  return i < 0 ? 0 : codes.cells[i]!;
}

/** Whether a deer at a place is in range and in clear view. */
export const hasClear = (reach: ReachGrid, at: Point): boolean => reachAt(reach, at) === REACH.clear;

/** The shot at a deer at a place on the grid. */
export function shotAt({ spot, eye, elevation }: ReachGrid, at: Point): Shot {
  const i = cellAt(elevation.frame, ...at);
  return shotTo(spot.at, eye, at, (i < 0 ? Number.NaN : elevation.cells[i]!) + CHEST);
}

/** A line of travel, or a spot of it, to be looked at from a stand. */
export interface Passable {
  kind: Passing['kind'];
  id: string;
  share: number;
  path: readonly Point[];
}

/** Places of a path no farther apart than `step`, each with the length it stands for; a spot stands for none. */
export function* along(path: readonly Point[], step: number): Generator<{ at: Point; length: number }> {
  if (path.length === 1) yield { at: path[0]!, length: 0 };
  for (let k = 1; k < path.length; k++) {
    const [ax, ay] = path[k - 1]!;
    const [bx, by] = path[k]!;
    const length = Math.hypot(bx - ax, by - ay);
    const pieces = Math.max(1, Math.ceil(length / step));
    for (let p = 0; p < pieces; p++) {
      const t = (p + 0.5) / pieces;
      yield { at: [ax + (bx - ax) * t, ay + (by - ay) * t], length: length / pieces };
    }
  }
}

/** How much of each line of travel is in range and in clear view; those out of range are left out. */
export function passingsOf(reach: ReachGrid, lines: readonly Passable[]): Passing[] {
  const step = reach.codes.frame.cellSize / 2;
  return lines.flatMap(({ kind, id, share, path }): Passing[] => {
    let inReach = 0;
    let inView = 0;
    let near: Shot | null = null;
    let clear: Shot | null = null;
    for (const { at, length } of along(path, step)) {
      const code = reachAt(reach, at);
      if (code === 0) continue;
      inReach += length;
      const shot = shotAt(reach, at);
      if (!near || shot.slant < near.slant) near = shot;
      if (code !== REACH.clear) continue;
      inView += length;
      if (!clear || shot.slant < clear.slant) clear = shot;
    }
    return near ? [{ kind, id, share, inReach, inView, seen: clear !== null, nearest: clear ?? near }] : [];
  });
}

/** Share of all travel, by its drawn routes, for which something holds; NaN without routes. */
export function shareOf<R extends { share: number }>(
  routes: readonly R[],
  holds: (route: R) => boolean,
): number {
  let all = 0;
  let those = 0;
  for (const route of routes) {
    all += route.share;
    if (holds(route)) those += route.share;
  }
  return all > 0 ? those / all : Number.NaN;
}
