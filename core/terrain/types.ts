import type { Point } from '../grid/frame.ts';

/** Landform classes of the `forms` grid; 0 is no data. */
export const LANDFORM = {
  flat: 1,
  slope: 2,
  steepFace: 3,
  ridge: 4,
  spur: 5,
  saddle: 6,
  bench: 7,
  draw: 8,
  creekBottom: 9,
} as const;

/** Cells from this size up are public coarse elevation, m: they show no saddle that a deer uses. */
export const COARSE_CELL = 30;

/** What was done to the ground where the water surface differs from it; 0 is nothing. */
export const WATER_WORK = { filled: 1, cut: 2, keptSink: 3 } as const;

export interface WaterChanges {
  /** Dams across draws that were cut through, as a culvert or creek would; lengths and depths in m. */
  cuts: { from: Point; to: Point; depth: number; length: number }[];
  /** Closed hollows left as they are, deepest first; area in m². */
  sinks: { at: Point; depth: number; area: number }[];
}

/** Ground that starts a drainage line and how its size was chosen. */
export interface DrainageStart {
  cells: number;
  /** m². */
  area: number;
  how: 'set by the user' | 'constant drop' | 'common size';
}

/** A reach of the drainage net between two joins; `path` runs downstream. Lengths in m, areas in m². */
export interface DrainageLine {
  id: string;
  /** Strahler order. */
  order: number;
  path: Point[];
  length: number;
  /** Area drained at the lower end. */
  catchment: number;
  /** Elevation lost along the reach, m. */
  drop: number;
  /** The reach it joins, or null where it leaves the map. */
  next: string | null;
}

/** A cross-section of the channel along a drainage line, looking downstream. Lengths in m. */
export interface ChannelStation {
  id: string;
  /** The drainage line it lies on, and how far from its head. */
  line: string;
  at: Point;
  along: number;
  /** Depth of the bed below the top of each bank; null where not stated. */
  left: number | null;
  right: number | null;
  /** Width at the height of the lower bank. */
  width: number | null;
  /** What the measures rest on, or why there are none. */
  source: 'elevation' | 'field' | 'no banks' | 'cells too coarse';
}

export interface Saddle {
  id: string;
  at: Point;
  elevation: number;
  /** Rise from the saddle to the lower of the two summits it joins, m. */
  rise: number;
  /** Fall from the saddle to the draws on its two sides within the search distance, m. */
  falls: [number, number];
  /** Width of the gap 3 m above the saddle, m; null where it cannot be measured at this cell size. */
  width: number | null;
}

/** Forms that were found and are not listed, and why. */
export interface FormsLeftOut {
  /** Saddles that rise or fall by less than cells of this size can be trusted with. */
  faintSaddles: number;
  /** Saddles less marked than the ones listed, beyond what cells of this size should be asked for. */
  lesserSaddles: number;
  /** Level strips on a hillside that are the bed of a mapped road or railroad. */
  roadBeds: number;
}

export interface Bench {
  id: string;
  /** Rings of the outline, outer first. */
  outline: Point[][];
  centre: Point;
  area: number;
  length: number;
  width: number;
  /** Mean slope of the ground just above and just below, degrees. */
  slopeAbove: number;
  slopeBelow: number;
}

export interface RidgeLine {
  id: string;
  path: Point[];
  length: number;
}

export interface Draw {
  id: string;
  path: Point[];
  length: number;
  /** Mean depth of the axis below its shoulders, m. */
  depth: number;
  /** Elevation lost from head to mouth, m. */
  relief: number;
}

export interface ContourLine {
  elevation: number;
  /** Index contours are drawn heavier and labelled. */
  index: boolean;
  paths: Point[][];
}
