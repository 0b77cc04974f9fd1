import { cellCount, type Frame, type Grid } from '../../core/grid/frame.ts';
import { fillHoles } from '../../core/grid/holes.ts';
import { type Progress, part } from '../../core/grid/progress.ts';
import type { PointCloud } from './las.ts';
import { startMosaic } from './mosaic.ts';
import { gridCloud } from './points.ts';
import type { Raster } from './raster.ts';
import { refusal } from './refusal.ts';
import { bridgeGaps } from './tin.ts';
import { UNIT_FOR_ALL, UNIT_LABELS, unitChoices, type VerticalScale } from './vertical.ts';
import { warp } from './warp.ts';

/** Heights outside this range, m, are not ground on earth: voids whose value the file forgot to state. */
const LOWEST = -500;
const HIGHEST = 9000;
/** Holes up to this wide are filled, m, or as many cells where that is more. Our assumption. */
const WIDEST_HOLE = 60;
const WIDEST_HOLE_CELLS = 20;
/** A step between tiles that is no longer noise of the survey, m. Our assumption. */
const SEAM_DOUBT = 1;
/** Ground points of a cloud are joined over gaps up to this far from the nearest one, m. Our assumption. */
const CLOUD_REACH = 20;
/** Taller than any tree in eastern North America, m. */
const TALLEST = 70;

export interface ElevationTile {
  source: Raster | PointCloud;
  scale: VerticalScale;
}

export interface Ground {
  elevation: Grid;
  /** 1 where a hole in the files was filled from its rim; null when none was. */
  holes: Grid<Uint8Array> | null;
  /** Height of what stands on the ground, m, where a point cloud saw it; null without one. */
  vegetation: Grid | null;
  notes: string[];
}

/**
 * Elevation of one or several tiles on the frame, m, seams feathered and holes filled; NaN where nothing is known.
 * @param tiles by rank: the finest first
 * @param confirmed the person has answered about the unit, so that strange ground is noted and not asked about again
 * @throws Problem when no cell has a value, or the heights look like feet read as metres
 */
export async function readElevation(
  tiles: ElevationTile[],
  frame: Frame,
  confirmed: boolean,
  progress: Progress,
): Promise<Ground> {
  const name = tiles.map(({ source }) => source.name).join(', ');
  const { cells, top, notes } = await join(tiles, frame, progress);
  const holed = fillHoles({ frame, cells }, Math.max(WIDEST_HOLE, WIDEST_HOLE_CELLS * frame.cellSize));
  const elevation = holed.filled;
  let known = 0;
  for (const value of elevation.cells) if (!Number.isNaN(value)) known++;
  if (known === 0)
    throw refusal(`${name} has no elevation anywhere on the property: every cell is no data`, {
      file: name,
      fix: 'download elevation that covers the property; a tile beside it will not do',
    });
  if (holed.holes > 0)
    notes.push(
      `${name}: ${holed.holes} hole${holed.holes > 1 ? 's' : ''} (${holed.cells} cells) in the elevation ${holed.holes > 1 ? 'are' : 'is'} filled smoothly from the rim; the ground there is a guess`,
    );
  if (holed.left > 0)
    notes.push(`${name}: ${holed.left} hole${holed.left > 1 ? 's' : ''} in the elevation too wide to fill`);
  const share = 1 - known / cells.length;
  if (share > 0.0005)
    notes.push(
      `${name}: ${(share * 100).toFixed(share < 0.01 ? 2 : 0)} % of the property's cells have no elevation`,
    );
  const doubt = unitDoubt(elevation);
  if (doubt && !confirmed) askUnit(name, doubt, tiles);
  if (doubt) notes.push(`Doubt: ${doubt}. The unit was confirmed, so it stands`);
  return {
    elevation,
    holes: holed.holes > 0 ? holed.mask : null,
    vegetation: top && heightAbove(elevation, top),
    notes,
  };
}

interface Joined {
  cells: Float32Array;
  /** Highest first returns of the point clouds, m; null without one. */
  top: Float32Array | null;
  notes: string[];
}

