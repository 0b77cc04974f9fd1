import { z } from 'zod';
import type { BriefDefault } from '../../core/analysis/brief-defaults.ts';
import type { Frame } from '../../core/grid/frame.ts';
import type { Question } from '../../core/grid/problem.ts';
import type { WalkList } from '../../core/plan/types.ts';
import type { Assumption } from '../../core/travel/types.ts';
import type {
  HourAnswer,
  RoseAnswer,
  ScentAnswer,
  StandAirAnswer,
  TrailsAnswer,
  TurnsAnswer,
  WayScentAnswer,
} from './air-answers.ts';
import { airRequests } from './air-requests.ts';
import { coverRequests } from './cover-requests.ts';
import type { DraftAnswer } from './draft-answers.ts';
import { draftRequests } from './draft-requests.ts';
import type {
  CatchmentAnswer,
  DrainageAnswer,
  FetchItem,
  ShadowAnswer,
  SightlineAnswer,
  SunAnswer,
  ViewAnswer,
  WayViewAnswer,
} from './ground-answers.ts';
import type { HandAnswers } from './hand-answers.ts';
import { handRequests } from './hand-requests.ts';
import type { LogAnswers } from './log-answers.ts';
import { logRequests } from './log-requests.ts';
import type { ProfileAnswer } from './map-answers.ts';
import { mapToolRequests } from './map-requests.ts';
import type { PictureAnswers } from './picture-answers.ts';
import { pictureRequests } from './picture-requests.ts';
import type { ScreenAnswers } from './screen-answers.ts';
import { screenRequests } from './screen-requests.ts';
import { feature, id, path, position, spot } from './shapes.ts';

import { type ShelfAnswers, shelfRequests } from './shelf-requests.ts';
import type { StandApproachAnswer, StandLookAnswer } from './stands-answers.ts';
import { standsRequests } from './stands-requests.ts';
import type { StandsSearchAnswers } from './stands-search-answers.ts';
import { standsSearchRequests } from './stands-search-requests.ts';
import type {
  AssumptionSetRow,
  BlindTrialAnswer,
  ClosuresAnswer,
  FitAnswer,
  SightingsAnswer,
  UncertaintyAnswer,
  WhatIfAnswer,
  WhyAnswer,
  YearsAnswer,
} from './travel-answers.ts';
import { travelRequests } from './travel-requests.ts';
import type { CompareAnswer, VariantsAnswer } from './variant-answers.ts';
import { variantRequests } from './variant-requests.ts';
import type { VerdictAnswers } from './verdict-answers.ts';
import { verdictRequests } from './verdict-requests.ts';
import type { WorkAnswer } from './work-answers.ts';
import { workRequests } from './work-requests.ts';

export type { BriefDefault } from '../../core/analysis/brief-defaults.ts';
export type { KeptView } from '../../core/analysis/settings.ts';
export type * from './air-answers.ts';
export type * from './draft-answers.ts';
export type * from './ground-answers.ts';
export type * from './hand-answers.ts';
export type * from './log-answers.ts';
export type * from './map-answers.ts';
export type * from './picture-answers.ts';
export type * from './screen-answers.ts';
export type { ShelfRow } from './shelf-requests.ts';
export type * from './stands-answers.ts';
export type * from './stands-search-answers.ts';
export type * from './travel-answers.ts';
export type * from './variant-answers.ts';
export type * from './verdict-answers.ts';
export type * from './work-answers.ts';

/**
 * Every request and event between the window and the service. Both hosts (Electron's utility process, the
 * loopback host) carry exactly these; each message is validated here before a handler sees it.
 * The window gets finished map tiles and small tables, never grids.
 */

/** Names of the painted layers a tile can be asked for. */
export const TILE_LAYERS = [
  'shade',
  'imagery',
  'slope',
  'aspect',
  'accumulation',
  'water-work',
  'holes',
  'forms',
  'cover',
  'vegetation',
  'canopy',
  'screening',
  'resistance',
  'passage',
  'cold-air',
  'pools',
] as const;

/** Names of the tables a window can ask for, as GeoJSON in frame coordinates (EPSG of the property). */
export const TABLES = [
  'features',
  'contours',
  'drainage',
  'channels',
  'ridges',
  'draws',
  'saddles',
  'benches',
  'blocks',
  'areas',
  'corridors',
  'necks',
  'crossings',
  'junctions',
  'routes',
  'barricades',
  'closures',
  'pools',
  'carries',
  'stand-risks',
] as const;

