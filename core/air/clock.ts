import { assertOnFrame, cellCount, type Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { airFactor, blockMean, coarserFrame } from './air-grid.ts';
import { DRAG } from './bulk.ts';
import { heatGround, heatLoss } from './heat.ts';
import { emptyLayer, layerWind, runLayer } from './shallow.ts';
import { solarTime, sunAt } from './sun.ts';

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
  /** m. */
  depth: Float32Array;
  /** K. */
  deficit: Float32Array;
  /** m/s, east and south. */
  east: Float32Array;
  south: Float32Array;
}

export interface AirClock {
  ground: Grid;
  hours: ClockHour[];
  /** When air began to drain in the evening and was last draining in the morning, hours since 1970; NaN where it never did. */
  begins: Float64Array;
  ends: Float64Array;
}

/** Drainage counts once it moves faster than this in a layer colder than that, m/s and K: our assumption. */
const DRAINS = 0.1;
const COLDER = 0.3;
/** The layer is looked at this often, s. */
const LOOK = 600;
/** What counts as the same: W/m2 of loss, and share of the air that changes between looks. */
const SAME_LOSS = 0.5;
const STEADY = 0.001;
/** The day runs from three in the afternoon to noon by the sun. */
const START = 15;
const LENGTH = 21;

/**
 * The cold air of one night from the afternoon before to the noon after: cooled as each cell sees the sky, warmed as
 * the sun reaches it slope by slope, weakened by wind and cloud (`heat.ts`), run as a shallow layer (`runLayer`).
 * Worked on cells twice the size of the night's picture.
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
  const begins = new Float64Array(count).fill(Number.NaN);
  const ends = new Float64Array(count).fill(Number.NaN);
  const start = noon - solarTime(noon, longitude) + START;
  const hours: ClockHour[] = [];
  let before: Float32Array = new Float32Array(count);
  let unrest = 1;
  const looks = (LENGTH * 3600) / LOOK;
  for (let look = 1; look <= looks; look++) {
    const now = start + (look * LOOK) / 3600;
    const middle = now - LOOK / 7200;
    const sun = sunAt(middle, longitude, latitude);
    // Bearings of the sun are true; the grid's are turned by the convergence.
    const loss = heatLoss(place, cooling, {
      sunHeight: sun.height,
      sunBearing: sun.bearing - convergence,
      ...weather(middle),
    });
    // Through the steady hours of the night nothing new would come out.
    if (changed(loss, before) > SAME_LOSS || unrest > STEADY) {
      const held = layer.depth.slice();
      runLayer(layer, ground, loss, drag, LOOK);
      unrest = shareChanged(held, layer.depth);
    }
    before = loss;
    const wind = layerWind(layer, airFrame.width);
    for (let i = 0; i < count; i++) {
      const depth = layer.depth[i]!;
      if (depth <= 0.05 || layer.deficit[i]! / depth < COLDER) continue;
      if (Math.hypot(wind.east[i]!, wind.south[i]!) < DRAINS) continue;
      if (Number.isNaN(begins[i]!)) begins[i] = now;
      ends[i] = now;
    }
    if ((look * LOOK) % 3600 === 0)
      hours.push({
        hours: now,
        solar: solarTime(now, longitude),
        depth: Float32Array.from(layer.depth),
        deficit: Float32Array.from(layer.deficit, (d, i) =>
          layer.depth[i]! > 0.05 ? d / layer.depth[i]! : 0,
        ),
        ...wind,
      });
    progress(look / looks);
  }
  return { ground, hours, begins, ends };
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
