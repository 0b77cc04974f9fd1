import type { Imagery } from '../../core/cover/types.ts';
import { cellCount, type Frame } from '../../core/grid/frame.ts';
import { type Progress, part } from '../../core/grid/progress.ts';
import { crsDefinition } from './crs.ts';
import { footprint, ownCellSize, type Placed } from './placement.ts';
import { type Raster, readWindow } from './raster.ts';
import { refusal } from './refusal.ts';
import { warp } from './warp.ts';

/** The sharp photo for the map is kept to this many cells. */
const MAX_DISPLAY_CELLS = 64e6;

/** How stored samples become 0..255, the same for every band so that their ratios keep their order. */
interface Stretch {
  low: number;
  high: number;
  note: string | null;
}

/**
 * Photos on the frame: red, green, blue and, where all files have it, near infrared, 0..255. Averaged where the
 * photo is finer. The first photo that covers a cell wins.
 * @throws Problem for a file that is not a 3 or 4-band photo
 */
export async function readImagery(
  rasters: Raster[],
  frame: Frame,
  progress: Progress,
): Promise<{ imagery: Imagery; notes: string[] }> {
  const notes: string[] = [];
  const infrared = rasters.every((raster) => colourBands(raster).length === 4);
  const count = infrared ? 4 : 3;
  const imagery: Imagery = {
    frame,
    bands: Array.from({ length: count }, () => new Uint8Array(cellCount(frame))),
    valid: new Uint8Array(cellCount(frame)),
  };
  if (!infrared && rasters.some((raster) => colourBands(raster).length === 4))
    notes.push('Not every photo has a near-infrared band, so none is used');
  for (const [i, raster] of rasters.entries()) {
    const stretch = await stretchOf(raster);
    if (stretch.note) notes.push(stretch.note);
    const season = seasonOf(raster.name);
    if (season) notes.push(season);
    const bands = colourBands(raster).slice(0, count);
    await warp(
      raster,
      frame,
      raster.alpha === null ? bands : [...bands, raster.alpha],
      raster.photometric === 3 ? 'class' : 'value',
      (row, values) => paintRow(imagery, raster, stretch, row, values),
      part(progress, i / rasters.length, (i + 1) / rasters.length),
    );
  }
  let known = 0;
  for (const value of imagery.valid) known += value;
  const name = rasters.map(({ file }) => file.name).join(', ');
  if (known === 0)
    throw refusal(`${name} does not cover the property`, {
      file: rasters[0]!.file.name,
      fix: 'download the photo that covers it, or leave this file out',
    });
  const share = known / imagery.valid.length;
  if (share < 0.999)
    notes.push(`${name}: the photo covers ${Math.floor(share * 100)} % of the property's cells`);
  return { imagery, notes };
}

/** @throws Problem when the file is not a colour photo */
function colourBands(raster: Raster): number[] {
  if (raster.photometric === 3 && raster.palette) return [0, 0, 0];
  const colours = raster.bands - (raster.alpha === null ? 0 : 1);
  if (colours < 3)
    throw refusal(
      `${raster.file.name} has ${colours} colour band${colours === 1 ? '' : 's'}; a photo needs 3 or 4`,
      {
        file: raster.file.name,
        fix: 'download the colour (red, green, blue) or colour and near-infrared version',
      },
    );
  return [0, 1, 2, 3].filter((band) => band !== raster.alpha && band < raster.bands).slice(0, 4);
}

function paintRow(
  imagery: Imagery,
  raster: Raster,
  stretch: Stretch,
  row: number,
  values: Float32Array[],
): void {
  const { frame, bands, valid } = imagery;
  const gain = 255 / (stretch.high - stretch.low);
  const alpha = raster.alpha === null ? null : values[bands.length]!;
  const start = row * frame.width;
  for (let column = 0; column < frame.width; column++) {
    if (valid[start + column]) continue;
    if (alpha && !(alpha[column]! > 0)) continue;
    let sum = 0;
    for (let b = 0; b < bands.length; b++) sum += values[b]![column]!;
    // A pixel black in every band is the collar around a photo, not ground.
    if (!(sum > 0)) continue;
    valid[start + column] = 1;
    for (let b = 0; b < bands.length; b++) {
      const value = raster.palette
        ? raster.palette[b * 2 ** raster.levels[0]!.bits + values[b]![column]!]! / 256
        : (values[b]![column]! - stretch.low) * gain;
      bands[b]![start + column] = Math.max(0, Math.min(255, Math.round(value)));
    }
  }
}

