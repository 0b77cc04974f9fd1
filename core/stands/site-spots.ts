import { COVER } from '../cover/types.ts';
import { cellsAlong, cellsInside } from '../features/cells.ts';
import { type Feature, ofKind } from '../features/feature.ts';
import { cellAt, cellCount, type Frame, type Grid, type Point } from '../grid/frame.ts';
import { boundaryRings, isInside } from '../travel/owner.ts';
import { TREE_SEAT } from './spot.ts';

/** What may be sat in. */
export const SEATS = ['any', 'tree', 'tower', 'ground'] as const;
export type Seat = (typeof SEATS)[number];

/** A spot that may be looked at. */
export interface SiteSpot {
  at: Point;
  seat: Exclude<Seat, 'any'>;
}

/** Spots of the property lie this far apart, and round necks and junctions so far, m: our choice. */
const EVERY = 20;
const EVERY_NEAR = 10;
/** How far round a neck or junction spots lie closer, m. */
const NEAR = 60;
/** Nobody sits on a road or rails, or this near to a building, m: our assumption. */
const ROAD = 6;
const HOUSE = 30;

/** Cells nobody can sit on: water, buildings, roads and rails. 1 where so. */
export function sitsNowhere(cover: Grid<Uint8Array>, features: readonly Feature[]): Uint8Array {
  const { frame } = cover;
  const out = new Uint8Array(cellCount(frame));
  cover.cells.forEach((code, i) => {
    if (code === COVER.water || code === COVER.built) out[i] = 1;
  });
  const close = (i: number): void => {
    out[i] = 1;
  };
  for (const { geometry } of ofKind(features, 'road', 'railroad')) cellsAlong(frame, geometry, ROAD, close);
  for (const { geometry } of ofKind(features, 'building')) {
    cellsInside(frame, geometry, close);
    cellsAlong(frame, geometry, HOUSE, close);
  }
  return out;
}

/** Height of each seat, m: our assumption. */
export const SEAT_HEIGHTS: Record<SiteSpot['seat'], number> = { tree: TREE_SEAT, tower: 3.5, ground: 0.5 };

/** What can be sat in as it is asked for: of any, a tree where timber stands and else a tower; null where it cannot be. */
export function seatAt(code: number, wanted: Seat): SiteSpot['seat'] | null {
  // Where cover is not known a tree may stand; that is said of the site.
  const tree = code === COVER.deciduous || code === COVER.evergreen || code === 0;
  if (wanted === 'any') return tree ? 'tree' : 'tower';
  return wanted === 'tree' && !tree ? null : wanted;
}

/**
 * Spots to look at on the client's own ground, those round necks and junctions first and closer together. Without a
 * boundary all of the map is looked at.
 *
 * @param landmarks necks and junctions, the best first
 * @param within only spots this near to a place, m; everywhere when null
 */
export function siteSpots(
  cover: Grid<Uint8Array>,
  features: readonly Feature[],
  landmarks: readonly Point[],
  wanted: Seat,
  within: { at: Point; reach: number } | null = null,
): SiteSpot[] {
  const { frame } = cover;
  const rings = boundaryRings(features);
  const closed = sitsNowhere(cover, features);
  const found = new Map<number, SiteSpot>();
  const add = (at: Point): void => {
    const cell = cellAt(frame, ...at);
    if (cell < 0 || closed[cell] === 1 || found.has(cell)) return;
    if (within && Math.hypot(at[0] - within.at[0], at[1] - within.at[1]) > within.reach) return;
    if (rings.length > 0 && !isInside(rings, at)) return;
    const seat = seatAt(cover.cells[cell]!, wanted);
    if (seat) found.set(cell, { at, seat });
  };
  const step = Math.max(EVERY, frame.cellSize);
  const fine = Math.max(EVERY_NEAR, frame.cellSize);
  for (const [x, y] of landmarks)
    for (const at of lattice(frame, fine, [x - NEAR, x + NEAR], [y - NEAR, y + NEAR]))
      if (Math.hypot(at[0] - x, at[1] - y) <= NEAR) add(at);
  const { west, north, width, height, cellSize } = frame;
  const east = west + width * cellSize;
  const south = north - height * cellSize;
  for (const at of lattice(frame, step, [west, east], [south, north])) add(at);
  return [...found.values()];
}

/** Middles of the cells of a lattice that lines up with the frame's corner. */
function* lattice(
  { west, north }: Frame,
  step: number,
  [x0, x1]: [number, number],
  [y0, y1]: [number, number],
): Generator<Point> {
  const first = Math.ceil((north - y1) / step - 0.5);
  const left = Math.ceil((x0 - west) / step - 0.5);
  for (let y = north - (first + 0.5) * step; y >= y0; y -= step)
    for (let x = west + (left + 0.5) * step; x <= x1; x += step) yield [x, y];
}
