import type { Point } from '../../core/grid/frame.ts';

/** Answers about the ground, as the window gets them: SI numbers and sentences in the user's units. */

export interface OverlaySummary {
  /** What its tiles and legend are asked by; a newer one of its kind ends it. */
  id: string;
  kind: string;
  title: string;
}

export interface CatchmentAnswer {
  /** The ground that drains to the outlet, in the frame's CRS. */
  outline: GeoJSON.Geometry;
  /** m². */
  area: number;
  outlet: Point;
  /** How far the click was moved onto a drainage line, m; null when none was near. */
  snapped: number | null;
  /** More may drain to here from beyond the map. */
  reachesEdge: boolean;
  sentence: string;
}

export interface ViewAnswer {
  overlay: OverlaySummary;
  /** Ground of which more than half of the target is left in view, m². */
  clear: number;
  /** Ground of which a twentieth or more is; the same over bare ground. */
  glimpsed: number;
  sentence: string;
  /** What the picture rests on. */
  note: string;
}

export interface WayViewAnswer {
  overlay: OverlaySummary;
  /** Ground from which any of the way is in view, m². */
  seenFrom: number;
  /** The most of the way, 0..1, that any spot of each area of travel sees; most first. */
  areas: { name: string; share: number }[];
  sentence: string;
  note: string;
}

export interface SightlineAnswer {
  visible: boolean;
  /** m; at most 400 places, ground null where unknown. */
  profile: { distance: number; ground: number | null }[];
  length: number;
  /** The first ground that stands in the line, and by how much, m. */
  obstruction: { at: Point; distance: number; above: number } | null;
  sentence: string;
  note: string;
}

export interface SunAnswer {
  /** In the order of the day; null where the sun does not cross that height. */
  times: {
    event: 'dawn' | 'sunrise' | 'noon' | 'sunset' | 'dusk';
    label: string;
    utc: string | null;
    standard: string | null;
  }[];
  /** Standard time the place's longitude gives, e.g. `UTC-6`. */
  zone: string;
  note: string;
}

export interface ShadowAnswer {
  overlay: OverlaySummary;
  /** Degrees: bearing from true north, height above a level horizon. */
  sun: { azimuth: number; altitude: number };
  /** Share of the known ground in shade, 0..1. */
  share: number;
  sentence: string;
}

export interface FetchItem {
  kind: 'elevation' | 'imagery' | 'land cover' | 'wind';
  /** How its published name starts. */
  name: string;
  what: string;
  have: boolean;
  /** What going without it costs the answer; null when it is there. */
  cost: string | null;
}

export interface DrainageAnswer {
  /** Ground that starts a drainage line, m². */
  area: number;
  how: 'set by the user' | 'constant drop' | 'common size';
  lines: number;
  sentence: string;
}
