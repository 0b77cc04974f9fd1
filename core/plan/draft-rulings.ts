import type { Feature } from '../features/feature.ts';
import { decimal } from '../features/units.ts';
import type { Point } from '../grid/frame.ts';
import type { StandRuling } from '../stands/ruling-types.ts';
import { isOwned } from './draft-ground.ts';
import { type DraftRules, drafted, LEAST_GAIN, offLine, percent } from './draft-travel.ts';
import type { DraftFound, DraftIdea, PassedIdea } from './draft-types.ts';

/**
 * What the rulings on the stands that are there come to: a move or a screen that gains is proposed, what is no drawn
 * work (another way in, lanes, taking a stand down) is told beside it.
 */
export function draftRulings(
  rulings: readonly StandRuling[],
  features: readonly Feature[],
  rings: readonly Point[][],
  rules: DraftRules,
): DraftFound & { advice: PassedIdea[] } {
  const found = { ideas: [] as DraftIdea[], passed: [] as PassedIdea[], advice: [] as PassedIdea[] };
  for (const ruling of rulings) {
    const { stand, change } = ruling;
    const what = `${stand.name}: ${ruling.ruling}`;
    const geometry = shapeOf(ruling);
    if (!geometry) {
      if (ruling.ruling !== 'keep' || change) found.advice.push({ what, why: wordsOf(ruling) });
      continue;
    }
    const gain = change!.worth - ruling.worth;
    if (!geometry.paths.every((path) => isOwned(rings, path)))
      found.passed.push({
        what,
        why: `It would come within ${offLine(rules)} of the property line or over it.`,
      });
    else if (gain < LEAST_GAIN) found.advice.push({ what, why: wordsOf(ruling) });
    else
      found.ideas.push({
        feature: featureOf(ruling, geometry.shape, features, rules),
        aim: 'stand',
        gain,
        reasons: [
          `${wordsOf(ruling)} It meets ${percent(change!.worth)} of all travel clean on average over the hours of light, ${percent(ruling.worth)} now.`,
          ...(ruling.worst?.sentence ? [ruling.worst.sentence] : []),
        ],
        cautions: [
          ...(ruling.ruling === 'move' ? [`${stand.name} comes down where it hangs.`] : []),
          ...change!.doubts,
        ],
        needs: [],
      });
  }
  return found;
}

function wordsOf({ change, hours, sentence }: StandRuling): string {
  const inHours = (value: number) => decimal(value, value < 10 ? 1 : 0);
  return change
    ? `${change.what} Usable ${inHours(change.hours)} h a week with it, ${inHours(hours)} h now.`
    : sentence;
}

/** What would be drawn for a ruling; null where nothing is. */
function shapeOf({ ruling, change }: StandRuling): { shape: Feature['geometry']; paths: Point[][] } | null {
  if (ruling === 'move' && change?.at)
    return {
      shape: { type: 'Point', coordinates: [change.at[0], change.at[1]] },
      paths: [[change.at, change.at]],
    };
  if (ruling === 'screen' && change && change.lines.length > 0)
    return {
      shape: {
        type: 'MultiLineString',
        coordinates: change.lines.map((path) => path.map(([x, y]) => [x, y])),
      },
      paths: change.lines,
    };
  return null;
}

function featureOf(
  { stand, ruling }: StandRuling,
  geometry: Feature['geometry'],
  features: readonly Feature[],
  { prefix }: DraftRules,
): Feature {
  const id = `${prefix}-${ruling}-${stand.id}`;
  if (ruling === 'screen') return drafted(id, 'screen', `Screen for ${stand.name}`, geometry);
  const {
    done: _,
    variant: __,
    ...attributes
  } = features.find((each) => each.id === stand.id)?.attributes ?? {};
  return drafted(id, 'stand', `${stand.name}, moved`, geometry, attributes);
}
