import { cellCount, type Frame, type Grid } from '../../core/grid/frame.ts';
import { type Progress, part } from '../../core/grid/progress.ts';
import type { Raster } from './raster.ts';
import { refusal } from './refusal.ts';
import { warp } from './warp.ts';

/** Codes of the public NLCD legend (MRLC; classes 11 to 95, Alaska-only ones included). */
const NLCD = new Set([11, 12, 21, 22, 23, 24, 31, 41, 42, 43, 51, 52, 71, 72, 73, 74, 81, 82, 90, 95]);

/**
 * Land-cover codes on the frame: nearest pixel, or the majority where the source is at least twice as fine. 0 no data.
 * @throws Problem when the file holds no public land-cover codes on the property
 */
export async function readLandcover(
  rasters: Raster[],
  frame: Frame,
  progress: Progress,
): Promise<{ landcover: Grid<Uint8Array>; notes: string[] }> {
  const cells = new Uint8Array(cellCount(frame));
  const strange = new Set<number>();
  let known = 0;
  for (const [i, raster] of rasters.entries())
    await warp(
      raster,
      frame,
      [0],
      'class',
      (row, [values]) => {
        const start = row * frame.width;
        for (let column = 0; column < frame.width; column++) {
          const code = values![column]!;
          if (cells[start + column] !== 0 || !(code > 0)) continue;
          if (NLCD.has(code)) {
            cells[start + column] = code;
            known++;
          } else if (code !== 127 && code !== 250 && code !== 255) strange.add(code);
        }
      },
      part(progress, i / rasters.length, (i + 1) / rasters.length),
    );
  const name = rasters.map(({ file }) => file.name).join(', ');
  if (known === 0)
    throw refusal(`${name} holds none of the public land-cover (NLCD) codes on the property`, {
      file: rasters[0]!.file.name,
      fix: 'use the NLCD land-cover raster itself (codes 11 to 95, not its coloured picture), or leave this file out',
    });
  const notes: string[] = [];
  if (strange.size > 0)
    notes.push(
      `${name}: codes ${[...strange]
        .sort((a, b) => a - b)
        .slice(0, 8)
        .join(', ')} are not in the public legend and are left empty`,
    );
  return { landcover: { frame, cells }, notes };
}