/** Kinds of grids made on demand and painted over the map; of each kind the newest is kept. */
export const OVERLAYS = [
  'view',
  'screened-view',
  'way-view',
  'shadow',
  'passage-after',
  'passage-change',
  'first-after',
  'first-change',
  'second-after',
  'second-change',
  'plans-difference',
  'air-layer',
  'air-pools',
  'scent',
  'way-scent',
  'reach',
  'approach',
] as const;
export type OverlayKind = (typeof OVERLAYS)[number];

/** Settles questions a first try came back with. */
const answers = z.record(z.string(), z.string().max(4000));
/** A day of any year, YYYY-MM-DD. */
const date = z.iso.date();
/** Hour of the day in standard time by the place's longitude. */
const hour = z.number().min(0).max(24);
const heightOver = z.number().min(0).max(200);
const tile = {
  z: z.number().int().min(0).max(14),
  x: z.number().int().min(0).max(16384),
  y: z.number().int().min(0).max(16384),
};

export const requests = {
  /** What the host can do. */
  'host.describe': z.object({}).strict(),
  /** Opens the invented sample property (a copy the user may change). */
  'property.openSample': z.object({}).strict(),
  /** Opens a property file or a folder of inputs on this machine (Electron, or a path typed in). */
  'property.open': z.object({ path, answers: answers.optional() }).strict(),
  /** Electron only: asks with the system's dialog, then opens. */
  'property.pick': z.object({ what: z.enum(['folder', 'file']) }).strict(),
  /** Starts collecting dropped files; answers with a staging id. */
  'import.begin': z.object({}).strict(),
  /** One dropped file, whole or in parts; bytes travel as the message's binary part. */
  'import.file': z.object({ staging: id, name: z.string().min(1).max(255), last: z.boolean() }).strict(),
  /** Turns the staged files into a property, or into additions to the open one. */
  'import.finish': z
    .object({
      staging: id,
      into: z.enum(['new', 'open']),
      answers,
    })
    .strict(),
  /** The open property, or null: name, frame, extent, settings, which artifacts are there. */
  'property.summary': z.object({}).strict(),
  ...shelfRequests,
  'settings.change': z.object({ patch: z.record(z.string(), z.unknown()) }).strict(),
  'features.put': z.object({ feature }).strict(),
  /** Several in one edit, which one undo takes back. */
  'features.putAll': z
    .object({ label: z.string().min(1).max(120), features: z.array(feature).min(1).max(500) })
    .strict(),
  'features.remove': z.object({ id }).strict(),
  /** A picture of a note, or one pinned to the map, as its file is; empty when there is none of this id. */
  'notes.picture': z.object({ id }).strict(),
  'edit.undo': z.object({}).strict(),
  'edit.redo': z.object({}).strict(),
  /** Starts the analysis; progress comes as events. */
  'scout.start': z.object({}).strict(),
  'scout.cancel': z.object({}).strict(),
  /** A 256 px PNG of a layer: zoom 0 is the whole frame in one tile's width; answers with bytes. */
  'map.tile': z.object({ layer: z.enum(TILE_LAYERS), ...tile }).strict(),
  'map.table': z.object({ table: z.enum(TABLES) }).strict(),
  /** Values of every grid under a point, frame CRS. */
  'map.reading': z.object({ x: z.number(), y: z.number() }).strict(),
  /** The legend of a painted layer. */
  'map.legend': z.object({ layer: z.enum(TILE_LAYERS) }).strict(),
  /** The same of a grid made on demand, by the id its answer gave. */
  'map.overlayTile': z.object({ overlay: id, ...tile }).strict(),
  'map.overlayLegend': z.object({ overlay: id }).strict(),
  ...mapToolRequests,
  ...pictureRequests,
  ...coverRequests,
  ...handRequests,
  /** Takes a question back that is still being worked on, by the name of its request. */
  'ask.cancel': z.object({ ask: id }).strict(),
  /** What drains to here; a click near a drainage line means the line. */
  'ground.catchment': z.object(spot).strict(),
  /** What can be seen from here, over bare ground or through what stands on it; lengths in m. */
  'ground.view': z
    .object({
      ...spot,
      observerHeight: heightOver,
      targetHeight: heightOver,
      radius: z.number().min(1).max(20_000),
      through: z.enum(['bare', 'vegetation']),
    })
    .strict(),
  'ground.sightline': z
    .object({ from: position, to: position, observerHeight: heightOver, targetHeight: heightOver })
    .strict(),
  /** From where a drawn way (road, trail, access) is in view, over bare ground. */
  'ground.wayView': z
    .object({
      feature: id,
      observerHeight: heightOver,
      targetHeight: heightOver,
      radius: z.number().min(1).max(20_000),
    })
    .strict(),
  'ground.sun': z.object({ date }).strict(),
  /** Which ground lies in the shade of the terrain. */
  'ground.shadow': z.object({ date, hour }).strict(),
  /** How the size of ground that starts a drainage line was chosen; null before it is. */
  'ground.drainage': z.object({}).strict(),
  /** The public files this ground needs, checked off. */
  'ground.toFetch': z.object({}).strict(),
  ...travelRequests,
  ...variantRequests,
  ...draftRequests,
  ...airRequests,
  ...standsRequests,
  ...screenRequests,
  ...logRequests,
  ...standsSearchRequests,
  ...verdictRequests,
  ...workRequests,
  /** The report model. */
  'report.model': z.object({}).strict(),
  /** Writes the deliverables into a folder; in the loopback host into the property's own export folder. */
  'export.all': z.object({ folder: path.nullable() }).strict(),
} as const;

