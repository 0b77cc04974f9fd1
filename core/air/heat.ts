import type { Grid } from '../grid/frame.ts';
import { upwindSlope } from './shelter.ts';

const RAD = Math.PI / 180;
/** Directions the horizon is taken in, and how far it is sought, m. */
const HORIZON_DIRECTIONS = 16;
const HORIZON_REACH = 1000;
/** Share of the sun's power that goes into warming the air over damp ground: our assumption (Holtslag & van Ulden 1983 find about so much over grass). */
const INTO_AIR = 0.4;
/** Shares of loss and of sun that a closed canopy keeps from the ground: our assumption. */
const CANOPY_KEEPS_WARM = 0.5;
const CANOPY_SHADES = 0.7;
/** Share of a clear sky's sun that comes straight: our assumption. */
const DIRECT = 0.8;
/** Wind over open ground at which it mixes the cooled air away, m/s: our assumption. */
const MIXED_AWAY = 4;

/** What does not change through the day: how steep each cell is, where it faces, how much sky it sees. */
export interface HeatGround {
  ground: Grid;
  /** Rise per metre towards east and south. */
  riseEast: Float32Array;
  riseSouth: Float32Array;
  /** Share of the sky seen, weighted as it cools: mean of cos^2(horizon). */
  skyView: Float32Array;
  /** Share under canopy; unknown counts as none. */
  canopy: Float32Array;
}

export function heatGround(ground: Grid, canopy: Float32Array): HeatGround {
  const { frame, cells } = ground;
  const { width, height, cellSize } = frame;
  const riseEast = new Float32Array(cells.length);
  const riseSouth = new Float32Array(cells.length);
  const known = (j: number, otherwise: number) => (Number.isNaN(cells[j]!) ? otherwise : j);
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++) {
      const w = known(x > 0 ? i - 1 : i, i);
      const e = known(x < width - 1 ? i + 1 : i, i);
      const n = known(y > 0 ? i - width : i, i);
      const s = known(y < height - 1 ? i + width : i, i);
      if (e !== w) riseEast[i] = (cells[e]! - cells[w]!) / ((e - w) * cellSize);
      if (s !== n) riseSouth[i] = (cells[s]! - cells[n]!) / (((s - n) / width) * cellSize);
    }
  const skyView = new Float32Array(cells.length);
  for (let k = 0; k < HORIZON_DIRECTIONS; k++) {
    const horizon = upwindSlope(ground, (360 / HORIZON_DIRECTIONS) * k, HORIZON_REACH).cells;
    for (let i = 0; i < cells.length; i++)
      skyView[i]! += Math.cos(Math.max(0, horizon[i] || 0) * RAD) ** 2 / HORIZON_DIRECTIONS;
  }
  return { ground, riseEast, riseSouth, skyView, canopy };
}

/** Sun over level ground under a clear sky, W/m2: 990 sin(height) - 30 (Holtslag & van Ulden 1983). */
export const clearSun = (height: number): number => Math.max(0, 990 * Math.sin(height * RAD) - 30);

/** Share of it that cloud lets through: 1 - 0.75 n^3.4 (Kasten & Czeplak 1980), n the share of sky covered. */
export const throughCloud = (cloud: number): number => 1 - 0.75 * cloud ** 3.4;

/** Share of a clear night's loss that is left under cloud: 1 - 0.8 n^2 (low cloud; Geiger's form, value from memory). */
export const lossUnderCloud = (cloud: number): number => 1 - 0.8 * cloud * cloud;

/** Share of the loss that stays in a layer of its own instead of being mixed away by wind. */
export const leftByWind = (wind: number): number => Math.max(0, 1 - (wind / MIXED_AWAY) ** 2);

export interface Sky {
  /** Height of the sun, degrees, and its bearing from grid north. */
  sunHeight: number;
  sunBearing: number;
  /** Share of the sky covered, 0..1. */
  cloud: number;
  /** Over open ground, m/s. */
  wind: number;
}

/**
 * Net loss of heat of each cell, W/m2: sky-ward loss less what the sun brings; below 0 by day.
 *
 * @param lit filled with 1 where the sun reaches the slope, clouds aside; 0 elsewhere
 */
export function heatLoss(place: HeatGround, clearLoss: number, sky: Sky, lit?: Uint8Array): Float32Array {
  const { ground, riseEast, riseSouth, skyView, canopy } = place;
  const out = new Float32Array(ground.cells.length);
  const night = clearLoss * lossUnderCloud(sky.cloud) * leftByWind(sky.wind);
  const level = clearSun(sky.sunHeight) * throughCloud(sky.cloud);
  const shade = level > 0 ? upwindSlope(ground, sky.sunBearing, HORIZON_REACH).cells : null;
  const sinHeight = Math.sin(sky.sunHeight * RAD);
  const cosHeight = Math.cos(sky.sunHeight * RAD);
  const sunEast = cosHeight * Math.sin(sky.sunBearing * RAD);
  const sunSouth = -cosHeight * Math.cos(sky.sunBearing * RAD);
  const direct = DIRECT * throughCloud(sky.cloud);
  for (let i = 0; i < out.length; i++) {
    if (lit) lit[i] = 0;
    if (Number.isNaN(ground.cells[i]!)) continue;
    let sun = 0;
    if (shade) {
      const shaded = (shade[i] || Number.NEGATIVE_INFINITY) >= sky.sunHeight;
      const size = Math.sqrt(1 + riseEast[i]! ** 2 + riseSouth[i]! ** 2);
      const facing = (sinHeight - riseEast[i]! * sunEast - riseSouth[i]! * sunSouth) / size;
      // Low sun on a steep face is not multiplied without end.
      const beam = shaded ? 0 : Math.min(3, Math.max(0, facing) / Math.max(sinHeight, 0.05));
      if (lit && !shaded && facing > 0) lit[i] = 1;
      sun = level * (direct * beam + (1 - direct));
    }
    out[i] =
      night * skyView[i]! * (1 - CANOPY_KEEPS_WARM * canopy[i]!) -
      INTO_AIR * sun * (1 - CANOPY_SHADES * canopy[i]!);
  }
  return out;
}
