/**
 * The property frame: one square, north-up grid in a metric projected CRS that every raster of a property
 * is brought onto once, so that all its grids line up cell by cell.
 */

export type TypedArray =
  | Float32Array
  | Float64Array
  | Uint8Array
  | Uint16Array
  | Uint32Array
  | Int8Array
  | Int16Array
  | Int32Array;

export interface Frame {
  /** EPSG code of a projected CRS in metres. */
  epsg: number;
  /** Easting of the west edge of the first column, m. */
  west: number;
  /** Northing of the north edge of the first row, m. */
  north: number;
  /** Side of a square cell, m. */
  cellSize: number;
  /** Columns. */
  width: number;
  /** Rows. */
  height: number;
  /** Geographic position of the frame's centre, degrees (WGS 84). */
  longitude: number;
  latitude: number;
  /** Bearing of grid north measured clockwise from true north at the centre, degrees. */
  convergence: number;
}

/** Row-major, row 0 north. NaN (floats) or 0 (classes) is no data. */
export interface Grid<A extends TypedArray = Float32Array> {
  frame: Frame;
  cells: A;
}

/** Easting and northing in the frame's CRS, m. */
export type Point = [x: number, y: number];

/** Largest property grid; the analysis holds some thirty arrays of this size. */
export const MOST_CELLS = 60e6;

export const cellCount = (frame: Frame): number => frame.width * frame.height;

/** Centre of a cell given its row-major index. */
export function cellCentre(frame: Frame, index: number): Point {
  const row = Math.floor(index / frame.width);
  const column = index - row * frame.width;
  return [frame.west + (column + 0.5) * frame.cellSize, frame.north - (row + 0.5) * frame.cellSize];
}

/** Row-major index of the cell that holds a point, or -1 outside the frame. */
export function cellAt(frame: Frame, x: number, y: number): number {
  const column = Math.floor((x - frame.west) / frame.cellSize);
  const row = Math.floor((frame.north - y) / frame.cellSize);
  if (column < 0 || row < 0 || column >= frame.width || row >= frame.height) return -1;
  return row * frame.width + column;
}

export function sameFrame(a: Frame, b: Frame): boolean {
  return (
    a.epsg === b.epsg &&
    a.west === b.west &&
    a.north === b.north &&
    a.cellSize === b.cellSize &&
    a.width === b.width &&
    a.height === b.height
  );
}

/** [west, south, east, north] of the frame, m. */
export function frameExtent(frame: Frame): [number, number, number, number] {
  return [
    frame.west,
    frame.north - frame.height * frame.cellSize,
    frame.west + frame.width * frame.cellSize,
    frame.north,
  ];
}

/** @throws Error when the grid's array does not match its frame, or two grids are not on one frame. */
export function assertOnFrame(frame: Frame, ...grids: { frame: Frame; cells: TypedArray }[]): void {
  for (const grid of grids) {
    if (!sameFrame(frame, grid.frame))
      throw new Error('grids are on different frames; bring them onto one at import');
    if (grid.cells.length !== cellCount(frame)) {
      throw new Error(
        `a grid of ${frame.width} x ${frame.height} needs ${cellCount(frame)} cells, got ${grid.cells.length}`,
      );
    }
  }
}
