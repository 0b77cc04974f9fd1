import type { Point } from '../grid/frame.ts';
import type { Owner } from '../travel/types.ts';

export interface StandRisk {
  id: string;
  /** The stand feature, or the neck it was computed for where the property has no stands. */
  subject: { type: 'stand' | 'neck'; id: string; name: string };
  at: Point;
  level: 'low' | 'caution' | 'high' | 'unknown';
  inPool: boolean;
  poolDepth: number;
  /** Path of scent in the night drainage. */
  carry: Point[];
  /** What the carry meets, in order: bedding, corridors, necks, creek bottom. */
  meets: string[];
  owner: Owner;
  /** One line that says it all. */
  verdict: string;
  reasons: string[];
  doubts: string[];
}

export const WEAPONS = ['bow', 'crossbow', 'shotgun', 'muzzleloader', 'rifle'] as const;
export type Weapon = (typeof WEAPONS)[number];

/** Leaves on the trees and brush, or down. */
export type Leaves = 'on' | 'off';

/** A place to hunt from: a stand on the map, or a spot tried out. */
export interface StandSpot {
  id: string;
  name: string;
  at: Point;
  /** Seat over the ground, m; where it is not known, the usual height of a tree stand. */
  seatHeight: number;
  /** False where the seat height is not the user's. */
  seatKnown: boolean;
  weapon: Weapon;
  /** How far this hunter shoots with it, m on the slant. */
  range: number;
  proposed: boolean;
}

/** The way to one deer from the seat; lengths in m, angles in degrees. */
export interface Shot {
  slant: number;
  level: number;
  /** Below the level of the eye; negative above it. */
  down: number;
  /** Clockwise from grid north. */
  bearing: number;
}

/** What a stand has of one line of travel. */
export interface Passing {
  kind: 'corridor' | 'route' | 'neck' | 'junction';
  id: string;
  /** Share of all travel it stands for, 0..1. */
  share: number;
  /** Metres of it in range, and of those in clear view. */
  inReach: number;
  inView: number;
  /** Some place of it is in clear view. */
  seen: boolean;
  /** The nearest place of it in clear view, else in range. */
  nearest: Shot;
}

/** How a stand sees and reaches in one direction. */
export interface Direction {
  /** Middle, degrees clockwise from grid north. */
  bearing: number;
  /** How far a deer stays in clear view without a break, m; at most the range. */
  clear: number;
  /** What ends it. */
  ends: 'range' | 'ground' | 'cover' | 'unknown';
}

/** A shooting lane that would have to be cut. Lengths in m, area in m2. */
export interface Lane {
  id: string;
  bearing: number;
  /** From the stand to the farthest travel it opens. */
  path: [Point, Point];
  length: number;
  width: number;
  /** Of the lane, how much runs through what would have to be cut, and that times its width. */
  cut: number;
  area: number;
  /** Share of all travel in range that comes into view by it and did not before, 0..1. */
  gains: number;
  sentence: string;
}

/** How a sector was found: see `LineOfFire`. */
export type SectorState = 'checked' | 'open' | 'closed' | 'unknown';

/** What lies in or behind the line of a shot. */
export interface Behind {
  what: 'house' | 'road' | 'railroad' | 'stock' | 'stand' | 'people' | 'neighbour' | 'map edge';
  name: string;
  /** From the stand, m. */
  distance: number;
  /** Ground stops the line before it. */
  stopped: boolean;
}

/** One sector of the line of fire; bearings in degrees clockwise from grid north, `to` past `from`. */
export interface Sector {
  from: number;
  to: number;
  state: SectorState;
  /** The farthest beyond a deer that ground stops the line, m; null where it runs on. */
  stops: number | null;
  /** The flattest it meets that ground under, degrees; null where it does not. */
  meets: number | null;
  behind: Behind[];
  reasons: string[];
}

/** Neighbouring sectors of one state for the same reason, with the worst of what was found in them. */
export type SectorRun = Omit<Sector, 'behind'>;

