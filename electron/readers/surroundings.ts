import type { Terrain } from '../../core/analysis/artifacts.ts';
import { cellCount, type Frame } from '../../core/grid/frame.ts';
import { type Progress, part } from '../../core/grid/progress.ts';
import { crsDefinition, WGS84 } from './crs.ts';
import { type ElevationTile, readElevation } from './elevation.ts';
import { placed } from './frame.ts';
import { meets, readImagery } from './imagery.ts';
import { readLandcover } from './landcover.ts';
import { type Box, boxIn, footprint, grow, type Placed, union } from './placement.ts';
import type { Raster } from './raster.ts';

/** The most cells surroundings are kept on: they only tell whether the margin was wide enough. */
const MOST_CELLS = 150_000;
/** With less than this times the property's own ground, they would tell nothing. */
const LEAST_MORE = 1.25;

/** What the surroundings are read from, finest first. */
export interface Around {
  elevation: ElevationTile[];
  photos: Raster[];
  covers: Raster[];
}

/**
 * Ground and cover within twice the margin of a boundary, on cells a whole number of times as wide as the property's
 * and in line with them. Null when the files do not reach much farther than the property's own frame: each kind that
 * the property has must, or cover would end where the margin does.
 *
 * @param lonLatBox of the boundary, degrees
 * @param margin ground kept around the boundary on the property's own frame, m
 */
export async function readSurroundings(
  { elevation, photos, covers }: Around,
  frame: Frame,
  lonLatBox: Box,
  margin: number,
  progress: Progress,
): Promise<Terrain | null> {
  const kinds = [elevation.map(({ source }) => source), photos, covers].filter(({ length }) => length > 0);
  const wide = surroundingFrame(frame, kinds, lonLatBox, margin);
  if (wide === null) return null;
  const near = <Source extends Placed>(sources: Source[]) => sources.filter((source) => meets(source, wide));
  const ground = await readElevation(
    elevation.filter(({ source }) => meets(source, wide)),
    wide,
    // Any doubt about the unit was settled on the property's own ground.
    true,
    part(progress, 0, 0.4),
  );
  const photo = photos.length > 0 ? await readImagery(near(photos), wide, part(progress, 0.4, 0.9)) : null;
  const cover = covers.length > 0 ? await readLandcover(near(covers), wide, part(progress, 0.9, 1)) : null;
  return {
    elevation: ground.elevation,
    imagery: photo?.imagery ?? null,
    landcover: cover?.landcover ?? null,
    vegetation: ground.vegetation,
    holes: ground.holes,
  };
}

/** The frame within twice the margin that files of every kind reach, on cells wide enough to be few. */
export function surroundingFrame(
  frame: Frame,
  kinds: readonly (readonly Placed[])[],
  lonLatBox: Box,
  margin: number,
): Frame | null {
  const proj4 = crsDefinition(frame.epsg);
  const boxes = [
    grow(boxIn(lonLatBox, WGS84, proj4), 2 * margin),
    ...kinds.map((sources) => union(sources.map((source) => footprint(source, proj4)))),
  ];
  const west = Math.max(...boxes.map((box) => box[0]));
  const south = Math.max(...boxes.map((box) => box[1]));
  const east = Math.min(...boxes.map((box) => box[2]));
  const north = Math.min(...boxes.map((box) => box[3]));
  const more = ((east - west) * (north - south)) / (cellCount(frame) * frame.cellSize ** 2);
  if (!(east > west && north > south && more >= LEAST_MORE)) return null;
  const factor = Math.max(1, Math.ceil(Math.sqrt((cellCount(frame) * more) / MOST_CELLS)));
  const cellSize = frame.cellSize * factor;
  // Whole cells inside what is known, counted from the corner of the property's own frame.
  const left = Math.ceil((west - frame.west) / cellSize - 1e-6);
  const top = Math.ceil((frame.north - north) / cellSize - 1e-6);
  const right = Math.floor((east - frame.west) / cellSize + 1e-6);
  const bottom = Math.floor((frame.north - south) / cellSize + 1e-6);
  return placed({
    ...frame,
    cellSize,
    west: frame.west + left * cellSize,
    north: frame.north - top * cellSize,
    width: right - left,
    height: bottom - top,
  });
}
