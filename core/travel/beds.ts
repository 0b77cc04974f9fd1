import { COVER, type CoverLayers } from '../cover/types.ts';
import { cellsAlong, cellsInside } from '../features/cells.ts';
import { existing, type Feature } from '../features/feature.ts';
import { compassWord } from '../features/units.ts';
import { bearingOf } from '../grid/bearing.ts';
import { cellAt, cellCentre, cellCount, type Frame, type Grid, type Point } from '../grid/frame.ts';
import { sampleAt } from '../terrain/sample.ts';
import { LANDFORM } from '../terrain/types.ts';
import { inSeason } from './moment.ts';
import { reliefGround } from './relief.ts';

/** The wind that prevails while deer lie up by day; plain data. */
export interface PrevailingWind {
  /** Bearing it blows from, degrees clockwise from grid north. */
  from: number;
  /** Share of the hours it blows from there or next to it, 0..1. */
  share: number;
}

export interface BedGround extends Pick<CoverLayers, 'cover' | 'screening'> {
  /** LANDFORM codes. */
  forms: Grid<Uint8Array>;
  /** m; NaN no data. */
  elevation: Grid;
  /** NaN where no travel is possible. */
  resistance: Grid;
  /** Beside buildings and public roads no bed is looked for. */
  features: readonly Feature[];
  /** Null where no record is there or no wind prevails. */
  wind: PrevailingWind | null;
  /** MM-DD, or null. */
  date: string | null;
}

/** A place deer may well bed by day, and why. */
export interface Bed {
  at: Point;
  cells: number[];
  /** 0..1, of all that is asked for. */
  score: number;
  reasons: string[];
}

/** Said of every bed where the wind could not be reckoned with. */
export const WIND_UNKNOWN = 'No prevailing wind is known, so the wind at its back was not reckoned with.';

/** All below are our assumptions, m and degrees. */
const SPOT = 20;
const BED_RADIUS = 40;
const APART = 250;
const MOST = 6;
/** How much each thing counts. Thick cover is asked for whatever else there is. */
const WEIGHT = { cover: 0.2, form: 0.3, wind: 0.25, view: 0.25, south: 0.3 };
const LEAST_SCORE = 0.25;
/** How thick cover is taken to be at deer height where nothing shows its screening. */
const THICK: Record<number, number> = {
  [COVER.brush]: 0.8,
  [COVER.evergreen]: 0.7,
  [COVER.deciduous]: 0.3,
};
const GENTLEST_FALL = 3;
const STEEPEST = 30;
const VIEW = 120;
/** Eye of a deer lying down, and how far below it ground must lie to be looked down on, m. */
const EYE = 0.8;
const BELOW = 2;
/** Nearer to a building or public road than this deer do not lie up. */
const QUIET = 80;
const WINTER = { from: '12-01', to: '03-15' };
/** Facing south, and wind from behind, to within this. */
const SOUTH_WITHIN = 45;

/**
 * Where deer may well bed: thick cover on benches and points, with the wind at the back and a view of the ground below,
 * on south faces in winter, away from buildings and public roads. Each counts by a weight, over those that are known; the best spots are kept, well apart.
 * Rules of the trade weighed by us (common practice, no source), no survey of deer.
 */
export function findBeds(ground: BedGround): Bed[] {
  const { frame } = ground.elevation;
  const factor = Math.max(1, Math.round(SPOT / frame.cellSize));
  const relief = reliefGround(ground.elevation, factor);
  const winter = ground.date !== null && inSeason(ground.date, WINTER.from, WINTER.to, false);
  const loud = loudSpots(relief.frame, ground.features);
  const tallies = tallySpots(ground, factor, relief.frame);
  const spots: { spot: number; score: number; marks: Marks }[] = [];
  for (let spot = 0; spot < cellCount(relief.frame); spot++) {
    const known = tallies.known[spot]!;
    const thick = tallies.thick[spot]! / factor ** 2;
    // No weight below brings thinner cover to the least score.
    if (known === 0 || loud[spot] === 1 || thick < LEAST_SCORE) continue;
    const marks = marksAt(ground, relief, spot, tallies.forms[spot]! / known, winter);
    const score = marks && thick * marks.score;
    if (score !== null && score >= LEAST_SCORE) spots.push({ spot, score, marks: marks! });
  }
  spots.sort((a, b) => b.score - a.score || a.spot - b.spot);
  const beds: Bed[] = [];
  for (const { spot, score, marks } of spots) {
    if (beds.length === MOST) break;
    const at = cellCentre(relief.frame, spot);
    if (beds.some((bed) => Math.hypot(bed.at[0] - at[0], bed.at[1] - at[1]) < APART)) continue;
    const cells = bedCells(ground, at);
    if (cells.length > 0) beds.push({ at, cells, score, reasons: reasonsOf(marks, ground.wind) });
  }
  return beds;
}

/** 1 at spots too near to a building or public road. */
function loudSpots(spots: Frame, features: readonly Feature[]): Uint8Array {
  const loud = new Uint8Array(cellCount(spots));
  for (const { kind, geometry, attributes } of existing(features)) {
    const isTrack = attributes.class === 'track' || attributes.class === 'lane';
    if (kind !== 'building' && (kind !== 'road' || isTrack)) continue;
    const mark = (spot: number): void => {
      loud[spot] = 1;
    };
    cellsInside(spots, geometry, mark);
    cellsAlong(spots, geometry, Math.max(QUIET, spots.cellSize * 0.71), mark);
  }
  return loud;
}

