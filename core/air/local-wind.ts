import type { Frame, Grid } from '../grid/frame.ts';
import { blockMean, coarserFrame } from './air-grid.ts';
import { adjustWind, type BoxWind, type MassSystem, massSystem } from './mass-adjust.ts';
import { meshOver } from './mass-mesh.ts';
import type { WindField } from './particles.ts';
import { openProfile } from './profile.ts';
import { upwindSlope } from './shelter.ts';

/** The ground of a property made ready for winds from any side. */
export interface WindGround {
  frame: Frame;
  ground: Grid;
  /** Ground and canopy together, m. */
  top: Grid;
  /** Share under canopy, 0..1; unknown counts as none. */
  canopy: Float32Array;
  system: MassSystem;
  /** How many cells of the property make a side of a wind cell. */
  factor: number;
}

/** Columns of boxes at most, and the least side of one, m. */
const MOST_COLUMNS = 4500;
const WIND_CELL = 20;
const LEVELS = 10;
/** Height of the boxes' top over the highest ground, and thickness of the lowest, m. */
const TOP = 500;
const LOWEST = 6;
/** The height winds are recorded at, m. */
const STATION_HEIGHT = 10;
/** Wind no longer grows with height above this, m. */
const GRADIENT_HEIGHT = 200;
/** Height of timber where none is measured, m: our assumption. */
const TIMBER_HEIGHT = 18;
/** Weakening of wind below the crowns, Cionco (1965): exp(a (z/h - 1)); our choice within his 1 to 3. */
const CANOPY_DAMPING = 2;
/** Maximum upwind slope is sought this far, m (Winstral 2002 uses 100 to 300 m for shelter). */
const SHELTER_REACH = 300;
/** Upwind slope at which wind near the ground has fallen to the least: our assumption, degrees and share. */
const FULL_SHELTER = 25;
const LEAST_SHARE = 0.25;
/** Beyond this upwind slope the wind parts from the ground and eddies, degrees (about 1 in 5): common practice, no source. */
const EDDY_SLOPE = 11;
/** From this canopy on the crowns of a spot's own timber are what the wind meets. */
const TIMBER = 0.5;

/** @param stable true for a clear night above 2 m/s: air would rather go round than over */
export function windGround(elevation: Grid, canopy: Grid, stable = false): WindGround {
  const { frame } = elevation;
  const byCount = Math.sqrt((frame.width * frame.height) / MOST_COLUMNS);
  const factor = Math.max(1, Math.ceil(Math.max(WIND_CELL / frame.cellSize, byCount)));
  const windFrame = coarserFrame(frame, factor);
  const ground = blockMean(elevation, windFrame);
  const shares = blockMean(canopy, windFrame).cells.map((share) => (Number.isNaN(share) ? 0 : share));
  const top = { frame: windFrame, cells: ground.cells.map((z, i) => z + TIMBER_HEIGHT * shares[i]!) };
  const mesh = meshOver(ground, LEVELS, TOP, LOWEST);
  return {
    frame: windFrame,
    ground,
    top,
    canopy: shares,
    system: massSystem(mesh, stable ? 0.25 : 1),
    factor,
  };
}

export interface LocalWind {
  /**
   * Near the ground, in the lowest boxes (0 to about 6 m). Its `eddies` are 1 where the wind parts from the ground
   * behind a rise or a timber edge: there only the mean drift is known, not which way the air turns at a moment.
   */
  field: WindField & { eddies: Uint8Array };
  /** Share of the first guess's made or lost air that is left. */
  divergence: number;
}

/**
 * The wind of a station bent to this ground: a logarithmic profile slowed behind rises and timber edges by the
 * maximum upwind slope and below crowns by the canopy, then adjusted so that no air is made or lost, which speeds
 * it up over ridges and turns it along draws (`adjustWind`).
 *
 * An adjusted wind cannot show the air that turns back in the lee of a rise or an edge, nor the creep back uphill
 * inside timber on a lee slope (Finnigan & Belcher, Quarterly J. Royal Meteorological Society 130, 2004); such
 * places are marked instead of drawn.
 *
 * @param from bearing the wind blows from, degrees clockwise from grid north: turn a true direction by the convergence
 * @param speed at 10 m over open ground, m/s
 */
export function localWind(place: WindGround, from: number, speed: number): LocalWind {
  const { frame, ground, top, canopy, system } = place;
  const { width, height } = frame;
  const { mesh } = system;
  const { levels } = mesh;
  const bearing = (from * Math.PI) / 180;
  const towardsEast = -Math.sin(bearing);
  const towardsSouth = Math.cos(bearing);
  const upwind = upwindSlope(top, from, SHELTER_REACH, ground).cells;
  const rise = upwindSlope(ground, from, SHELTER_REACH).cells;
  const eddies = new Uint8Array(width * height);
  const boxes = width * height * levels;
  const guess: BoxWind = {
    east: new Float32Array(boxes),
    south: new Float32Array(boxes),
    up: new Float32Array(boxes),
  };
  const freedom = new Float32Array(boxes);
  const across = width + 1;
  const layer = across * (height + 1);
  for (let y = 0, cell = 0; y < height; y++) {
    for (let x = 0; x < width; x++, cell++) {
      const slope = Number.isNaN(upwind[cell]!) ? 0 : upwind[cell]!;
      // Timber that stands here slows its own air below the crowns; what stands upwind shelters.
      if (rise[cell]! > EDDY_SLOPE || (slope > EDDY_SLOPE && canopy[cell]! < TIMBER)) eddies[cell] = 1;
      const shelter = Math.max(LEAST_SHARE, 1 - Math.max(0, slope) / FULL_SHELTER);
      const node = y * across + x;
      for (let k = 0; k < levels; k++) {
        const z = (mesh.z[node + k * layer]! + mesh.z[node + (k + 1) * layer]!) / 2 - mesh.z[node]!;
        const profile = openProfile(Math.min(z, GRADIENT_HEIGHT), STATION_HEIGHT);
        const reach = Math.min(1, z / (3 * TIMBER_HEIGHT));
        const sheltered = shelter + (1 - shelter) * reach;
        const below = z < TIMBER_HEIGHT ? Math.exp(CANOPY_DAMPING * (z / TIMBER_HEIGHT - 1)) : 1;
        const crowned = 1 - canopy[cell]! * (1 - below);
        const share = profile * Math.min(sheltered, crowned);
        const box = cell * levels + k;
        freedom[box] = share;
        guess.east[box] = speed * share * towardsEast;
        guess.south[box] = speed * share * towardsSouth;
      }
    }
  }
  const divergence = adjustWind(system, guess, freedom);
  const east = new Float32Array(width * height);
  const south = new Float32Array(width * height);
  for (let cell = 0; cell < east.length; cell++) {
    east[cell] = guess.east[cell * levels]!;
    south[cell] = guess.south[cell * levels]!;
  }
  return { field: { frame, east, south, eddies }, divergence };
}
