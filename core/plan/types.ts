import type { Point } from '../grid/frame.ts';
import type { Weapon } from '../stands/types.ts';

/** What a proposed feature is as a piece of work. */
export type JobKind =
  | 'barricade'
  | 'hinge cut'
  | 'felled bedding'
  | 'cleared trail'
  | 'mulched lane'
  | 'screen planting'
  | 'conifers'
  | 'opening'
  | 'food plot'
  | 'water crossing'
  | 'fence lowering'
  | 'stand'
  | 'tower blind'
  | 'feeder to remove';

/** Who does it: with a chain saw, by hand, or with a machine and its operator. */
export type Crew = 'saw' | 'hand' | 'machine';

/** How a number is measured; the value itself is SI (m, m², kg, m³; basal area m²/ha). */
export type Measure = 'length' | 'height' | 'area' | 'count' | 'mass' | 'volume' | 'basal area' | 'share';

export interface Quantity {
  label: string;
  /** Null where it is not known. */
  value: number | null;
  measure: Measure;
  /** In the person's units; `not known` where the value is null. */
  text: string;
  /** What a buyer orders, wastage and rounding to what it is sold in included; null where nothing is bought. */
  buy: string | null;
  /** How the number came about, in one line. */
  how: string;
}

/** Dollars; null where a part of it is not known. */
export interface Money {
  labour: number | null;
  material: number | null;
  total: number | null;
}

export interface Job {
  /** The feature's own id. */
  id: string;
  name: string;
  kind: JobKind;
  crew: Crew;
  /** People who go out together. */
  people: number;
  quantities: Quantity[];
  /** Person hours; machine hours for a machine. Null where not known. */
  hours: number | null;
  money: Money;
  /** What must be found out before this can be priced or done. */
  unknown: string[];
  /** Where it is, for the map. */
  at: Point;
  /** Day it was finished, YYYY-MM-DD; null while it is to be done. */
  done: string | null;
  /** What was planned and what was built in its place, in the person's units; null where both are the same. */
  built: { planned: string; built: string } | null;
  /** Who answers for it, as typed. */
  owner: string | null;
  /** Day it is promised for, YYYY-MM-DD, as typed. */
  due: string | null;
  /** Why the program drafted it, in the words and numbers of that day; null for what a person drew. */
  why: string | null;
}

/** A number the plan rests on that is not data. */
export interface Rate {
  key: string;
  label: string;
  /** SI. */
  value: number;
  /** How it is typed: the unit's words and what one of it is in SI, per system of units. */
  unit: RateUnit;
  source: string;
}

/** Keys of the table of rate units. */
export type RateUnit =
  | 'ft'
  | 'in'
  | 'ft²/acre'
  | 'h/acre'
  | 'lb/acre'
  | 'lb'
  | 'ton/yd³'
  | '$/lb'
  | '$/ton'
  | '$'
  | '$/h'
  | 'h'
  | '%'
  | 'people'
  | 'days'
  | 'count';

/** A rate as a person reads and types it. */
export interface RateRow extends Rate {
  typed: number;
  /** Words of the unit. */
  unitText: string;
  /** SI in one typed unit. */
  factor: number;
  /** Whether the person moved it from the default. */
  changed: boolean;
  /** Whether a job on the list rests on it. */
  used: boolean;
}

/** A stretch of the year, MM-DD, ends included; may run over New Year. */
export interface Span {
  from: string;
  to: string;
}

/** When work may be done and why not at other times, as days the person can set. */
export interface CalendarSettings {
  /** Average last and first frost. */
  lastFrost: string;
  firstFrost: string;
  /** From the first sit to the last. */
  season: Span;
  /** Stock on the ground, while no fence is opened; null where there is none. */
  stock: Span | null;
  /** Trees without leaves. */
  dormant: Span;
  /** Birds on the nest; bats in the trees. */
  nesting: Span;
  bats: Span;
  /** First day work can be done, YYYY-MM-DD; null for the day the plan is made. */
  start: string | null;
  /** Days before the first sit by which everything must be done. */
  settle: number;
  hoursPerDay: number;
}

export interface Scheduled {
  job: string;
  /** First and last day, YYYY-MM-DD; null where it fits in no window within three years. */
  from: string | null;
  to: string | null;
  days: number | null;
  /** Whether it is done in time for the first sit after the start. */
  beforeFirstSit: boolean;
  /** Spans of the year in which it may be done, and what keeps it out of the others. */
  windows: Span[];
  reasons: string[];
}

/** One row of the year strip: what it is and when, MM-DD. */
export interface StripRow {
  label: string;
  kind: 'restraint' | 'work';
  spans: Span[];
}

export interface Calendar {
  start: string;
  firstSit: string;
  jobs: Scheduled[];
  strip: StripRow[];
  notes: string[];
}