/** 8-bit as it is; wider samples by the file's stated maximum, else by the 2nd and 98th percent of all bands together. */
async function stretchOf(raster: Raster): Promise<Stretch> {
  const { bits, format } = raster.levels[0]!;
  if (bits === 8 && format === 1) return { low: 0, high: 255, note: null };
  const { name } = raster.file;
  if (raster.statedMax !== null && raster.statedMax > 0)
    return {
      low: 0,
      high: raster.statedMax,
      note: `${name}: samples up to the stated ${raster.statedMax} are scaled to 255`,
    };
  const level = raster.levels.at(-1)!;
  const sample: number[] = [];
  const bands = colourBands(raster);
  // Nine windows spread over the file stand for it.
  const side = 128;
  for (let j = 0; j < 3; j++)
    for (let i = 0; i < 3; i++) {
      const x = Math.floor(((i + 0.5) / 3) * level.width - side / 2);
      const y = Math.floor(((j + 0.5) / 3) * level.height - side / 2);
      const window = await readWindow(raster, level, bands, { x, y, width: side, height: side });
      for (const cells of window.bands) for (const value of cells) if (value > 0) sample.push(value);
    }
  if (sample.length === 0) return { low: 0, high: 2 ** Math.min(bits, 16) - 1, note: null };
  sample.sort((a, b) => a - b);
  const low = sample[Math.floor(sample.length * 0.02)]!;
  const high = Math.max(low + 1e-6, sample[Math.ceil(sample.length * 0.98) - 1]!);
  return {
    low,
    high,
    note: `${name}: ${bits}-bit samples from ${low.toFixed(0)} to ${high.toFixed(0)} (2 to 98 %) are scaled to 0 to 255`,
  };
}

/**
 * Date and leaf state from the name of a public quarter quadrangle (`m_3608434_ne_16_060_20210710.tif`; the first
 * date is the flight's). Leaf state by month in the eastern woods: common practice, no source.
 */
export function seasonOf(name: string): string | null {
  const date = /^m_\d{7}_[ns][ew]_\d+_\w+?_(\d{4})(\d\d)(\d\d)/i.exec(name);
  if (!date) return null;
  const [, year, month, day] = date;
  const leaves = Number(month) >= 5 && Number(month) <= 10 ? 'leaves on' : 'leaves off';
  return `${name}: the photo is of ${year}-${month}-${day}, ${leaves}`;
}

/** The frame on which the map shows the photo sharp: same extent, cells a whole part of the frame's; null if no finer. */
export function displayFrame(rasters: Raster[], frame: Frame): Frame | null {
  const own = Math.min(...rasters.map((raster) => ownCellSize(raster)));
  const limit = Math.floor(Math.sqrt(MAX_DISPLAY_CELLS / cellCount(frame)));
  const parts = Math.min(Math.ceil(frame.cellSize / own - 0.1), limit);
  if (!(parts >= 2)) return null;
  return {
    ...frame,
    cellSize: frame.cellSize / parts,
    width: frame.width * parts,
    height: frame.height * parts,
  };
}

/** Whether a raster's footprint meets the frame at all. */
export function meets(raster: Placed, frame: Frame): boolean {
  const [west, south, east, north] = footprint(raster, crsDefinition(frame.epsg));
  return (
    west < frame.west + frame.width * frame.cellSize &&
    east > frame.west &&
    south < frame.north &&
    north > frame.north - frame.height * frame.cellSize
  );
}
