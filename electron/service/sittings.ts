import type { Sitting } from '../../core/stands/compare.ts';
import { windsToWalkIn } from '../../core/stands/sitting.ts';
import type { StandSpot } from '../../core/stands/types.ts';
import { standVerdict } from '../../core/stands/verdict.ts';
import { lawfulOf } from './hunt-basis.ts';
import type { Inquirer } from './inquiring.ts';
import type { OpenProperty } from './open-property.ts';
import { casesWith } from './verdict-prepared.ts';

/** How ways in are judged unless a change to them is tried. */
export const wayRulesOf = ({ input }: OpenProperty) => {
  const { allowNeighbour, dryLeaves } = input.settings.stands;
  const { arrive, legs, startFrom } = input.settings.hunt;
  return { mode: arrive, allowNeighbour, dryLeaves, from: startFrom, legs };
};

/** Share of the work that goes into the fate of travel. */
const CASES = 0.7;

/** Everything computed of some spots: verdict, reach and ways in. */
export async function sittingsOf(
  inquirer: Inquirer,
  property: OpenProperty,
  spots: readonly StandSpot[],
  [from, to]: readonly [number, number] = [0, 1],
): Promise<Sitting[]> {
  const { hunt, stands: settings, units } = property.input.settings;
  const middle = from + CASES * (to - from);
  const cases = await casesWith(inquirer, property, spots, [from, middle]);
  const lawful = lawfulOf(property);
  const verdicts = cases.map((each) => standVerdict(each, lawful, hunt));
  const { sittings } = await inquirer.ask(
    property,
    'stands.sittings',
    { spots: [...spots], winds: verdicts.map(windsToWalkIn), settings, way: wayRulesOf(property), units },
    [middle, to],
  );
  return sittings.map(({ reach, ways }, k) => ({
    spot: spots[k]!,
    cases: cases[k]!,
    verdict: verdicts[k]!,
    reach,
    ways,
  }));
}
