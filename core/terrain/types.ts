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