/**
 * What lies behind a deer, direction by direction. `checked`: ground stops every line close behind the deer and nothing
 * looked for lies before it. `open`: some line runs on past the deer with nothing to stop it close by, and nothing
 * mapped lies within the danger distance. `closed`: something mapped lies in the way of some line. `unknown`: the
 * ground there is not known. None of them says that a shot is safe.
 */
export interface LineOfFire {
  sectors: Sector[];
  /** The same, neighbours that were found alike as one. */
  runs: SectorRun[];
  /** How far a shot that misses was followed, m. */
  danger: number;
  /** Degrees of the circle in each state. */
  degrees: Record<SectorState, number>;
  /** What was looked for, and what was not. */
  looked: string[];
  cautions: string[];
}

/** Everything within range of one stand, as plain data; the grid behind it is `ReachGrid` of `reach.ts`. */
export interface StandReach {
  id: string;
  spot: StandSpot;
  leaves: Leaves;
  /** Ground in range, and of it what is in clear view, m2. */
  area: number;
  clearArea: number;
  /** The steepest shot down at travel in range, where it is nearest, degrees; null with no travel in range. */
  steepest: number | null;
  passings: Passing[];
  /** Share of all travel whose drawn routes pass in range, and in range and clear view; null without routes. */
  shareInReach: number | null;
  shareInView: number | null;
  directions: Direction[];
  lanes: Lane[];
  fire: LineOfFire;
  concealment: Concealment;
  sentences: string[];
  doubts: string[];
}

/** What deer make of the hunter in the stand from one direction. */
export interface SeenFrom {
  /** Bearing from the stand to the deer. */
  bearing: number;
  /** Share of the hunter in view from there, over the places deer pass or stand, 0..1. */
  seen: number;
  /** Nothing but sky behind the hunter from some of them. */
  skyline: boolean;
  /** How well what stands behind breaks the outline, 0 bare .. 1 thick. */
  backing: number;
}

export interface Concealment {
  directions: SeenFrom[];
  /** Share of the looks from travel in range that find the hunter in view, and against the sky. */
  seen: number;
  skylined: number;
  sentences: string[];
}

/** When a walk is made, by what deer do then and how well they see. */
export const WALK_TIMES = ['dawn', 'midday', 'dark'] as const;
export type WalkTime = (typeof WALK_TIMES)[number];

/** What one way to a stand costs. */
export interface ApproachWay {
  id: string;
  /** What was put first when it was drawn. */
  kind: 'quickest' | 'hidden' | 'balanced' | 'another';
  /** Where it starts. */
  start: string;
  path: Point[];
  /** m; of it driven. */
  length: number;
  driven: number;
  climb: number;
  minutes: number;
  /**
   * Minutes wholly in view of bedding and of travel: a minute in half a view counts half. Light is not in it; dawn and
   * dark are reckoned with in the faults.
   */
  seenByBedding: number;
  seenByTravel: number;
  /** Minutes whose scent and noise reach deer, weighed by how likely they are there at that time. */
  scent: number;
  noise: number;
  /** Lines to be crossed, in order. */
  crossings: { kind: string; name: string; at: Point; seconds: number }[];
  /** Share of all travel whose drawn routes it walks across, and the necks it goes through. */
  crossesTravel: number;
  necks: string[];
  /** Bedding it comes nearer to than deer there bear. */
  nearBedding: { name: string; distance: number }[];
  acrossNeighbour: number;
  /** What is wrong with it, the worst first; a way is clean when none of it is grave. `key` is the same on every way. */
  faults: { key: string; grave: boolean; sentence: string }[];
  clean: boolean;
}

export interface Approach {
  stand: string;
  name: string;
  time: WalkTime;
  mode: 'foot' | 'vehicle';
  /** The wind it is judged for, in words. */
  wind: string;
  ways: ApproachWay[];
  /** A clean way from the neighbour's side where there is none on the client's ground; it may not be walked. */
  ifAllowed: ApproachWay | null;
  clean: boolean;
  verdict: string;
  doubts: string[];
}

/** How high the creeks stand: their beds as measured, the mean flow of a year, full to the banks. */
export const CREEK_STAGES = ['dry', 'normal', 'high'] as const;
export type CreekStage = (typeof CREEK_STAGES)[number];