/** What a job gains, in a unit of its own: clean hours a season where stands are judged, else points of travel. */
export interface Gain {
  value: number;
  /** Over what is uncertain; null where it was computed under one set of assumptions only. */
  low: number | null;
  high: number | null;
}

export interface Gains {
  unit: string;
  /** By job id; a job not in it has no known gain. */
  byJob: ReadonlyMap<string, Gain>;
  /** What two jobs gain together, where one is worth nothing alone. */
  pairs: { jobs: [string, string]; gain: Gain }[];
  /** Jobs computed to gain nothing alone but something with others: beside which, or empty where no single one is enough. */
  without: ReadonlyMap<string, readonly string[]>;
  /** The unit's own total today and with every job built. */
  today: number;
  built: number;
  /** What was counted and what was not. */
  notes: string[];
}

export type When = 'this winter' | 'next year' | 'later' | 'not worth it' | 'done';

export interface Ranked {
  job: string;
  gain: Gain | null;
  perThousandDollars: number | null;
  perHour: number | null;
  when: When;
  /** Jobs without which this one is worth nothing. */
  needs: string[];
  why: string;
}

export interface Upkeep {
  job: string;
  /** Years after it was done. */
  year: number;
  task: string;
  hours: number | null;
  money: number | null;
}

export interface Total {
  name: string;
  jobs: number;
  hours: number;
  money: number;
  /** Jobs of which a part is not known and so not in the sums. */
  open: number;
}

export interface WorkPlan {
  jobs: Job[];
  /** Proposed features that this version has no quantities for. */
  unpriced: { id: string; name: string; kind: string }[];
  rates: RateRow[];
  calendar: Calendar;
  ranked: Ranked[];
  /** What gains are measured in, the total today and with every job built, and what was counted; null when none was computed. */
  gained: Pick<Gains, 'unit' | 'today' | 'built' | 'notes'> | null;
  upkeep: Upkeep[];
  totals: { bySeason: Total[]; byCrew: Total[]; all: Total };
  cautions: { kind: JobKind; lines: string[] }[];
}

/** What can be found at a stop, and what it puts on the map: a gap of a type, or cover as it was seen so far about, m. */
export interface WalkChoice {
  key: string;
  title: string;
  sets: { kind: 'gap'; value: string } | { kind: 'truth'; value: string; about: number } | null;
}

/** A spot where the answer hinges on what no raster shows. */
export interface WalkSpot {
  id: string;
  /** In walking order, from 1. */
  number: number;
  at: Point;
  title: string;
  /** How much hinges on it, as a share of all travel, 0..1; null where it cannot be told. */
  hinges: number | null;
  why: string;
  look: string[];
  photograph: string[];
  choices: WalkChoice[];
  /** As last answered; null while nobody did. */
  found: {
    answer: string | null;
    text: string;
    date: string | null;
    /** The note it is written down in. */
    note: string;
  } | null;
}

export interface WalkList {
  /** In walking order. */
  spots: WalkSpot[];
  start: Point | null;
  startName: string;
  /** As the crow flies from spot to spot and back, m. */
  length: number;
  /** What would be looked at on ground that is not the client's: ask first. */
  elsewhere: { title: string; hinges: number | null }[];
}

/** What the client says before anyone walks: words for the report, and answers that set defaults elsewhere. */
export interface Brief {
  /** Who makes the plan and for whom, as the report's front names them. */
  consultant: string;
  client: string;
  /** Of the report, and what changed since the last one. */
  version: string;
  changed: string;
  hunters: string;
  weapon: Weapon | null;
  onFoot: 'far and steep' | 'a mile on easy ground' | 'short and level' | null;
  /** Where they park and live, when they can hunt. */
  parking: string;
  times: string;
  /** Stands that stand and why they fail; where big deer are seen. */
  stands: string;
  deer: string;
  neighbours: string;
  stock: string;
  machines: string;
  /** Where the property line on the map comes from. */
  boundary: 'survey' | 'deed' | 'drawn';
  /** Null goes by the units: letter with yards, A4 with metres. */
  paper: 'letter' | 'A4' | null;
  /** Answers that set defaults elsewhere (`brief-defaults.ts`); null where nobody said. */
  season: Span | null;
  parts: 'mornings' | 'evenings' | 'mornings and evenings' | null;
  arrive: 'foot' | 'vehicle' | null;
  /** The feature they park or set out at. */
  startFrom: string | null;
  neighbour: 'may be crossed' | 'may not be crossed' | null;
  /** Dollars a year, and days of the whole crew. */
  budget: number | null;
  crewDays: number | null;
  machine: 'their own' | 'hired' | null;
  /** When stock is on the ground. */
  stockSpan: Span | null;
}
