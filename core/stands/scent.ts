import { creekHolds, type Holding } from '../air/creek.ts';
import type { NearGround } from '../air/near-ground.ts';
import { openWidths, releaseScent, type Scent } from '../air/particles.ts';
import type { StabilityClass } from '../air/plume.ts';
import { type Feature, ofKind } from '../features/feature.ts';
import { pathsOf } from '../features/shapes.ts';
import { formatLength, formatShare, type Units } from '../features/units.ts';
import { cellAt, type Frame, type Grid, type Point } from '../grid/frame.ts';
import type { ChannelStation } from '../terrain/types.ts';
import { footOn } from '../travel/barriers.ts';
import type { Route, TravelArea } from '../travel/types.ts';
import type { Subject } from './subjects.ts';

/** Deer take note above this much scent, s/m3 of what a hunter gives off a second, with its band: our assumption. */
export const NOSE_THRESHOLD = { usual: 3e-4, low: 1e-4, high: 1e-3 };
/** Scent is followed this long, s, and this far, m. */
const FOLLOWED = 900;
export const REACH = 800;
const PARTICLES = 4000;
const STEP = 2;
/** Seat height where none is known, m: our assumption. */
const SEAT = 5;
/** A drawn creek speaks for channels this near, m. */
const CREEK_NEAR = 15;
/** Air slower than this at the stand carries scent nowhere, m/s: our assumption. */
const HANGS = 0.15;
/** Scent below this counts, m: the height dose is taken under. */
const BELOW = 2;

/** What scent can meet, and where. */
export interface ScentGround {
  areas: Grid<Int32Array>;
  travelAreas: readonly TravelArea[];
  routes: readonly Route[];
  channels: readonly ChannelStation[];
  features: readonly Feature[];
}

export interface ScentFinding {
  /** Grid of scent near the ground: s/m3 of what is given off a second. */
  dilution: Grid;
  /** Mean time since release, s; NaN where none came. */
  age: Grid;
  /** The air hardly moves: scent stays round the stand. */
  hangs: boolean;
  /** How far it goes over the threshold, m, and for the band's other ends. */
  carry: { usual: number; low: number; high: number };
  /** Bearing from the stand to where most of it goes, degrees from grid north. */
  bearing: number;
  /** Share of travel whose route runs through scent over the threshold, and for the band. */
  travel: { usual: number; low: number; high: number };
  bedding: string[];
  /** Length of creek it runs along between banks that hold it, and what ends that; null where it meets no channel. */
  creek: { held: number; touched: number; ends: Holding | null; spill: Point | null } | null;
  verdict: string;
}

/**
 * Releases scent at a stand into the air near the ground and reads off what it meets.
 *
 * @param air on a window round the stand
 * @param kind Pasquill class; drainage spreads as F
 */
export function scentOf(
  subject: Subject,
  air: NearGround,
  kind: StabilityClass | 'calm drainage',
  ground: ScentGround,
  units: Units,
  seed: number,
): ScentFinding {
  const { frame } = air.field;
  const { dilution, age } = thinning(subject, air, kind, seed);
  const carry = by((threshold) => farthest(dilution, subject.at, threshold));
  const travel = by((threshold) => travelThrough(dilution, ground.routes, threshold));
  const bedding = beddingIn(dilution, ground);
  const bearing = mainBearing(dilution, subject.at);
  const hangs = airHangs(air, subject.at);
  const creek = alongChannels(dilution, air, ground, units);
  return {
    dilution,
    age: { frame, cells: age },
    hangs,
    carry,
    bearing,
    travel,
    bedding,
    creek,
    verdict: words(hangs, carry, bearing, travel, bedding, creek, units),
  };
}

/**
 * Scent near the ground in s/m3 of what is given off a second, and its mean age.
 *
 * @param air on a window round the stand
 * @param particles fewer for a first look: its grain is 2 s over the particles and the volume of a cell
 */
