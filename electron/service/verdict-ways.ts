import { canonical } from '../../core/analysis/canonical.ts';
import { HUNTED, type HuntedPart, type StandCases } from '../../core/stands/case-verdict.ts';
import type { QuietGround } from '../../core/stands/quiet-ground.ts';
import { WALKS } from '../../core/stands/sitting.ts';
import type { StandWays, WayNeed } from '../../core/stands/stand-ways.ts';
import type { StandSpot } from '../../core/stands/types.ts';
import { needsOf, withWays } from '../../core/stands/with-ways.ts';
import type { AskContext } from './context.ts';
import type { OpenProperty } from './open-property.ts';
import { wayRulesOf } from './sittings.ts';

/** Ways kept while the ground, the features and the rules they were found by stay as they are. */
const kept = new WeakMap<OpenProperty, { from: string; ways: Map<string, StandWays> }>();

const RESTS_ON = ['elevation', 'cover', 'screening', 'areas', 'routes', 'necks', 'features'] as const;

function keptOf(property: OpenProperty): Map<string, StandWays> {
  const { keys, input } = property;
  const rules = [wayRulesOf(property), input.settings.stands.leaves, input.settings.units];
  const from = canonical([...RESTS_ON.map((name) => keys.get(name) ?? null), rules]);
  const known = kept.get(property);
  if (known?.from === from) return known.ways;
  const ways = new Map<string, StandWays>();
  kept.set(property, { from, ways });
  return ways;
}

export interface WaysAsked {
  /** Ground closed to everyone meanwhile. */
  closed: readonly QuietGround[];
  /** Judged in their own winds; else only what holds in every wind, which is quick. */
  windwise: boolean;
  /** Only this wind. */
  wind?: string;
  parts?: readonly HuntedPart[];
}

/** Stands’ cases with those ruled out that have no clean way in or out. */
export async function casesWithWays(
  context: AskContext,
  property: OpenProperty,
  spots: readonly StandSpot[],
  stands: readonly StandCases[],
  { closed, windwise, wind, parts = HUNTED }: WaysAsked,
  request: string,
): Promise<StandCases[]> {
  const needs = stands.map((stand): WayNeed[] => {
    const needed = needsOf(stand, parts).filter((need) => wind === undefined || need.wind === wind);
    if (windwise) return needed;
    return [...new Set(parts.flatMap((part) => WALKS[part]))].map((time) => ({ time, wind: null }));
  });
  const known = keptOf(property);
  const keys = spots.map(({ at }, k) =>
    canonical([at, closed.map(({ id, rings }) => [id, rings]), needs[k]]),
  );
  const missing = [...spots.keys()].filter((k) => !known.has(keys[k]!) && needs[k]!.length > 0);
  if (missing.length > 0) {
    const { stands: settings, units } = property.input.settings;
    const { ways } = await context.inquiring.ask(
      property,
      'stands.ways',
      {
        spots: missing.map((k) => spots[k]!),
        needs: missing.map((k) => needs[k]!),
        rules: wayRulesOf(property),
        leaves: settings.leaves,
        closed: [...closed],
        units,
      },
      request,
    );
    ways.forEach((each, n) => {
      known.set(keys[missing[n]!]!, each);
    });
  }
  return stands.map((stand, k) => {
    const ways = known.get(keys[k]!);
    return ways ? withWays(stand, ways) : stand;
  });
}
