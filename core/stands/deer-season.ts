import type { SeasonWind } from '../air/season.ts';
import type { Feature } from '../features/feature.ts';
import type { Grid } from '../grid/frame.ts';
import type { Route, TravelArea } from '../travel/types.ts';
import { type BeddingProposal, daylightWinds, proposeBedding } from './bedding-proposal.ts';
import { bedSpots, type DeerWind, deerWinds, type TrailWind, travelWinds } from './deer-wind.ts';

/** A wind over all travel, and the share of the season's daylight hours it blows; null without a record. */
export interface SeasonDeerWind extends DeerWind {
  hours: number | null;
}

/** The deer's own wind in a season: all travel under each of the 16 winds, and where new bedding would be checked. */
export interface DeerSeason {
  winds: SeasonDeerWind[];
  /** The best first; none without a wind record. */
  bedding: BeddingProposal[];
}

export interface DeerInputs {
  cover: Grid<Uint8Array>;
  areas: Grid<Int32Array>;
  travelAreas: readonly TravelArea[];
  routes: readonly Route[];
  features: readonly Feature[];
}

/** Every trail under each wind, and the season made of them. */
export function deerSeason(
  { cover, areas, travelAreas, routes, features }: DeerInputs,
  season: SeasonWind | null,
): DeerSeason & { trails: TrailWind[] } {
  const trails = deerWinds(cover.frame, routes, bedSpots(areas, travelAreas));
  const hours = season ? daylightWinds(season.parts, cover.frame.convergence) : [];
  const beds = new Set(travelAreas.filter(({ kind }) => kind === 'bedding').map(({ id }) => id));
  return {
    trails,
    winds: travelWinds(trails, routes).map((each, k) => ({ ...each, hours: hours[k]?.share ?? null })),
    bedding: season ? proposeBedding(cover, areas, beds, routes, season.parts, features) : [],
  };
}
