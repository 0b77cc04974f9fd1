import { cellCount, type Frame, type Grid } from '../../core/grid/frame.ts';
import { fillHoles } from '../../core/grid/holes.ts';
import { Problem } from '../../core/grid/problem.ts';
import { type Progress, part } from '../../core/grid/progress.ts';
import { startMosaic } from './mosaic.ts';
import type { Raster } from './raster.ts';
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

export interface ElevationTile {
  raster: Raster;
  scale: VerticalScale;
}

export interface Ground {
  elevation: Grid;
  /** 1 where a hole in the files was filled from its rim; null when none was. */
  holes: Grid<Uint8Array> | null;
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
  const name = tiles.map(({ raster }) => raster.file.name).join(', ');
  const { cells, notes } = await join(tiles, frame, progress);
  const holed = fillHoles({ frame, cells }, Math.max(WIDEST_HOLE, WIDEST_HOLE_CELLS * frame.cellSize));
  const elevation = holed.filled;
  let known = 0;
  for (const value of elevation.cells) if (!Number.isNaN(value)) known++;
  if (known === 0)
    throw new Problem(`${name} has no elevation anywhere on the property: every cell is no data`, {
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
  return { elevation, holes: holed.holes > 0 ? holed.mask : null, notes };
}

async function join(
  tiles: ElevationTile[],
  frame: Frame,
  progress: Progress,
): Promise<{ cells: Float32Array; notes: string[] }> {
  const notes: string[] = [];
  const readTile = async ({ raster, scale: { metres } }: ElevationTile, index: number) => {
    const cells = new Float32Array(cellCount(frame));
    const tile: Raster = { ...raster, valid: [LOWEST / metres, HIGHEST / metres], metInvalid: false };
    await warp(
      tile,
      frame,
      [0],
      'value',
      (row, [values]) => {
        const start = row * frame.width;
        for (let column = 0; column < frame.width; column++)
          cells[start + column] = values![column]! * metres;
      },
      part(progress, index / tiles.length, (index + 1) / tiles.length),
    );
    if (tile.metInvalid)
      notes.push(
        `${raster.file.name} holds heights that are not ground on earth; those cells are taken as no data`,
      );
    return cells;
  };
  if (tiles.length === 1) return { cells: await readTile(tiles[0]!, 0), notes };
  const mosaic = startMosaic(frame);
  for (const [index, tile] of tiles.entries()) {
    const overlap = mosaic.add(await readTile(tile, index));
    if (overlap && Math.abs(overlap.median) > SEAM_DOUBT)
      notes.push(
        `Doubt: ${tile.raster.file.name} lies ${Math.abs(overlap.median).toFixed(1)} m ${overlap.median > 0 ? 'above' : 'below'} the other elevation where they overlap (median of ${overlap.cells} cells); its unit or height datum may differ`,
      );
  }
  notes.push(`${tiles.length} elevation files are joined; where they overlap the finer or first one counts`);
  return { cells: mosaic.cells, notes };
}

function askUnit(name: string, doubt: string, tiles: ElevationTile[]): never {
  const read = [...new Set(tiles.map(({ scale }) => UNIT_LABELS[scale.unit]))].join(' and ');
  throw new Problem(`${name}: ${doubt}. Its heights were read in ${read}; they may be in another unit`, {
    file: name,
    fix: `look up the unit on the page it was downloaded from and answer; in a folder, put "answers": {"${UNIT_FOR_ALL}": "foot"} (or "metre" to keep it, or "us-survey-foot") into property.json`,
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
