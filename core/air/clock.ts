import { assertOnFrame, cellCount, type Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { airFactor, blockMean, coarserFrame } from './air-grid.ts';
import { DRAG } from './bulk.ts';
import { heatGround, heatLoss } from './heat.ts';
import { emptyLayer, layerWind, runLayer } from './shallow.ts';
import { solarTime, sunAt } from './sun.ts';
import { slopeRun, upslopeWind } from './upslope.ts';

/** Share of the sky covered, 0..1: one for all hours, or 24 by hour of the day in standard time (by the longitude). */
export type Cloud = number | readonly number[];

/** @param hours since 1970-01-01T00Z */
export function cloudAt(cloud: Cloud, hours: number, longitude: number): number {
  if (typeof cloud === 'number') return cloud;
  const standard = Math.floor(hours + Math.round(longitude / 15));
  return cloud[((standard % 24) + 24) % 24]!;
}

/** Wind and cloud of an hour. */
export interface Weather {
  /** m/s over open ground. */
  wind: number;
  /** Share of the sky covered, 0..1. */
  cloud: number;
}

/** The cold layer at one hour; cells of the clock's frame. */
export interface ClockHour {
  /** Hours since 1970-01-01T00Z, and by the sun's own clock. */
  hours: number;
  solar: number;
  /** Heat the ground has lost since it began to cool, less what it has gained since, J/m2; the mean of all ground. */
  chilled: number;
  /** m. */
  depth: Float32Array;
  /** K. */
  deficit: Float32Array;
  /** m/s, east and south. */
  east: Float32Array;
  south: Float32Array;
  /** Wind up the warm slopes, m/s, east and south; 0 where none. */
  upEast: Float32Array;
  upSouth: Float32Array;
}

/** When the air of each cell turns, hours since 1970-01-01T00Z; NaN where it does not. */
export interface Turns {
  /** The sun leaves the slope in the afternoon, and reaches it in the morning. */
  sunLeaves: Float64Array;
  sunReaches: Float64Array;
  /** The same of a slope that loses the sun before three in the afternoon: the last time before the clock ends. */
  sunLast: Float64Array;
  upslopeLast: Float64Array;
  /** Air last runs up the slope in the afternoon, and first does in the morning. */
  upslopeEnds: Float64Array;
  upslopeBegins: Float64Array;
  /** Air first drains in the afternoon or night, and last does in the morning. */
  drainageBegins: Float64Array;
  drainageEnds: Float64Array;
}

export interface AirClock {
  ground: Grid;
  hours: ClockHour[];
  turns: Turns;
}

/** Drainage counts once it moves faster than this in a layer colder than that, m/s and K: our assumption. */
const DRAINS = 0.1;
const COLDER = 0.3;
/** Slower air up a slope is no wind, m/s: our assumption. */
const CLIMBS = 0.2;
/** The layer is looked at this often, s. */
const LOOK = 600;
/** What counts as the same: W/m2 of loss, and share of the air that changes between looks. */
const SAME_LOSS = 0.5;
const STEADY = 0.001;
/** The day runs from three in the afternoon to three in the afternoon by the sun. */
const START = 15;
const LENGTH = 24;

/**
 * The air of one night from the afternoon before to the afternoon after: cooled as each cell sees the sky, warmed as
 * the sun reaches it slope by slope, weakened by wind and cloud (`heat.ts`), run as a shallow layer (`runLayer`) while
 * it is cold, and drawn up the slope where the ground warms it (`upslope.ts`). Worked on cells twice the size of the
 * night's picture; times are told to ten minutes.
 *
 * @param noon any time of the solar day the night follows, hours since 1970-01-01T00Z
 * @param cooling loss of open ground on a clear calm night, W/m2
 * @param weather by hours since 1970
 */
export function airClock(
  elevation: Grid,
  cover: Grid<Uint8Array>,
  canopy: Grid,
  noon: number,
  cooling: number,
  weather: (hours: number) => Weather,
  progress: Progress = silent,
): AirClock {
  const { frame } = elevation;
  assertOnFrame(frame, elevation, cover, canopy);
  const { longitude, latitude, convergence } = frame;
  const airFrame = coarserFrame(frame, 2 * airFactor(frame));
  const ground = blockMean(elevation, airFrame);
  const drag = blockMean(
    { frame, cells: Float32Array.from(cover.cells, (code) => DRAG[code] ?? DRAG[0]!) },
    airFrame,
  ).cells;
  const shares = blockMean(canopy, airFrame).cells.map((share) => (Number.isNaN(share) ? 0 : share));
  const place = heatGround(ground, shares);
  const count = cellCount(airFrame);
  const layer = emptyLayer(count);
  const run = slopeRun(place);
  const lit = new Uint8Array(count);
  const never = () => new Float64Array(count).fill(Number.NaN);
  const turns: Turns = {
    sunLeaves: never(),
    sunReaches: never(),
    sunLast: never(),
    upslopeLast: never(),
    upslopeEnds: never(),
    upslopeBegins: never(),
    drainageBegins: never(),
    drainageEnds: never(),
  };
  const start = noon - solarTime(noon, longitude) + START;
  const hours: ClockHour[] = [];
  let before: Float32Array = new Float32Array(count);
  let unrest = 1;
  let chilled = 0;
  const looks = (LENGTH * 3600) / LOOK;
  for (let look = 1; look <= looks; look++) {
    const now = start + (look * LOOK) / 3600;
    const middle = now - LOOK / 7200;
    const sun = sunAt(middle, longitude, latitude);
    // Bearings of the sun are true; the grid's are turned by the convergence.
    const sky = { sunHeight: sun.height, sunBearing: sun.bearing - convergence, ...weather(middle) };
    const loss = heatLoss(place, cooling, sky, lit);
    // Through the steady hours of the night nothing new would come out.
    if (changed(loss, before) > SAME_LOSS || unrest > STEADY) {
      const held = layer.depth.slice();
      runLayer(layer, ground, loss, drag, LOOK);
      unrest = shareChanged(held, layer.depth);
    }
    before = loss;
    chilled = Math.max(0, chilled + LOOK * meanLoss(loss, ground));
    const wind = layerWind(layer, airFrame.width);
    const up = upslopeWind(place, run, drag, loss);
    const morning = look > looks / 2;
    for (let i = 0; i < count; i++) {
      if (lit[i] === 1) {
        mark(turns.sunLeaves, turns.sunReaches, i, morning, now);
        if (morning) turns.sunLast[i] = now;
      }
      if (Math.hypot(up.east[i]!, up.south[i]!) >= CLIMBS) {
        mark(turns.upslopeEnds, turns.upslopeBegins, i, morning, now);
        if (morning) turns.upslopeLast[i] = now;
      }
      const depth = layer.depth[i]!;
      if (depth <= 0.05 || layer.deficit[i]! / depth < COLDER) continue;
      if (Math.hypot(wind.east[i]!, wind.south[i]!) < DRAINS) continue;
      if (Number.isNaN(turns.drainageBegins[i]!)) turns.drainageBegins[i] = now;
      turns.drainageEnds[i] = now;
    }
    if ((look * LOOK) % 3600 === 0)
      hours.push({
        hours: now,
        solar: solarTime(now, longitude),
        chilled,
        depth: Float32Array.from(layer.depth),
        deficit: Float32Array.from(layer.deficit, (d, i) =>
          layer.depth[i]! > 0.05 ? d / layer.depth[i]! : 0,
        ),
        ...wind,
        upEast: up.east,
        upSouth: up.south,
      });
    progress(look / looks);
  }
  return { ground, hours, turns };
}

/** What is so at a time: in the afternoon the last such time counts, in the morning the first. */
function mark(last: Float64Array, first: Float64Array, i: number, morning: boolean, now: number): void {
  if (!morning) last[i] = now;
  else if (Number.isNaN(first[i]!)) first[i] = now;
}

function meanLoss(loss: Float32Array, { cells }: Grid): number {
  let sum = 0;
  let known = 0;
  for (let i = 0; i < loss.length; i++) {
    if (Number.isNaN(cells[i]!)) continue;
    sum += loss[i]!;
    known++;
  }
  return known > 0 ? sum / known : 0;
}

function changed(a: Float32Array, b: Float32Array): number {
  let most = 0;
  for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs(a[i]! - b[i]!));
  return most;
}

function shareChanged(before: Float64Array, after: Float64Array): number {
  let change = 0;
  let held = 0;
  for (let i = 0; i < before.length; i++) {
    change += Math.abs(after[i]! - before[i]!);
    held += after[i]!;
  }
  return held > 0 ? change / held : 0;
}