export function thinning(
  subject: Subject,
  { field }: NearGround,
  kind: StabilityClass | 'calm drainage',
  seed: number,
  particles = PARTICLES,
): { dilution: Grid; age: Float32Array } {
  const { frame } = field;
  const scent: Scent = releaseScent(field, {
    from: subject.at,
    height: subject.seatHeight ?? SEAT,
    particles,
    seconds: FOLLOWED,
    step: STEP,
    seed,
    width: openWidths(kind === 'calm drainage' ? 'F' : kind),
  });
  const cellVolume = frame.cellSize ** 2 * BELOW;
  return { dilution: { frame, cells: scent.dose.map((dose) => dose / cellVolume) }, age: scent.age };
}

const by = (measure: (threshold: number) => number) => ({
  usual: measure(NOSE_THRESHOLD.usual),
  // A keen nose takes note of less.
  low: measure(NOSE_THRESHOLD.high),
  high: measure(NOSE_THRESHOLD.low),
});

/** The farthest cell over the threshold, but for one in fifty that chance throws out. */
function farthest({ frame, cells }: Grid, [x0, y0]: Point, threshold: number): number {
  const distances: number[] = [];
  for (let i = 0; i < cells.length; i++) {
    if (cells[i]! < threshold) continue;
    const x = frame.west + ((i % frame.width) + 0.5) * frame.cellSize;
    const y = frame.north - (Math.floor(i / frame.width) + 0.5) * frame.cellSize;
    distances.push(Math.hypot(x - x0, y - y0));
  }
  distances.sort((a, b) => a - b);
  return distances.length === 0 ? 0 : distances[Math.floor(0.98 * (distances.length - 1))]!;
}

function mainBearing({ frame, cells }: Grid, [x0, y0]: Point): number {
  let east = 0;
  let north = 0;
  for (let i = 0; i < cells.length; i++) {
    if (cells[i] === 0) continue;
    east += cells[i]! * (frame.west + ((i % frame.width) + 0.5) * frame.cellSize - x0);
    north += cells[i]! * (frame.north - (Math.floor(i / frame.width) + 0.5) * frame.cellSize - y0);
  }
  return ((Math.atan2(east, north) * 180) / Math.PI + 360) % 360;
}

function travelThrough({ frame, cells }: Grid, routes: readonly Route[], threshold: number): number {
  let all = 0;
  let met = 0;
  for (const { path, share } of routes) {
    all += share;
    if (meets(frame, path, (i) => cells[i]! >= threshold)) met += share;
  }
  return all > 0 ? met / all : 0;
}

/** Whether any cell along a path fits, at half-cell steps. */
function meets(frame: Frame, path: readonly Point[], fits: (cell: number) => boolean): boolean {
  for (let k = 1; k < path.length; k++) {
    const [ax, ay] = path[k - 1]!;
    const [bx, by] = path[k]!;
    const pieces = Math.max(1, Math.ceil((2 * Math.hypot(bx - ax, by - ay)) / frame.cellSize));
    for (let p = 0; p <= pieces; p++) {
      const i = cellAt(frame, ax + ((bx - ax) * p) / pieces, ay + ((by - ay) * p) / pieces);
      if (i >= 0 && fits(i)) return true;
    }
  }
  return false;
}

/** Bedding that scent over a threshold lies on. */
export function beddingIn(
  { frame, cells }: Grid,
  { areas, travelAreas }: Pick<ScentGround, 'areas' | 'travelAreas'>,
  threshold = NOSE_THRESHOLD.usual,
): string[] {
  const found = new Set<number>();
  for (let i = 0; i < cells.length; i++) {
    if (cells[i]! < threshold) continue;
    const x = frame.west + ((i % frame.width) + 0.5) * frame.cellSize;
    const y = frame.north - (Math.floor(i / frame.width) + 0.5) * frame.cellSize;
    const j = cellAt(areas.frame, x, y);
    if (j >= 0 && areas.cells[j] !== 0) found.add(areas.cells[j]!);
  }
  return travelAreas.filter(({ id, kind }) => kind === 'bedding' && found.has(id)).map(({ name }) => name);
}

