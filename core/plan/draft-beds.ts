import { type Feature, ofKind } from '../features/feature.ts';
import { middleOf } from '../features/shapes.ts';
import { ACRE, formatArea, formatLength, formatShare } from '../features/units.ts';
import type { Point } from '../grid/frame.ts';
import type { BeddingProposal } from '../stands/bedding-proposal.ts';
import { isOwned, woodyShare } from './draft-ground.ts';
import { drafted, offLine, percent, points, shareAt, type Trials } from './draft-travel.ts';
import type { DraftFound } from './draft-types.ts';

/** Ground cut for one new bedding, m²: half an acre, our assumption. */
const BED = ACRE / 2;
const CORNERS = 12;
/** Of the ground to be cut, the part that must be brush or timber: our assumption. */
const LEAST_WOODY = 0.7;
/** New bedding stands so far apart, m: our assumption, as where its places are sought. */
const APART = 150;
/** The best neck may lose so much of all travel to new bedding: our choice. */
const MAY_LOSE = 0.01;

/**
 * New bedding at the places that a trail would check downwind, each solved as an end of travel of its own; one that draws
 * travel off the best neck is passed over.
 *
 * @param names of the two ends of each place's trail, in words
 */
export function draftBeds(
  trials: Trials,
  beds: readonly BeddingProposal[],
  names: (route: string) => string,
): DraftFound {
  const found: DraftFound = { ideas: [], passed: [] };
  const { rules, rings, inputs, base } = trials;
  const [best] = [...trials.own].sort((a, b) => shareAt(base, b) - shareAt(base, a));
  const drawn = ofKind(inputs.features, 'bedding').flatMap(({ status, geometry }) => {
    const middle = status === 'proposed' ? middleOf(geometry) : null;
    return middle ? [middle] : [];
  });
  beds.forEach(({ at, checked, route, distance }) => {
    const what = `Bedding by the trail ${names(route)}`;
    const number = found.ideas.length + 1;
    const ring = roundBed(at);
    if (drawn.some((bed) => Math.hypot(bed[0] - at[0], bed[1] - at[1]) < APART)) {
      found.passed.push({
        what,
        why: `Bedding is proposed within ${formatLength(APART, rules.units)} of it already.`,
      });
      return;
    }
    if (!isOwned(rings, ring)) {
      found.passed.push({
        what,
        why: `It would come within ${offLine(rules)} of the property line or over it.`,
      });
      return;
    }
    if (woodyShare(inputs.cover, [at, ...ring]) < LEAST_WOODY) {
      found.passed.push({ what, why: 'Too little brush or timber stands there to cut for cover.' });
      return;
    }
    const feature = drafted(
      `${rules.prefix}-bedding-${number}`,
      'bedding',
      `New bedding ${number}`,
      polygonOf(ring),
      {
        method: 'hinge',
      },
    );
    const built = trials.solve([feature]);
    const [before, after] = best ? [shareAt(base, best), shareAt(built, best)] : [0, 0];
    if (best && before - after > MAY_LOSE) {
      found.passed.push({
        what,
        why: `If deer take to it, neck ${best.rank}, the best on this ground, falls from ${percent(before)} to ${percent(after)} of all travel.`,
      });
      return;
    }
    found.ideas.push({
      feature,
      aim: 'bedding',
      gain: checked,
      reasons: [
        `Checked from the trail ${names(route)}, ${formatLength(distance, rules.units)} downwind, in ${formatShare(checked)} of the daylight hours of the cruising weeks.`,
        `${formatArea(BED, rules.units)} of hinge cutting, which is our assumption: fit it to the stand.`,
        ...(best
          ? [
              `If deer take to it, neck ${best.rank} goes from ${percent(before)} to ${percent(after)} of all travel.`,
            ]
          : []),
      ],
      cautions: [
        'Whether deer take to it nobody can say; till they do, travel stays as it is.',
        ...trials.own.flatMap((neck) => {
          const lost = shareAt(base, neck) - shareAt(built, neck);
          return neck !== best && lost > MAY_LOSE
            ? [`It takes ${points(lost)} of all travel from neck ${neck.rank}.`]
            : [];
        }),
      ],
      needs: [],
    });
  });
  return found;
}

/** An even outline of the ground of one bed. */
function roundBed([x, y]: Point): Point[] {
  // Of a regular polygon: area = n/2 r² sin(2π/n).
  const radius = Math.sqrt((2 * BED) / (CORNERS * Math.sin((2 * Math.PI) / CORNERS)));
  return Array.from({ length: CORNERS + 1 }, (_, k) => {
    const turn = (2 * Math.PI * (k % CORNERS)) / CORNERS;
    return [x + radius * Math.cos(turn), y + radius * Math.sin(turn)];
  });
}

const polygonOf = (ring: readonly Point[]): Feature['geometry'] => ({
  type: 'Polygon',
  coordinates: [ring.map(([x, y]) => [x, y])],
});
