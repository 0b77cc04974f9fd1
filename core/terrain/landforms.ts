import type { Frame, Grid } from '../grid/frame.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { findBenches } from './benches.ts';
import { coarsen, formFactor, refine } from './coarse.ts';
import { heightAboveDrainage } from './drainage-height.ts';
import { findDraws } from './draws.ts';
import { GEOMORPHON, geomorphons } from './geomorphons.ts';
import { positionOf } from './position.ts';
import type { Reach } from './reaches.ts';
import { findRidges } from './ridges.ts';
import { findSaddles } from './saddles.ts';
import { surfaceOf } from './slope.ts';
import { type Bench, type Draw, type FormsLeftOut, LANDFORM, type RidgeLine, type Saddle } from './types.ts';

/** How far lines of sight go, m and at least so many cells; level below this many degrees (our choice). */
const SEARCH = 150;
const LEAST_SEARCH_CELLS = 5;
const FLATNESS = 1.5;
/** The wide ring of Weiss's two scales, m; the narrow one is left to the lines of sight. */
const WIDE_RING: [number, number] = [100, 250];
/** High or low ground by the wide ring, m. */
const STANDS_OUT = 3;
const STEEP = 30;
/** Creek bottom: no more than this above its drainage line, m, and no steeper, degrees (our choice). */
const BOTTOM_HEIGHT = 4;
const BOTTOM_SLOPE = 5;

export interface Landforms {
  forms: Grid<Uint8Array>;
  saddles: Saddle[];
  benches: Bench[];
  ridges: RidgeLine[];
  draws: Draw[];
  formsLeftOut: FormsLeftOut;
}

/**
 * The forms the trade walks by. Areas by line-of-sight patterns (geomorphons) on cells of about 6 m; wide level
 * tops and bottoms, which look flat at that range, by topographic position at a wider one (Weiss 2001); then
 * steep faces, creek bottoms, benches and saddles over them.
 *
 * @param slope of the full elevation, degrees
 * @param water surface the directions were taken from
 * @param roadsOn marks the cells of a frame that lie on or beside a road or railroad; null when none is mapped
 */
export function findLandforms(
  elevation: Grid,
  slope: Grid,
  water: Grid,
  directions: Grid<Uint8Array>,
  reaches: readonly Reach[],
  progress: Progress = silent,
  roadsOn: (frame: Frame) => Uint8Array | null = () => null,
): Landforms {
  const { frame } = elevation;
  const factor = formFactor(frame.cellSize);
  const surface = coarsen(elevation, factor);
  const { cellSize } = surface.frame;
  const patterns = geomorphons(
    surface,
    Math.max(LEAST_SEARCH_CELLS, Math.round(SEARCH / cellSize)),
    FLATNESS,
    part(progress, 0, 0.3),
  );
  progress(0.3);
  const coarseSlope = surfaceOf(surface, { azimuth: 315, altitude: 45 }).slope;
  const scale = Math.max(1, cellSize / 30);
  const position = positionOf(
    surface,
    (WIDE_RING[0] * scale) / cellSize,
    (WIDE_RING[1] * scale) / cellSize,
    part(progress, 0.3, 0.5),
  );
  progress(0.5);
  const { saddles, faintSaddles, lesserSaddles } = findSaddles(surface, elevation);
  progress(0.7);
  const { benches, mask, roadBeds } = findBenches(surface, coarseSlope, roadsOn(surface.frame));
  progress(0.8);
  const ridges = findRidges(surface, patterns);
  const draws = findDraws(reaches, elevation);

  const codes = new Uint8Array(surface.cells.length);
  for (let i = 0; i < codes.length; i++) {
    codes[i] = formOf(patterns.cells[i]!, coarseSlope.cells[i]!, position.cells[i]!);
    if (mask[i] !== 0) codes[i] = LANDFORM.bench;
  }
  for (const saddle of saddles) paintSaddle(codes, surface, saddle);
  const forms = refine({ frame: surface.frame, cells: codes }, frame, factor);
  paintBottoms(forms, factor, position, slope, water, directions, reaches);
  for (let i = 0; i < forms.cells.length; i++) if (Number.isNaN(elevation.cells[i]!)) forms.cells[i] = 0;
  const formsLeftOut = { faintSaddles, lesserSaddles, roadBeds };
  return { forms, saddles, benches, ridges, draws, formsLeftOut };
}

function formOf(pattern: number, slope: number, position: number): number {
  if (pattern === 0) return 0;
  if (slope >= STEEP) return LANDFORM.steepFace;
  switch (pattern) {
    case GEOMORPHON.peak:
    case GEOMORPHON.ridge:
      return LANDFORM.ridge;
    case GEOMORPHON.spur:
      return LANDFORM.spur;
    case GEOMORPHON.hollow:
    case GEOMORPHON.valley:
    case GEOMORPHON.pit:
      return LANDFORM.draw;
    case GEOMORPHON.flat:
    case GEOMORPHON.shoulder:
    case GEOMORPHON.footslope:
      if (slope >= BOTTOM_SLOPE) return LANDFORM.slope;
      return position > STANDS_OUT ? LANDFORM.ridge : LANDFORM.flat;
    default:
      return LANDFORM.slope;
  }
}

/** A saddle as a disc as wide as its gap, between 15 and 40 m across the half, and at least its own cell. */
function paintSaddle(codes: Uint8Array, surface: Grid, saddle: Saddle): void {
  const { width, height, west, north, cellSize } = surface.frame;
  const radius = Math.min(40, Math.max(15, (saddle.width ?? 0) / 2)) / cellSize;
  const cx = (saddle.at[0] - west) / cellSize - 0.5;
  const cy = (north - saddle.at[1]) / cellSize - 0.5;
  for (let y = Math.max(0, Math.ceil(cy - radius)); y <= Math.min(height - 1, cy + radius); y++) {
    for (let x = Math.max(0, Math.ceil(cx - radius)); x <= Math.min(width - 1, cx + radius); x++) {
      if ((x - cx) ** 2 + (y - cy) ** 2 <= radius * radius && codes[y * width + x] !== 0)
        codes[y * width + x] = LANDFORM.saddle;
    }
  }
}

/**
 * Creek bottom: level ground barely above a drainage line and low by the wide ring. Orders do not count here: a
 * creek that enters the map comes as a first order, however large.
 */
function paintBottoms(
  forms: Grid<Uint8Array>,
  factor: number,
  position: Grid,
  slope: Grid,
  water: Grid,
  directions: Grid<Uint8Array>,
  reaches: readonly Reach[],
): void {
  const codes = forms.cells;
  const channel = new Uint8Array(codes.length);
  for (const reach of reaches) for (const i of reach.cells) channel[i] = 1;
  const above = heightAboveDrainage(water, directions, channel).cells;
  const { width, height } = forms.frame;
  for (let y = 0, i = 0; y < height; y++) {
    const start = Math.floor(y / factor) * position.frame.width;
    for (let x = 0; x < width; x++, i++) {
      if (!(above[i]! <= BOTTOM_HEIGHT && slope.cells[i]! <= BOTTOM_SLOPE)) continue;
      if (!(position.cells[start + Math.floor(x / factor)]! < -STANDS_OUT)) continue;
      if (codes[i] !== LANDFORM.saddle) codes[i] = LANDFORM.creekBottom;
    }
  }
}