/**
 * Stations of channel in the scent, judged one by one for the wind across them there, along the line that most of it
 * follows. A draw whose depth is not known is no creek unless one is drawn there.
 */
function alongChannels(
  { frame, cells }: Grid,
  air: NearGround,
  { channels, features }: ScentGround,
  units: Units,
): ScentFinding['creek'] {
  const creeks = ofKind(features, 'creek').flatMap(({ geometry }) => pathsOf(geometry));
  const lines = new Map<string, NonNullable<ScentFinding['creek']>>();
  channels.forEach((station, k) => {
    const i = cellAt(frame, station.at[0], station.at[1]);
    if (i < 0 || cells[i]! < NOSE_THRESHOLD.usual) return;
    const depth =
      station.left === null || station.right === null ? null : Math.min(station.left, station.right);
    const known = depth !== null && station.width !== null;
    if (!known && !creeks.some((path) => (footOn(path, station.at)?.distance ?? Infinity) < CREEK_NEAR))
      return;
    const next = [channels[k + 1], channels[k - 1]].find((other) => other?.line === station.line);
    const heading = next ? Math.atan2(next.at[0] - station.at[0], station.at[1] - next.at[1]) : 0;
    // Of the wind's east and south parts, what blows across the channel's line.
    const crossWind = Math.abs(
      air.field.east[i]! * Math.cos(heading) - air.field.south[i]! * Math.sin(heading),
    );
    const length = next ? Math.abs(next.along - station.along) : 0;
    const holding = creekHolds({ depth, width: station.width, crossWind, deficit: air.deficit[i]! }, units);
    const line = lines.get(station.line) ?? { held: 0, touched: 0, ends: null, spill: null };
    lines.set(station.line, line);
    line.touched += length;
    if (holding.holds === 'holds') line.held += length;
    else if (line.ends === null) {
      line.ends = holding;
      line.spill = station.at;
    }
  });
  return [...lines.values()].reduce<ScentFinding['creek']>(
    (most, line) => (line.touched > (most?.touched ?? 0) ? line : most),
    null,
  );
}

/** Whether the air at a spot hardly moves, so that scent stays round it. */
export function airHangs({ field }: NearGround, at: Point): boolean {
  const i = cellAt(field.frame, at[0], at[1]);
  return Math.hypot(field.east[i]!, field.south[i]!) < HANGS;
}

const COMPASS = ['north', 'northeast', 'east', 'southeast', 'south', 'southwest', 'west', 'northwest'];

function words(
  hangs: boolean,
  carry: ScentFinding['carry'],
  bearing: number,
  travel: ScentFinding['travel'],
  bedding: readonly string[],
  creek: ScentFinding['creek'],
  units: Units,
): string {
  if (hangs) return 'The air hardly moves: scent hangs round the stand.';
  if (carry.usual === 0) return 'Lifts or thins out before it reaches a nose.';
  const parts = [`Goes ${formatLength(carry.usual, units)} ${COMPASS[Math.round(bearing / 45) % 8]}`];
  if (creek && creek.held > 0)
    parts.push(`runs down the creek below the banks for ${formatLength(creek.held, units)}`);
  if (creek?.ends && creek.held > 0) parts.push(`spills where ${creek.ends.words}`);
  else if (creek?.ends) parts.push(`meets the creek: ${creek.ends.words}`);
  if (bedding.length > 0) parts.push(`reaches bedding (${bedding.join(', ')})`);
  parts.push(
    travel.usual > 0
      ? `meets ${formatShare(travel.usual)} of travel (${formatShare(travel.low)} to ${formatShare(travel.high)})`
      : travel.high > 0
        ? `misses travel, unless deer scent keenly (then ${formatShare(travel.high)})`
        : 'misses travel',
  );
  return `${parts.join(', ')}.`;
}
