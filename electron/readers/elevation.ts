import { cellCount, type Frame, type Grid } from '../../core/grid/frame.ts';
import { Problem } from '../../core/grid/problem.ts';
import { type Progress, part } from '../../core/grid/progress.ts';
import type { Raster } from './raster.ts';
import type { VerticalScale } from './vertical.ts';
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
 * @throws Problem when no cell has a value
 */
export async function readElevation(
  tiles: ElevationTile[],
  frame: Frame,
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
  notes.push(
    ...plausibility(
      { frame, cells },
      tiles.map(({ scale }) => scale),
    ),
  );
  return { elevation: { frame, cells }, notes };
}

/**
 * Looks for the mark of a wrong unit. The steepest farm country has a median slope near 25°; heights in feet read
 * as metres multiply the tangent by 3.28. East of 98° W the United States stay below 2,040 m (Mount Mitchell,
 * 2,037 m), so higher ground there is feet.
 */
function plausibility(elevation: Grid, scales: VerticalScale[]): string[] {
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
  tangents.sort((a, b) => a - b);
  const median = tangents[tangents.length >> 1] ?? 0;
  const units = [...new Set(scales.map(({ unit }) => unit))].join(', ');
  const notes: string[] = [];
  if (median > 0.75)
    notes.push(
      `Doubt: half of the ground is steeper than ${((Math.atan(median) * 180) / Math.PI).toFixed(0)}°, which no farm country is. If the heights are in feet but were read as ${units}, slopes come out 3.28 times too steep; set answers.verticalUnit`,
    );
  const east = frame.longitude > -98 && frame.longitude < -66 && frame.latitude > 24 && frame.latitude < 50;
  if (east && highest > 2050)
    notes.push(
      `Doubt: the ground rises to ${highest.toFixed(0)} m, higher than any land in the eastern United States. The heights may be in feet but were read as ${units}; set answers.verticalUnit`,
    );
  return notes;
}
