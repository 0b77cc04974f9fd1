import type { CaseVerdict, HuntedPart, StandCases } from './case-verdict.ts';
import { WALKS } from './sitting.ts';
import { type StandWays, type WayNeed, wayAt } from './stand-ways.ts';
import type { WalkTime } from './types.ts';

/** How a case without a clean way starts its reason. */
export const NO_WAY = 'No clean way ';

/** Each walk in words. */
const TIMES: Record<WalkTime, string> = {
  dawn: 'in before first light',
  midday: 'in by day',
  dark: 'out after dark',
};

/** Which ways a stand's cases need: those of cases that can be hunted, in their own wind. */
export const needsOf = ({ cases }: Pick<StandCases, 'cases'>, parts: readonly HuntedPart[]): WayNeed[] =>
  cases
    .filter(({ hunt, part }) => (hunt.usual || hunt.keen || hunt.dull) && parts.includes(part))
    .flatMap(({ part, wind }) => WALKS[part].map((time): WayNeed => ({ time, wind })));

/** A stand's cases with those ruled out that have no clean way in or out; where nothing is known nothing is ruled out. */
export const withWays = (stand: StandCases, ways: StandWays): StandCases => ({
  ...stand,
  cases: stand.cases.map((each) => ruled(each, ways)),
});

function ruled(each: CaseVerdict, ways: StandWays): CaseVerdict {
  const walks = WALKS[each.part].map((time) => ({ time, way: wayAt(ways, time, each.wind) }));
  const taken = walks.flatMap(({ way }) => (way ? [way] : []));
  const lost = walks.find(({ way }) => way?.clean === false);
  if (!lost || !(each.hunt.usual || each.hunt.keen || each.hunt.dull)) return { ...each, ways: taken };
  return {
    ...each,
    ways: taken,
    hunt: { usual: false, keen: false, dull: false },
    why: `${NO_WAY}${TIMES[lost.time]}. ${lost.way!.against ?? ''}`.trim(),
  };
}