export type RequestName = keyof typeof requests;
export type RequestParams<N extends RequestName> = z.infer<(typeof requests)[N]>;

export interface FrameSummary extends Frame {
  /** proj4 definition of the frame's CRS, so that the window can show geographic coordinates. */
  proj4: string;
}

export interface PropertySummary {
  name: string;
  invented: boolean;
  units: 'us' | 'metric';
  frame: FrameSummary;
  ownedArea: number | null;
  /** Notes the readers made: datum taken as equal, unit found, holes, tiles joined. */
  importNotes: string[];
  /** What is missing for a better answer, and what it costs. */
  missing: string[];
  /** Doubts by stage. */
  doubts: { ground: string[]; cover: string[]; travel: string[]; air: string[] };
  coverSource: string | null;
  /** Layers and tables ready now; changes while a scout runs. `key` changes when the content does. */
  layers: { name: string; key: string }[];
  tables: { name: string; key: string; count: number }[];
  /** The wind record in force; `key` changes with it. */
  wind: { key: string; station: string; hours: number } | null;
  canUndo: boolean;
  canRedo: boolean;
  settings: Record<string, unknown>;
}

export interface Legend {
  title: string;
  unit: string;
  /** Either classes or stops of a ramp, low first. */
  entries: { label: string; colour: string; pattern?: string }[];
}

export interface Reading {
  label: string;
  value: string;
}

export interface AssumptionRow extends Assumption {
  /** What it is about; rows of one subject stand together. */
  subject: string;
  /** Whether the person moved it. */
  changed: boolean;
  /** What it is without the person's own value, by the assumption set in force. */
  ofSet: number;
  /** What it is in the usual set. */
  usual: number;
}