async function join(tiles: ElevationTile[], frame: Frame, progress: Progress): Promise<Joined> {
  const notes: string[] = [];
  let top: Float32Array | null = null;
  const readTile = async ({ source, scale: { metres } }: ElevationTile, index: number) => {
    const share = part(progress, index / tiles.length, (index + 1) / tiles.length);
    if ('levels' in source) return readRaster(source, metres, frame, notes, share);
    const points = await gridCloud(source, frame, metres, share);
    const reach = Math.max(CLOUD_REACH, 3 * frame.cellSize);
    const { bridged, cells } = bridgeGaps({ frame, cells: points.ground }, reach);
    notes.push(
      `${source.name}: ${points.groundPoints} ground points; ${Math.round((100 * cells) / bridged.cells.length)} % of the property's cells lie between them and are taken from the nearest three`,
    );
    if (top) for (let i = 0; i < top.length; i++) top[i] = higher(top[i]!, points.top[i]!);
    else top = points.top;
    return bridged.cells;
  };
  if (tiles.length === 1) return { cells: await readTile(tiles[0]!, 0), top, notes };
  const mosaic = startMosaic(frame);
  for (const [index, tile] of tiles.entries()) {
    const overlap = mosaic.add(await readTile(tile, index));
    if (overlap && Math.abs(overlap.median) > SEAM_DOUBT)
      notes.push(
        `Doubt: ${tile.source.name} lies ${Math.abs(overlap.median).toFixed(1)} m ${overlap.median > 0 ? 'above' : 'below'} the other elevation where they overlap (median of ${overlap.cells} cells); its unit or height datum may differ`,
      );
  }
  notes.push(`${tiles.length} elevation files are joined; where they overlap the finer or first one counts`);
  return { cells: mosaic.cells, top, notes };
}

const higher = (a: number, b: number): number => (Number.isNaN(a) || b > a ? b : a);

async function readRaster(
  raster: Raster,
  metres: number,
  frame: Frame,
  notes: string[],
  progress: Progress,
): Promise<Float32Array> {
  const cells = new Float32Array(cellCount(frame));
  const tile: Raster = { ...raster, valid: [LOWEST / metres, HIGHEST / metres], metInvalid: false };
  const sink = (row: number, [values]: Float32Array[]): void => {
    const start = row * frame.width;
    for (let column = 0; column < frame.width; column++) cells[start + column] = values![column]! * metres;
  };
  await warp(tile, frame, [0], 'value', sink, progress);
  if (tile.metInvalid)
    notes.push(`${raster.name} holds heights that are not ground on earth; those cells are taken as no data`);
  return cells;
}

/** First returns less the ground, in place; what is higher than any tree is a bird or a tower. */
function heightAbove(elevation: Grid, top: Float32Array): Grid {
  for (let i = 0; i < top.length; i++) {
    const height = top[i]! - elevation.cells[i]!;
    top[i] = height > TALLEST ? Number.NaN : Math.max(0, height);
  }
  return { frame: elevation.frame, cells: top };
}

function askUnit(name: string, doubt: string, tiles: ElevationTile[]): never {
  const read = [...new Set(tiles.map(({ scale }) => UNIT_LABELS[scale.unit]))].join(' and ');
  throw refusal(`${name}: ${doubt}. Its heights were read in ${read}; they may be in another unit`, {
    file: name,
    fix: 'look up the unit on the page it was downloaded from, and answer',
    question: { key: UNIT_FOR_ALL, choices: unitChoices() },
  });
}

/**
 * The mark of a wrong unit, in words, or null. Half of any farm country lies below a slope of 37°; heights in feet
 * read as metres multiply the tangent by 3.28. East of 98° W the United States stay below 2,040 m (Mount Mitchell,
 * 2,037 m, USGS), so higher ground there is in feet.
 */
function unitDoubt(elevation: Grid): string | null {
  const { frame, cells } = elevation;
  const { width, height, cellSize } = frame;
  const tangents: number[] = [];
  let highest = Number.NEGATIVE_INFINITY;
  const step = Math.max(1, Math.floor(Math.sqrt(cells.length / 40_000)));
  for (let row = 1; row < height - 1; row += step)
    for (let column = 1; column < width - 1; column += step) {
      const i = row * width + column;
      const dx = (cells[i + 1]! - cells[i - 1]!) / (2 * cellSize);
      const dy = (cells[i + width]! - cells[i - width]!) / (2 * cellSize);
      const tangent = Math.hypot(dx, dy);
      if (!Number.isNaN(tangent)) tangents.push(tangent);
      if (cells[i]! > highest) highest = cells[i]!;
    }
  const east = frame.longitude > -98 && frame.longitude < -66 && frame.latitude > 24 && frame.latitude < 50;
  if (east && highest > 2050)
    return `the ground rises to ${highest.toFixed(0)} m, higher than any land in the eastern United States`;
  tangents.sort((a, b) => a - b);
  const median = tangents[tangents.length >> 1] ?? 0;
  if (median > 0.75)
    return `half of the ground is steeper than ${((Math.atan(median) * 180) / Math.PI).toFixed(0)}°, which no farm country is`;
  return null;
}
