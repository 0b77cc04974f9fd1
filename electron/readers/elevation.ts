import { cellCount, type Frame, type Grid } from '../../core/grid/frame.ts';
import { Problem } from '../../core/grid/problem.ts';
import { type Progress, part } from '../../core/grid/progress.ts';
import type { Raster } from './raster.ts';
import { UNIT_FOR_ALL, UNIT_LABELS, unitChoices, type VerticalScale } from './vertical.ts';
import { warp } from './warp.ts';

/** Heights outside this range, m, are not ground on earth: voids whose value the file forgot to state. */
const LOWEST = -500;
const HIGHEST = 9000;

export interface ElevationTile {
  raster: Raster;
  scale: VerticalScale;
}

/**
 * Elevation of several tiles on the frame, m. The first tile that has a value wins; NaN where none has.
 * @param confirmed the person has answered about the unit, so that strange ground is noted and not asked about again
 * @throws Problem when no cell has a value, or the heights look like feet read as metres
 */
export async function readElevation(
  tiles: ElevationTile[],
  frame: Frame,
  confirmed: boolean,
  progress: Progress,
): Promise<{ elevation: Grid; notes: string[] }> {
  const cells = new Float32Array(cellCount(frame)).fill(Number.NaN);
  const notes: string[] = [];
  for (const [i, { raster, scale }] of tiles.entries()) {
    const { metres } = scale;
    const tile: Raster = { ...raster, valid: [LOWEST / metres, HIGHEST / metres], metInvalid: false };
    await warp(
      tile,
      frame,
      [0],
      'value',
      (row, [values]) => {
        const start = row * frame.width;
        for (let column = 0; column < frame.width; column++)
          if (Number.isNaN(cells[start + column]!)) cells[start + column] = values![column]! * metres;
      },
      part(progress, i / tiles.length, (i + 1) / tiles.length),
    );
    if (tile.metInvalid)
      notes.push(
        `${raster.file.name} holds heights that are not ground on earth; those cells are taken as no data`,
      );
  }
  const name = tiles.map(({ raster }) => raster.file.name).join(', ');
  let known = 0;
  for (const value of cells) if (!Number.isNaN(value)) known++;
  if (known === 0)
    throw new Problem(`${name} has no elevation anywhere on the property: every cell is no data`, {
      file: name,
      fix: 'download elevation that covers the property; a tile beside it will not do',
    });
  const share = 1 - known / cells.length;
  if (share > 0.0005)
    notes.push(
      `${name}: ${(share * 100).toFixed(share < 0.01 ? 2 : 0)} % of the property's cells have no elevation`,
    );
  if (tiles.length > 1)
    notes.push(
      `${tiles.length} elevation files are joined; where they overlap the finer or first one counts`,
    );
  const doubt = unitDoubt({ frame, cells });
  if (doubt && !confirmed) askUnit(name, doubt, tiles);
  if (doubt) notes.push(`Doubt: ${doubt}. The unit was confirmed, so it stands`);
  return { elevation: { frame, cells }, notes };
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