/** Summed over the cells of every spot: how thick the cover is, and how many lie on a bench or point. */
function tallySpots(
  { cover, screening, forms, resistance }: BedGround,
  factor: number,
  spots: Frame,
): { thick: Float32Array; forms: Float32Array; known: Float32Array } {
  const { width, height } = cover.frame;
  const sums = { thick: new Float32Array(cellCount(spots)), forms: new Float32Array(cellCount(spots)) };
  const known = new Float32Array(cellCount(spots));
  for (let row = 0, i = 0; row < height; row++) {
    const base = Math.floor(row / factor) * spots.width;
    for (let column = 0; column < width; column++, i++) {
      if (Number.isNaN(resistance.cells[i]!)) continue;
      const spot = base + Math.floor(column / factor);
      known[spot]!++;
      sums.thick[spot]! += thickness(cover.cells[i]!, screening.cells[i]!);
      const form = forms.cells[i]!;
      if (form === LANDFORM.bench || form === LANDFORM.spur) sums.forms[spot]!++;
    }
  }
  return { ...sums, known };
}

function thickness(code: number, screening: number): number {
  const usual = THICK[code] ?? 0;
  return usual > 0 && !Number.isNaN(screening) ? screening : usual;
}

interface Marks {
  /** Of what is known, 0..1, but for the cover. */
  score: number;
  form: number;
  /** Bearing the ground falls to, degrees from grid north; null where it hardly does. */
  fall: number | null;
  /** 1 with the wind straight from behind. */
  lee: number;
  view: number;
  south: boolean;
}

function marksAt(
  { elevation, wind }: BedGround,
  relief: ReturnType<typeof reliefGround>,
  spot: number,
  form: number,
  winter: boolean,
): Marks | null {
  const [east, south] = [relief.east[spot]!, relief.south[spot]!];
  const slope = (Math.atan(Math.hypot(east, south)) * 180) / Math.PI;
  if (Number.isNaN(relief.heights[spot]!) || slope > STEEPEST) return null;
  const fall = slope >= GENTLEST_FALL ? bearingOf(-east, south) : null;
  const lee = fall === null || wind === null ? 0 : Math.max(0, -cosine(fall - wind.from));
  const view = fall === null ? 0 : viewBelow(elevation, cellCentre(relief.frame, spot), fall);
  const facing =
    winter && fall !== null && cosine(fall + relief.frame.convergence - 180) >= cosine(SOUTH_WITHIN);
  const parts: [weight: number, value: number][] = [
    [WEIGHT.cover, 1],
    [WEIGHT.form, form],
    [wind === null ? 0 : WEIGHT.wind, lee],
    [WEIGHT.view, view],
    [winter ? WEIGHT.south : 0, facing ? 1 : 0],
  ];
  const all = parts.reduce((sum, [weight]) => sum + weight, 0);
  const score = parts.reduce((sum, [weight, value]) => sum + weight * value, 0) / all;
  return { score, form, fall, lee, view, south: facing };
}

const cosine = (degrees: number): number => Math.cos((degrees * Math.PI) / 180);

/** Share of the ground on three lines down the fall that a deer lying there sees and looks down on. */
function viewBelow(elevation: Grid, at: Point, fall: number): number {
  const step = Math.max(elevation.frame.cellSize, 5);
  const eye = sampleAt(elevation, ...at) + EYE;
  let seen = 0;
  let looked = 0;
  for (const turn of [-30, 0, 30]) {
    const bearing = ((fall + turn) * Math.PI) / 180;
    let steepest = Number.NEGATIVE_INFINITY;
    for (let out = step; out <= VIEW; out += step) {
      const z = sampleAt(elevation, at[0] + out * Math.sin(bearing), at[1] + out * Math.cos(bearing));
      looked++;
      if (Number.isNaN(z)) continue;
      const angle = (z - eye) / out;
      if (angle >= steepest && eye - z >= BELOW) seen++;
      steepest = Math.max(steepest, angle);
    }
  }
  return seen / looked;
}

/** Cells of cover about a spot, where travel is possible. */
function bedCells({ cover, resistance }: BedGround, [x, y]: Point): number[] {
  const { frame } = cover;
  const reach = Math.max(BED_RADIUS, frame.cellSize * 0.71);
  const steps = Math.ceil(reach / frame.cellSize);
  const cells: number[] = [];
  for (let row = -steps; row <= steps; row++)
    for (let column = -steps; column <= steps; column++) {
      const cell = cellAt(frame, x + column * frame.cellSize, y - row * frame.cellSize);
      if (cell < 0 || Number.isNaN(resistance.cells[cell]!) || !THICK[cover.cells[cell]!]) continue;
      const [cx, cy] = cellCentre(frame, cell);
      if (Math.hypot(cx - x, cy - y) <= reach) cells.push(cell);
    }
  return [...new Set(cells)].sort((a, b) => a - b);
}

/** Above this a mark is worth saying. */
const SAID = 0.4;

function reasonsOf({ form, fall, lee, view, south }: Marks, wind: PrevailingWind | null): string[] {
  const reasons = ['Thick cover.'];
  if (form >= SAID) reasons.push('It lies on a bench or a point.');
  const faces = fall === null ? null : compassWord(fall);
  if (faces && wind && lee >= SAID)
    reasons.push(
      `It falls to the ${faces}, with the prevailing wind at its back (${Math.round(100 * wind.share)}% of the hours).`,
    );
  if (faces && view >= SAID) reasons.push(`It looks down on the ground to the ${faces}.`);
  if (south) reasons.push('It faces the winter sun.');
  if (wind === null) reasons.push(WIND_UNKNOWN);
  return reasons;
}
