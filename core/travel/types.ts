import type { Point } from '../grid/frame.ts';

/** A place travel starts from or goes to. */
export interface TravelArea {
  /** The value its cells hold in the `areas` grid, from 1. */
  id: number;
  kind: 'bedding' | 'food' | 'block' | 'edge';
  name: string;
  /** `drawn` areas are the user's own and override computed ones. */
  source: 'drawn' | 'computed';
  /** What it was drawn as, of an end that a proposal adds. */
  feature?: string;
  centre: Point;
  /** m². */
  area: number;
  /** Why a computed bed was taken for one. */
  reasons?: string[];
}

export interface Corridor {
  id: string;
  from: number;
  to: number;
  /** Least accumulated cost between the two areas, in metres of easy ground; the mean of there and back. */
  cost: number;
  /** What the same way costs from `from` to `to`, and back: who climbs pays more. */
  there: number;
  back: number;
  length: number;
  /** The cheapest route, frame CRS. */
  path: Point[];
  /** Share of all travel that this pair carries, 0..1 (weights of the pairs, not a count of deer). */
  share: number;
  /** Rings around the cells whose cheapest way costs at most a tenth more, outer rings first. */
  band?: Point[][];
}

export type Owner = 'inside' | 'on the line' | 'neighbour' | 'unknown';

/** Low and high over the uncertain parameters. */
export interface Spread {
  low: number;
  high: number;
  runs: number;
}

/** Where a neck lies and on whose ground. */
export interface NeckPlace {
  id: string;
  /** The line across the passage. */
  line: [Point, Point];
  owner: Owner;
}

/** A ranked pinch point: a short line across which much of the travel must pass. */
export interface Neck extends NeckPlace {
  rank: number;
  at: Point;
  /** m. */
  width: number;
  /** Net flow across the line over all flow injected, 0..1. */
  share: number;
  spread: Spread;
  /** Stays among the best under every run of the uncertain parameters. */
  firm: boolean;
  /** It changes when the edge of the data is moved: what lies beyond may make or unmake it. */
  edgeArtefact?: boolean;
  pairs: { from: string; to: string; share: number }[];
  /**
   * Share of the neck's travel that finds a way round if the neck closes: each pair's detour is weighed as a dearer
   * way is anywhere else.
   */
  redundancy?: number;
  /** Named ground it falls on: saddle, bench, draw, inside corner, creek bend, underpass; empty when none. */
  landmarks: string[];
  reasons: string[];
}

/** Where a corridor meets a road, railroad, creek, fence or the ownership line. */
export interface Crossing {
  id: string;
  kind: 'road' | 'railroad' | 'creek' | 'fence' | 'barricade' | 'ownership line';
  feature: string;
  at: Point;
  share: number;
  corridors: string[];
  owner: Owner;
  /** Over the uncertain weights. */
  spread?: Spread;
  /** Where the line is easiest to cross near by: an opening, or the gentlest banks of a creek; null where unknown. */
  easiest?: { at: Point; what: string } | null;
  reasons: string[];
}

/** One number the travel model rests on. */
export interface Assumption {
  key: string;
  label: string;
  unit: string;
  value: number;
  low: number;
  high: number;
  /** Published source, or `our assumption`. */
  source: string;
}

/** A spot where three or more strands of travel meet within reach. */
export interface Junction {
  id: string;
  rank: number;
  at: Point;
  /** Radius within which the strands meet, m. */
  reach: number;
  /** Share of all travel that passes within reach, 0..1. */
  share: number;
  spread?: Spread;
  /**
   * Bearing from the spot, degrees clockwise from grid north, and share of all travel that comes in by the arm, which
   * is as much as leaves by it; all arms add up to at most what passes.
   */
  arms: { bearing: number; share: number }[];
  owner: Owner;
  reasons: string[];
}

/** One way drawn from the flow between two areas. */
export interface Route {
  id: string;
  from: string;
  to: string;
  /** When travel runs this way: from food at dawn, to food at dusk, else at any hour. */
  when: 'dawn' | 'dusk' | 'any';
  path: Point[];
  length: number;
  /** At the stated pace. */
  minutes: number;
  /** Share of all travel this route stands for. */
  share: number;
}

/** What a proposed barricade does to travel: over it, round its ends, or elsewhere. */
export interface BarricadeCheck {
  feature: string;
  name: string;
  /** Where most travel met it before. */
  at: Point;
  /** Share of all travel across its line before and after. */
  before: number;
  after: number;
  /** Share of all travel that now passes close beyond each end and did not before, and what the end stops short of. */
  ends: { at: Point; side: string; gained: number; gap: { to: string; distance: number } | null }[];
  /** What a deer that meets it does most cheaply. */
  cheapest: string;
  /** Every way past it, the cheapest first, and what it costs, metres of easy ground; null where there is none. */
  ways: { way: string; cost: number | null }[];
  detour: number;
  crossing: number;
  /** False when deer simply walk round it or step over. */
  holds: boolean;
  reasons: string[];
}

/** Shares of all travel. */
export interface Shift {
  before: number;
  after: number;
}

/** What a change does to the goals of a plan and to the rest of travel. */
export interface GoalEffect {
  /** Past the spot travel is to be gathered at. */
  gather: Shift | null;
  /** On the downwind side of the spot it is to be kept from. */
  keepOut: Shift | null;
  /** Travel that passes neither place. */
  rest: Shift;
  /** What the change adds to the mean way, metres of easy ground; null where travel wanders at random. */
  dearer: number | null;
}

/** A further closure that would gather more travel at a neck, cheapest for what it catches first. */
export interface Closure {
  id: string;
  path: Point[];
  length: number;
  /** Metres of barricade on plain timbered ground that it takes as much work as. */
  work: number;
  owner: Owner;
  /** Share of all travel that slips through here now. */
  leak: number;
  /** Share of all travel at the neck or spot with this closure alone built, from a new solve; and without it. */
  neckAfter: number;
  neckBefore: number;
  /** What it does to the goals set, and to the rest of travel; null without goals. */
  effect: GoalEffect | null;
  reasons: string[];
}

/** The proposed features, built: travel before and after, and what else would help. */
export interface PlanTravel {
  necks: { id: string; before: number; after: number }[];
  barricades: BarricadeCheck[];
  /** The first of the best necks on the owner's ground that closures would help, and these; null when none would. */
  goal: string | null;
  closures: Closure[];
  doubts: string[];
}
