/** The report as data: what each page says, before any typesetting. Distances in text are already in the user's units. */

export type ReportTopic = 'overview' | 'ground' | 'cover' | 'travel' | 'air' | 'stands' | 'methods';

export interface ReportTable {
  caption: string;
  columns: { title: string; align: 'left' | 'right' }[];
  rows: string[][];
}

export interface ReportPage {
  topic: ReportTopic;
  title: string;
  /** Grids painted under the page's map, bottom first, and tables drawn over it; null for a page without a map. */
  map: { grids: string[]; lines: string[] } | null;
  paragraphs: string[];
  tables: ReportTable[];
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
  pages: ReportPage[];
}
