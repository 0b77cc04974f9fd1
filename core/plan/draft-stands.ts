import type { Point } from '../grid/frame.ts';
import type { JudgedSite } from '../stands/site-judge.ts';
import type { SiteSearch } from '../stands/site-search.ts';
import { isOwned } from './draft-ground.ts';
import { type DraftRules, drafted, offLine, percent } from './draft-travel.ts';
import type { DraftFound, DraftIdea } from './draft-types.ts';

/** Travel met clean at a site for which somebody raises a stand, a share of all: our choice. */
const LEAST_WORTH = 0.005;

/** Stands at the sites a search found with nothing against them; the others are passed over with what is. */
export function draftStands(
  { sites, ifWay, passed }: Pick<SiteSearch, 'sites' | 'ifWay' | 'passed'>,
  rings: readonly Point[][],
  rules: DraftRules,
): DraftFound {
  const against = (site: JudgedSite): string | null =>
    !isOwned(rings, [site.spot.at, site.spot.at])
      ? `It would hang within ${offLine(rules)} of the property line.`
      : site.value < LEAST_WORTH
        ? `It would meet ${percent(site.value)} of all travel clean: too little for the work.`
        : null;
  return {
    ideas: sites.filter((site) => against(site) === null).map((site, k) => standIdea(site, k + 1, rules)),
    passed: [
      ...sites.flatMap((site) => {
        const why = against(site);
        return why ? [{ what: `Stand at ${site.spot.name.toLowerCase()} of the search`, why }] : [];
      }),
      ...ifWay.map(({ spot, potential, faults }) => ({
        what: `Stand at ${spot.name.toLowerCase()} of the search`,
        why: `It would meet ${percent(potential)} of all travel clean, but: ${faults.map(({ sentence }) => sentence).join(' ')}`,
      })),
      ...passed.map(({ name, faults }) => ({
        what: `Stand at ${name.charAt(0).toLowerCase()}${name.slice(1)}`,
        why: faults.map(({ sentence }) => sentence).join(' '),
      })),
    ],
  };
}

function standIdea({ spot, seat, value, reasons }: JudgedSite, number: number, rules: DraftRules): DraftIdea {
  const { at, seatHeight, weapon, range } = spot;
  return {
    feature: drafted(
      `${rules.prefix}-stand-${number}`,
      'stand',
      `New stand ${number}`,
      { type: 'Point', coordinates: [at[0], at[1]] },
      {
        seatHeight,
        weapon,
        range,
        ...(seat === 'tower' ? { structure: 'tower', towerHeight: seatHeight } : {}),
      },
    ),
    aim: 'stand',
    gain: value,
    reasons: [
      `It would meet ${percent(value)} of all travel clean on average over the hours of light, by a clean way in and with ground close behind the deer.`,
      ...reasons,
    ],
    cautions: [],
    needs: [],
  };
}
