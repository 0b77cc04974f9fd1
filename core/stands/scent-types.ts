import type { Feature } from '../features/feature.ts';
import type { Grid } from '../grid/frame.ts';
import type { ChannelStation } from '../terrain/types.ts';
import type { Route, TravelArea } from '../travel/types.ts';
import type { CreekWater } from './creek-stage.ts';
import type { CreekScent } from './scent-creek.ts';

/** What scent can meet, and where. */
export interface ScentGround {
  areas: Grid<Int32Array>;
  travelAreas: readonly TravelArea[];
  routes: readonly Route[];
  channels: readonly ChannelStation[];
  features: readonly Feature[];
  /** Water in the creeks; none where it is left out. */
  water?: CreekWater;
}

export interface ScentFinding {
  /** Grid of scent near the ground: s/m3 of what is given off a second. */
  dilution: Grid;
  /** Mean time since release, s; NaN where none came. */
  age: Grid;
  /** How long it was followed, s. */
  followed: number;
  /** The air eddies at the stand: near it the way is not known. */
  eddying: boolean;
  /** The air hardly moves: scent stays round the stand. */
  hangs: boolean;
  /** How far it goes over the threshold, m, and for the band's other ends. */
  carry: { usual: number; low: number; high: number };
  /** It is still over the threshold where it is no longer followed: the carry is at least so long. */
  beyond: { usual: boolean; low: boolean; high: boolean };
  /** Bearing from the stand to where most of it goes, degrees from grid north. */
  bearing: number;
  /** Share of travel whose route runs through scent over the threshold, and for the band. */
  travel: { usual: number; low: number; high: number };
  bedding: string[];
  /** What it does in the creek; null where it meets no channel. */
  creek: CreekScent | null;
  verdict: string;
}
