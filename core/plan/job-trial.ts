import type { Feature, FeatureKind } from '../features/feature.ts';
import type { Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import type { HuntedPart } from '../stands/case-verdict.ts';
import { comparedRoutes, leaning } from '../stands/hunt-routes.ts';
import type { HuntSettings } from '../stands/hunt-settings.ts';
import { type CleanSits, cleanSits, type ScentMask } from '../stands/scent-mask.ts';
import type { World } from '../travel/drawn-world.ts';
import type { Route } from '../travel/types.ts';
import { solveBuilt } from '../travel/what-if.ts';
import { type CleanHours, cleanHours } from './clean-hours.ts';
import { jobKindOf } from './job-kind.ts';

/** Kinds of jobs whose effect on where deer travel is computed. */
export const MOVES_TRAVEL: readonly FeatureKind[] = [
  'barricade',
  'gap',
  'trail',
  'cut',
  'opening',
  'screen',
  'bedding',
  'food',
];
/** And those whose effect on the ways in is. A walker goes round a barricade. */
const MOVES_WALKERS: readonly FeatureKind[] = ['trail', 'access', 'gap'];

/** Jobs still to be done whose gain can be computed: they move deer or walkers, or are a stand. */
export const jobsTried = (features: readonly Feature[]): Feature[] =>
  features.filter(
    (feature) =>
      feature.status === 'proposed' &&
      jobKindOf(feature) !== null &&
      (feature.kind === 'stand' ||
        MOVES_TRAVEL.includes(feature.kind) ||
        MOVES_WALKERS.includes(feature.kind)),
  );

/** What stands with some jobs built and everything else proposed left out. A way that is cleared is a trail, and no place to come from. */
export const withBuilt = (features: readonly Feature[], built: readonly string[]): Feature[] =>
  features.flatMap((feature): Feature[] => {
    if (feature.status === 'existing') return [feature];
    if (!built.includes(feature.id)) return [];
    return [
      feature.kind === 'access' && feature.geometry.type !== 'Point'
        ? { ...feature, kind: 'trail' }
        : feature,
    ];
  });

const keyOf = (
  features: readonly Feature[],
  built: readonly string[],
  kinds: readonly FeatureKind[],
): string =>
  features
    .filter(({ id, kind }) => built.includes(id) && kinds.includes(kind))
    .map(({ id }) => id)
    .sort()
    .join(' ');

/** Tries with the same key have the same ways in. */
export const waysKey = (features: readonly Feature[], built: readonly string[]): string =>
  keyOf(features, built, MOVES_WALKERS);

/** One stand as it is judged in every try. */
export interface TriedStand {
  id: string;
  /** Whether it stands today. */
  stands: boolean;
  mask: ScentMask;
  /** 1 where a deer is in reach and in view. */
  reach: Grid<Uint8Array>;
}

/** Some jobs built, and of each stand the parts of the day for which no clean way is left then. */
export interface Try {
  built: readonly string[];
  lost: readonly (readonly HuntedPart[])[];
}

export interface TrialRules {
  hunt: Pick<HuntSettings, 'spoilt' | 'alarm'>;
  /** Lawful hours a season of each case (`hoursOfCases`). */
  hours: readonly number[];
  /** Of the routes. */
  seed: number;
  /** Seed of which way travel of unknown direction leans; null for both ways alike. */
  lean: number | null;
}

/**
 * Clean hours a season with some jobs built, try by try, in one world: travel is solved with what is built, its routes
 * are drawn and walked past every stand that stands then. Scent and what is seen from a stand are those of today.
 *
 * @param features everything drawn, as of the moment travel is computed for
 */
export function hoursOfTries(
  world: World,
  features: readonly Feature[],
  stands: readonly TriedStand[],
  tries: readonly Try[],
  { hunt, hours, seed, lean }: TrialRules,
  progress: Progress = silent,
): CleanHours[] {
  const routesOf = remember((built: readonly string[]): Route[] => {
    const then = withBuilt(features, built);
    const { flow, ends } = solveBuilt({ ...world, features: then }, world.todayTravel);
    const routes = comparedRoutes(flow, [...world.travelAreas, ...ends], seed);
    return lean === null ? routes : leaning(routes, lean);
  });
  const sits = new Map<string, CleanSits>();
  return tries.map(({ built, lost }, t) => {
    const travel = keyOf(features, built, MOVES_TRAVEL);
    const there = stands.flatMap((stand, s): CleanSits[] => {
      if (!stand.stands && !built.includes(stand.id)) return [];
      const key = JSON.stringify([travel, stand.id, lost[s]]);
      const known =
        sits.get(key) ?? cleanSits(stand.mask, routesOf(travel, built), stand.reach, hunt, lost[s]);
      sits.set(key, known);
      return [known];
    });
    progress((t + 1) / tries.length);
    return cleanHours(there, hours);
  });
}

/** Works something out once for every key. */
function remember<Given, Found>(work: (given: Given) => Found): (key: string, given: Given) => Found {
  const known = new Map<string, Found>();
  return (key, given) => {
    const found = known.get(key) ?? work(given);
    known.set(key, found);
    return found;
  };
}
