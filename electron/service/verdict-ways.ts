import { canonical } from '../../core/analysis/canonical.ts';
import { HUNTED, type HuntedPart, type StandCases } from '../../core/stands/case-verdict.ts';
import type { QuietGround } from '../../core/stands/quiet-ground.ts';
import { WALKS } from '../../core/stands/sitting.ts';
import type { StandWays, WayNeed } from '../../core/stands/stand-ways.ts';
import type { StandSpot } from '../../core/stands/types.ts';
import { needsOf, withWays } from '../../core/stands/with-ways.ts';
import type { AskContext } from './context.ts';
import type { Inquirer } from './inquiring.ts';
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

/** Every walk of a day whatever the wind: what is against it then holds in every wind, and it is quick. */
export const ANY_WIND: readonly WayNeed[] = [...new Set(HUNTED.flatMap((part) => WALKS[part]))].map(
  (time) => ({ time, wind: null }),
);

/** Ways to stands for the walks each needs, of which only those not known yet are looked for; undefined needs none. */
export async function waysWith(
  inquirer: Inquirer,
  property: OpenProperty,
  spots: readonly StandSpot[],
  needs: readonly (readonly WayNeed[])[],
  closed: readonly QuietGround[],
  span?: readonly [number, number] | null,
): Promise<(StandWays | undefined)[]> {
  const known = keptOf(property);
  const keys = spots.map(({ at }, k) =>
    canonical([at, closed.map(({ id, rings }) => [id, rings]), needs[k]]),
  );
  const missing = [...spots.keys()].filter((k) => !known.has(keys[k]!) && needs[k]!.length > 0);
  if (missing.length > 0) {
    const { stands: settings, units } = property.input.settings;
    const { ways } = await inquirer.ask(
      property,
      'stands.ways',
      {
        spots: missing.map((k) => spots[k]!),
        needs: missing.map((k) => [...needs[k]!]),
        rules: wayRulesOf(property),
        leaves: settings.leaves,
        closed: [...closed],
        units,
      },
      span,
    );
    ways.forEach((each, n) => {
      known.set(keys[missing[n]!]!, each);
    });
  }
  return keys.map((key) => known.get(key));
}

export interface WaysAsked {
  /** Ground closed to everyone meanwhile. */
  closed: readonly QuietGround[];
  /** Only this wind. */
  wind?: string;
  parts: readonly HuntedPart[];
}

/** Stands’ cases, each in its own wind, with those ruled out that have no clean way in or out. */
export async function casesWithWays(
  context: AskContext,
  property: OpenProperty,
  spots: readonly StandSpot[],
  stands: readonly StandCases[],
  { closed, wind, parts }: WaysAsked,
  request: string,
): Promise<StandCases[]> {
  const needs = stands.map((stand) =>
    needsOf(stand, parts).filter((need) => wind === undefined || need.wind === wind),
  );
  const found = await context.inquiring.within(request, (inquirer) =>
    waysWith(inquirer, property, spots, needs, closed),
  );
  return stands.map((stand, k) => (found[k] ? withWays(stand, found[k]) : stand));
}
