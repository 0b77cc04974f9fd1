import { AIR_HEAT, BUOYANCY } from './bulk.ts';
import type { HeatGround } from './heat.ts';

/**
 * Air drawn in by the layer that runs up a warm slope, over its speed: our assumption. Warmed air mixes upwards, so it
 * is more than what a cold layer draws in on the same slope.
 */
const DRAWN_IN = 0.1;
/** Air has run up the slope no farther than this, m: our assumption. Beyond it thermals carry the warmth off. */
const LONGEST = 300;
/** Gentler ground makes no slope wind by day, rise over run: our assumption. */
const LEAST_SLOPE = 0.03;
/** Weaker warming is not enough to start it, W/m2: our assumption. */
const LEAST_HEAT = 10;

/**
 * Wind up a warm slope by the bulk balance of a slope layer (Manins & Sawford 1979, see `bulk.ts`) read for warmed air.
 * The reading is ours; that a bulk layer serves for upslope flow as well is after Kuwagata & Kondo, "Observation and
 * modeling of thermally induced upslope flow" (Boundary-Layer Meteorology 49, 1989; from memory, no number is taken
 * from it). The heat taken up along the way, (heat / rho cp) x distance, pulls against the drag of the ground and of
 * the air drawn in,
 *
 *   speed^3 = (g / theta) (heat / (rho cp)) distance sin(slope) / (drag + drawn in).
 *
 * @param heat warming of the air by the ground, W/m2
 * @param slope rise over run
 * @param distance run since the foot of the slope, m
 * @param drag coefficient of the ground
 * @returns m/s; 0 where nothing pulls
 */
export function upslopeSpeed(heat: number, slope: number, distance: number, drag: number): number {
  if (!(heat > 0) || !(slope > 0) || !(distance > 0)) return 0;
  const sine = slope / Math.sqrt(1 + slope * slope);
  return Math.cbrt((BUOYANCY * (heat / AIR_HEAT) * distance * sine) / (drag + DRAWN_IN));
}

/** How far air has run uphill to each cell: its height over the lowest ground near, by its steepness; m. */
export function slopeRun({ ground, riseEast, riseSouth }: HeatGround): Float32Array {
  const { frame, cells } = ground;
  const { width, height, cellSize } = frame;
  const reach = Math.max(1, Math.round(LONGEST / cellSize));
  const run = new Float32Array(cells.length);
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++) {
      const slope = Math.hypot(riseEast[i]!, riseSouth[i]!);
      if (slope < LEAST_SLOPE || Number.isNaN(cells[i]!)) continue;
      let lowest = cells[i]!;
      for (let n = 1; n <= reach; n++) {
        const cx = Math.round(x - (n * riseEast[i]!) / slope);
        const cy = Math.round(y - (n * riseSouth[i]!) / slope);
        if (cx < 0 || cy < 0 || cx >= width || cy >= height) break;
        const z = cells[cy * width + cx]!;
        // The foot is where the ground stops falling.
        if (!(z < lowest)) break;
        lowest = z;
      }
      run[i] = Math.min(LONGEST, Math.max(cellSize / 2, (cells[i]! - lowest) / slope));
    }
  return run;
}

/**
 * The wind up the slopes at one time.
 *
 * @param loss net loss of heat of each cell, W/m2, below 0 where the ground warms (`heatLoss`)
 * @param run as `slopeRun` gives it
 * @returns m/s, east and south; 0 where the ground does not warm or hardly slopes
 */
export function upslopeWind(
  { riseEast, riseSouth }: HeatGround,
  run: Float32Array,
  drag: Float32Array,
  loss: Float32Array,
): { east: Float32Array; south: Float32Array } {
  const east = new Float32Array(loss.length);
  const south = new Float32Array(loss.length);
  for (let i = 0; i < loss.length; i++) {
    if (run[i] === 0 || loss[i]! > -LEAST_HEAT) continue;
    const slope = Math.hypot(riseEast[i]!, riseSouth[i]!);
    const speed = upslopeSpeed(-loss[i]!, slope, run[i]!, drag[i]!);
    east[i] = (speed * riseEast[i]!) / slope;
    south[i] = (speed * riseSouth[i]!) / slope;
  }
  return { east, south };
}
