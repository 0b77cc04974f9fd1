import type { Artifacts } from '../../core/analysis/artifacts.ts';
import type { Grid, TypedArray } from '../../core/grid/frame.ts';
import type { GeoTiffOptions } from './geotiff.ts';
import { COVER_STYLES, FORM_STYLES } from './palette.ts';
import { parseColour } from './ramp.ts';

/** What each grid is called outside the program, in the order it is written. */

/** Names of the artifacts that are grids. */
export type GridName = {
  [N in keyof Artifacts]-?: NonNullable<Artifacts[N]> extends Grid<TypedArray> ? N : never;
}[keyof Artifacts];

export interface GridTitle {
  /** File name without ending; with `_` for `-` the table in the property file. */
  name: string;
  title: string;
  /** UCUM code; `1` for plain numbers and classes. */
  unit: string;
}

export const GRIDS: Record<GridName, GridTitle> = {
  elevation: { name: 'elevation', title: 'Ground elevation', unit: 'm' },
  slope: { name: 'slope', title: 'Slope', unit: 'deg' },
  aspect: { name: 'aspect', title: 'Way the ground faces, clockwise from grid north', unit: 'deg' },
  shade: { name: 'shade', title: 'Shade, 1 to 255', unit: '1' },
  filled: { name: 'filled', title: 'Elevation with depressions filled', unit: 'm' },
  water: { name: 'water', title: 'Surface water runs on: dams cut, sinks kept, the rest filled', unit: 'm' },
  waterWork: { name: 'water-work', title: 'Done to it: 1 filled, 2 cut, 3 kept sink', unit: '1' },
  flowDirection: {
    name: 'flow-direction',
    title: 'Way water leaves the cell, 1 to 8 clockwise from east, 9 sink or outlet',
    unit: '1',
  },
  accumulation: { name: 'accumulation', title: 'Cells drained', unit: '1' },
  forms: { name: 'forms', title: 'Landforms', unit: '1' },
  landcover: { name: 'land-cover', title: 'Public land-cover codes (NLCD)', unit: '1' },
  vegetation: { name: 'vegetation', title: 'Height of trees and brush above the ground', unit: 'm' },
  holes: { name: 'holes', title: 'Holes in the elevation, filled from their rim', unit: '1' },
  cover: { name: 'cover', title: 'Cover classes', unit: '1' },
  canopy: { name: 'canopy', title: 'Share of ground under canopy', unit: '1' },
  screening: { name: 'screening', title: 'Share of a deer hidden at 1 to 5 ft', unit: '1' },
  footing: { name: 'footing', title: 'Ease of footing, 1 firm, 0 impassable', unit: '1' },
  blocks: { name: 'blocks', title: 'Cover block numbers', unit: '1' },
  edgeDistance: { name: 'edge-distance', title: 'Distance to the edge of cover, negative inside', unit: 'm' },
  resistance: { name: 'resistance', title: 'Cost of travel against easy ground, climbing apart', unit: '1' },
  areas: { name: 'areas', title: 'Travel area numbers', unit: '1' },
  passage: { name: 'passage', title: 'Share of all travel through the cell', unit: '1' },
  coldAir: { name: 'cold-air', title: 'Depth of cold air at the end of a clear calm night', unit: 'm' },
  airSpeed: { name: 'air-speed', title: 'Speed of the sliding layer of cold air', unit: 'm/s' },
  airBearing: {
    name: 'air-bearing',
    title: 'Way the sliding layer moves, clockwise from grid north',
    unit: 'deg',
  },
  poolDepth: { name: 'pools', title: 'Depth of still cold air', unit: 'm' },
};

export const gridNames = Object.keys(GRIDS) as GridName[];

/** How a grid's GeoTIFF names itself. */
export function geoTiffOptions(grid: GridName): GeoTiffOptions {
  const { title, unit } = GRIDS[grid];
  const styles = grid === 'forms' ? FORM_STYLES : grid === 'cover' ? COVER_STYLES : null;
  return {
    description: title,
    ...(unit === '1' ? {} : { unit }),
    ...(styles
      ? {
          classes: Object.fromEntries(Object.entries(styles).map(([value, { label }]) => [value, label])),
          colours: Object.fromEntries(
            Object.entries(styles).map(([value, { colour }]) => [value, parseColour(colour)]),
          ),
        }
      : {}),
  };
}