interface Answers
  extends HandAnswers,
    LogAnswers,
    PictureAnswers,
    ScreenAnswers,
    ShelfAnswers,
    StandsSearchAnswers,
    VerdictAnswers {
  'host.describe': { host: 'electron' | 'loopback'; version: string; canPick: boolean };
  'property.openSample': PropertySummary;
  'property.open': PropertySummary;
  'property.pick': PropertySummary | null;
  'import.begin': { staging: string };
  'import.file': { received: number };
  'import.finish': PropertySummary;
  'property.summary': PropertySummary | null;
  'settings.change': PropertySummary;
  'features.put': PropertySummary;
  'features.putAll': PropertySummary;
  'features.remove': PropertySummary;
  'notes.picture': Uint8Array;
  'cover.paint': PropertySummary;
  'edit.undo': PropertySummary;
  'edit.redo': PropertySummary;
  'scout.start': { run: string };
  'scout.cancel': { cancelled: boolean };
  'map.tile': Uint8Array;
  'map.table': GeoJSON.FeatureCollection;
  'map.reading': Reading[];
  'map.legend': Legend;
  'map.overlayTile': Uint8Array;
  'map.overlayLegend': Legend;
  'map.profile': ProfileAnswer;
  'map.heights': Uint8Array;
  'ask.cancel': { cancelled: boolean };
  'ground.catchment': CatchmentAnswer;
  'ground.view': ViewAnswer;
  'ground.sightline': SightlineAnswer;
  'ground.wayView': WayViewAnswer;
  'ground.sun': SunAnswer;
  'ground.shadow': ShadowAnswer;
  'ground.drainage': DrainageAnswer | null;
  'ground.toFetch': FetchItem[];
  'travel.assumptions': AssumptionRow[];
  'travel.why': WhyAnswer;
  'travel.whatIf': WhatIfAnswer;
  'travel.closures': ClosuresAnswer;
  'travel.sets': AssumptionSetRow[];
  'travel.uncertainty': UncertaintyAnswer;
  'travel.sightings': SightingsAnswer;
  'travel.fit': FitAnswer;
  'travel.takeFit': PropertySummary;
  'travel.blindTrial': BlindTrialAnswer;
  'plan.variants': VariantsAnswer;
  'plan.createVariant': VariantsAnswer;
  'plan.renameVariant': VariantsAnswer;
  'plan.removeVariant': VariantsAnswer;
  'plan.chooseVariant': VariantsAnswer;
  'plan.draft': DraftAnswer;
  'travel.years': YearsAnswer;
  'travel.compare': CompareAnswer;
  'air.rose': RoseAnswer;
  'air.clock': HourAnswer;
  'air.scent': ScentAnswer;
  'air.wayScent': WayScentAnswer;
  'air.turns': TurnsAnswer;
  'air.stand': StandAirAnswer;
  'air.trails': TrailsAnswer;
  'stands.look': StandLookAnswer;
  'stands.approach': StandApproachAnswer;
  'brief.defaults': BriefDefault[];
  'brief.take': PropertySummary;
  'work.plan': WorkAnswer;
  'work.gains': WorkAnswer;
  'walk.list': WalkList | null;
  'walk.answer': PropertySummary;
  'report.model': import('../../core/analysis/report.ts').ReportModel | null;
  'export.all': { folder: string; files: string[] };
}
export type Answer<N extends RequestName> = Answers[N];

/** A refusal or failure as the window shows it. */
export interface Trouble {
  /**
   * `problem` is the person's to mend, `fault` is ours, `refused` a message that is not of the contract; `cancelled`
   * is a question that was taken back or that a newer one replaced, and nothing to show.
   */
  kind: 'problem' | 'fault' | 'refused' | 'cancelled';
  message: string;
  file: string | null;
  fix: string;
  question: Question | null;
}

export type ServiceEvent =
  | {
      type: 'scout.progress';
      run: string;
      /** Share of the whole run done, 0..1. */
      fraction: number;
      /** What runs now. */
      doing: string;
      /** Seconds left, or null while unknown. */
      remaining: number | null;
    }
  | { type: 'scout.step'; run: string; step: string; layers: string[]; tables: string[]; fromCache: boolean }
  | { type: 'scout.done'; run: string; seconds: number }
  | { type: 'scout.cancelled'; run: string }
  | { type: 'scout.failed'; run: string; trouble: Trouble }
  /** How far a question has come that is being worked on, by the name of its request. */
  | { type: 'ask.progress'; ask: string; fraction: number }
  | { type: 'property.changed'; summary: PropertySummary | null }
  /** Chosen from the desktop window's own menu, for the page to do. */
  | { type: 'host.menu'; item: 'export' }
  /** Something outside any request went wrong: a file given at launch, the service process started again. */
  | { type: 'host.trouble'; trouble: Trouble };

/** A request's outcome as plain data, which is how both hosts carry it to the window. */
export type Reply = { ok: true; answer: unknown } | { ok: false; trouble: Trouble };

/** The one connection both hosts offer the window. `binary` rides beside the JSON of a request. */
export interface Connection {
  request<N extends RequestName>(name: N, params: RequestParams<N>, binary?: Uint8Array): Promise<Answer<N>>;
  listen(handler: (event: ServiceEvent) => void): () => void;
}

/** Rejection value of `Connection.request`. */
export class TroubleError extends Error {
  readonly trouble: Trouble;
  constructor(trouble: Trouble) {
    super(trouble.message);
    this.name = 'TroubleError';
    this.trouble = trouble;
  }
}

/** The service behind a host: one call a request, with validated or refused parameters. */
export interface Service {
  handle(name: string, params: unknown, binary: Uint8Array | null): Promise<unknown>;
  listen(handler: (event: ServiceEvent) => void): () => void;
  close(): Promise<void>;
}
