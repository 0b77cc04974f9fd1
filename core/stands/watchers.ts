import { visitAround } from '../grid/around.ts';
import { distanceTo } from '../grid/distance.ts';
import { cellAt, cellCentre, cellCount, type Grid, type Point } from '../grid/frame.ts';
import { SIGHT } from '../terrain/sight.ts';
import { screenedView } from '../terrain/visibility.ts';
import type { Route, TravelArea } from '../travel/types.ts';
import { along } from './reach.ts';
import { sightWindow } from './sight-window.ts';
import { DEER_EYE } from './spot.ts';
import type { Leaves } from './types.ts';
import type { WalkSurface } from './walk-surface.ts';

/** Deer farther than this do not mind a walker in view, m: our assumption. */
export const MINDS = 250;
const WALKER = 1.7;
/** Spots each area of travel is asked at, and places along the routes, at most: our choice. */
const SPOTS = 8;
const PLACES = 48;
/** Routes are gathered into places of about this size, m. */
const PLACE = 40;
/** Near enough to a route to leave scent on it, m: our assumption. */
const ON_ROUTE = 10;

export type Group = 'bedding' | 'travel' | 'food';

/** A spot deer are at, and which share of its group (its own area, or all travel) it stands for. */
export interface Watcher {
  group: Group;
  /** Area id; 0 for travel. */
  area: number;
  at: Point;
  weight: number;
}

/** Where deer are when somebody walks in, and from where they see the walker; the same for every stand and wind. */
export interface Watchers {
  places: Watcher[];
  /** Of each group, how much it sees of a walker on each cell, 0..1, less with distance. */
  seen: Record<Group, Grid>;
  /** m from the nearest bedding cell. */
  beddingDistance: Grid;
  /** Share of all travel whose drawn routes pass each cell. */
  onTravel: Grid;
}

export function watchersOf(
  surface: WalkSurface,
  areas: Grid<Int32Array>,
  travelAreas: readonly TravelArea[],
  routes: readonly Route[],
  leaves: Leaves,
): Watchers {
  const { frame } = surface;
  const places = [...inAreas(areas, travelAreas), ...onRoutes(routes)];
  const blank = (): Grid => ({ frame, cells: new Float32Array(cellCount(frame)) });
  const seen = { bedding: blank(), travel: blank(), food: blank() };
  for (const { group, at, weight } of places) {
    const window = sightWindow(surface.sight, at, MINDS, leaves);
    const here = cellAt(window.frame, ...at);
    if (here < 0 || Number.isNaN(window.elevation.cells[here]!)) continue;
    const view = screenedView(window.elevation, window.standing, here, {
      observerHeight: DEER_EYE,
      targetHeight: WALKER,
      radius: MINDS,
      refraction: SIGHT.refraction,
    }).cells;
    const left = Math.round((window.frame.west - frame.west) / frame.cellSize);
    const top = Math.round((frame.north - window.frame.north) / frame.cellSize);
    for (let y = 0, i = 0; y < window.frame.height; y++)
      for (let x = 0, to = (top + y) * frame.width + left; x < window.frame.width; x++, i++, to++) {
        if (!(view[i]! > 0)) continue;
        const [cx, cy] = cellCentre(window.frame, i);
        const nearness = Math.max(0, 1 - Math.hypot(cx - at[0], cy - at[1]) / MINDS);
        seen[group].cells[to]! += weight * view[i]! * nearness;
      }
  }
  for (const { cells } of Object.values(seen))
    for (let i = 0; i < cells.length; i++) cells[i] = Math.min(1, cells[i]!);
  return {
    places,
    seen,
    beddingDistance: beddingDistance(surface, areas, travelAreas),
    onTravel: onTravel(surface, routes),
  };
}

export function inAreas(areas: Grid<Int32Array>, travelAreas: readonly TravelArea[]): Watcher[] {
  const cellsOf = new Map<number, number[]>();
  areas.cells.forEach((id, i) => {
    if (id === 0) return;
    const cells = cellsOf.get(id);
    if (cells) cells.push(i);
    else cellsOf.set(id, [i]);
  });
  return travelAreas.flatMap(({ id, kind }): Watcher[] => {
    const cells = cellsOf.get(id) ?? [];
    if ((kind !== 'bedding' && kind !== 'food') || cells.length === 0) return [];
    const count = Math.min(SPOTS, cells.length);
    return Array.from({ length: count }, (_, k) => ({
      group: kind,
      area: id,
      at: cellCentre(areas.frame, cells[Math.floor(((k + 0.5) * cells.length) / count)]!),
      weight: 1 / count,
    }));
  });
}

/** The places most travel passes, by the length of route in them. */
function onRoutes(routes: readonly Route[]): Watcher[] {
  const sums = new Map<string, { x: number; y: number; length: number; weight: number }>();
  for (const { path, share } of routes)
    for (const { at, length } of along(path, PLACE / 4)) {
      const key = `${Math.floor(at[0] / PLACE)} ${Math.floor(at[1] / PLACE)}`;
      const sum = sums.get(key) ?? { x: 0, y: 0, length: 0, weight: 0 };
      sum.x += at[0] * length;
      sum.y += at[1] * length;
      sum.length += length;
      sum.weight += share * length;
      sums.set(key, sum);
    }
  const busiest = [...sums.values()].sort((a, b) => b.weight - a.weight).slice(0, PLACES);
  const total = busiest.reduce((sum, { weight }) => sum + weight, 0);
  return busiest.map(({ x, y, length, weight }) => ({
    group: 'travel',
    area: 0,
    at: [x / length, y / length],
    weight: weight / total,
  }));
}

function beddingDistance(
  { frame }: WalkSurface,
  areas: Grid<Int32Array>,
  travelAreas: readonly TravelArea[],
): Grid {
  const bedding = new Set(travelAreas.filter(({ kind }) => kind === 'bedding').map(({ id }) => id));
  const cells = new Uint8Array(cellCount(frame));
  for (let i = 0; i < cells.length; i++) {
    const from = cellAt(areas.frame, ...cellCentre(frame, i));
    if (from >= 0 && bedding.has(areas.cells[from]!)) cells[i] = 1;
  }
  return distanceTo(frame, cells);
}

function onTravel({ frame }: WalkSurface, routes: readonly Route[]): Grid {
  const cells = new Float32Array(cellCount(frame));
  const total = routes.reduce((sum, { share }) => sum + share, 0);
  const last = new Int32Array(cells.length).fill(-1);
  routes.forEach(({ path, share }, n) => {
    for (const { at } of along(path, frame.cellSize)) {
      const here = cellAt(frame, ...at);
      if (here < 0) continue;
      const [x, y] = [here % frame.width, Math.floor(here / frame.width)];
      visitAround(frame, x, y, ON_ROUTE, (i, u, v) => {
        if (last[i] === n || Math.hypot(u - x, v - y) * frame.cellSize > ON_ROUTE) return;
        last[i] = n;
        cells[i]! += share / total;
      });
    }
  });
  return { frame, cells };
}
