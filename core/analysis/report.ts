/** The report as data: what each page says, before any typesetting. Distances in text are already in the user's units. */

import type { Point } from '../grid/frame.ts';
import type { StripRow, WalkList, WorkPlan } from '../plan/types.ts';
import type { SectorState } from '../stands/types.ts';
import type { Edition } from './report-model/edition.ts';

export type ReportTopic =
  | 'front'
  | 'overview'
  | 'ground'
  | 'cover'
  | 'travel'
  | 'air'
  | 'stands'
  | 'card'
  | 'season'
  | 'work'
  | 'calendar'
  | 'first'
  | 'job'
  | 'walk'
  | 'glossary'
  | 'methods';

export interface ReportMap {
  /** Grids painted under the page's map, bottom first, and tables drawn over it. */
  grids: string[];
  lines: string[];
  /** West, south, east, north in frame coordinates; the property when left out. */
  region?: [number, number, number, number];
  /** Features the map is about, by id. */
  focus?: string[];
  /** Rings about spots, m. */
  reach?: { at: Point; radius: number; label: string }[];
  /** Arcs of a ring by what lies behind a deer there; bearings in degrees from grid north, radius in m. */
  sectors?: { at: Point; radius: number; from: number; to: number; state: SectorState }[];
  /** Drawn low, on a page that is mostly words. */
  low?: true;
  /** Numbered spots. */
  marks?: { at: Point; label: string }[];
}

export interface ReportTable {
  caption: string;
  columns: { title: string; align: 'left' | 'right' }[];
  rows: string[][];
}

/** A picture taken on the ground, by the id the property keeps it under. */
export interface ReportPicture {
  id: string;
  caption: string;
}

export interface ReportPage {
  topic: ReportTopic;
  title: string;
  /** Null for a page without a map. */
  map: ReportMap | null;
  /** Short facts that stand beside the map. */
  beside?: ReportTable;
  /** A strip of the year, row by row. */
  strip?: StripRow[];
  paragraphs: string[];
  tables: ReportTable[];
  /** Stills from the walk. */
  pictures?: ReportPicture[];
  /** What this page does not know. */
  doubts: string[];
  cautions: string[];
}

export interface ReportModel {
  /** Version of this shape, as the schema in the project documents it. */
  version: 1;
  property: {
    name: string;
    invented: boolean;
    epsg: number;
    cellSize: number;
    longitude: number;
    latitude: number;
    /** m²; null without a boundary. */
    ownedArea: number | null;
  };
  /** ISO date. */
  made: string;
  units: 'us' | 'metric';
  /** What it is printed on. */
  paper: 'letter' | 'A4';
  /** As typed in the brief; empty where not. */
  consultant: string;
  client: string;
  /** What stands on every map while the property line is not from a survey; null where it is. */
  lineNote: string | null;
  /** The work and the walk as data. */
  work: WorkPlan;
  walk: WalkList;
  /** What the next report is compared with. */
  edition: Edition;
  pages: ReportPage[];
}
