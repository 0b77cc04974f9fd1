import type { Point } from '../grid/frame.ts';

/** Still cold air held behind a sill. Depths in m, area in m², volume in m³. */
export interface Pool {
  id: string;
  at: Point;
  depth: number;
  area: number;
  volume: number;
  sill: Point;
  sillElevation: number;
  /** It stands at its sill: more air runs over there. */
  full: boolean;
}

/** Where air released at a spot goes in the drainage of a clear calm night. */
export interface Carry {
  from: Point;
  path: Point[];
  length: number;
  /** Depth of the sliding layer at the spot, m. */
  layerDepth: number;
  /** Speed of the sliding layer at the spot, m/s. */
  speed: number;
  ends: 'pool' | 'map edge' | 'stagnant';
  pool: string | null;
  /** Where the pool it ends in runs over; null where it does not. */
  spills: Point | null;
}

/** Parts of the day by the sun at the place; see `dayPart`. */
export const DAY_PARTS = ['before sunrise', 'morning', 'midday', 'evening', 'night'] as const;
export type DayPart = (typeof DAY_PARTS)[number];

/** The sixteen sectors of 22.5 degrees, 0 centred on north, clockwise. */
export const SECTORS = [
  'N',
  'NNE',
  'NE',
  'ENE',
  'E',
  'ESE',
  'SE',
  'SSE',
  'S',
  'SSW',
  'SW',
  'WSW',
  'W',
  'WNW',
  'NW',
  'NNW',
] as const;

/** Counts of hourly records by sector of 22.5° (0 = from north), kept apart from calms. */
export interface WindRecord {
  station: string;
  /** Hours since 1970-01-01T00Z, one per kept record. */
  hours: Int32Array;
  /** Degrees the wind blows from, true; NaN when calm or variable. */
  direction: Float32Array;
  /** m/s. */
  speed: Float32Array;
  /** °C, NaN when missing. */
  temperature: Float32Array;
  /** Sky cover in eighths, NaN when missing. */
  sky: Float32Array;
  /** Strongest gust of the hour, m/s, NaN where none is told; left out where the record has none. */
  gust?: Float32Array;
  /** Height of the lowest cloud that covers more than half of the sky, m, NaN where not told; left out likewise. */
  ceiling?: Float32Array;
  notes: string[];
}
