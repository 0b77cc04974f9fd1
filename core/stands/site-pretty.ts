import { formatLength, type Units } from '../features/units.ts';
import { cellAt } from '../grid/frame.ts';
import { isInside } from '../travel/owner.ts';
import { away, type Mark, type Search } from './site-ground.ts';
import type { JudgedSite } from './site-judge.ts';
import type { LookedSpot } from './site-screen.ts';
import { closedHere, takenBy } from './site-shut.ts';
import { type SiteSpot, seatAt, sitsNowhere } from './site-spots.ts';

/** A place that looks good on a map and is not proposed, and why. */
export interface PassedOver extends Mark {
  faults: JudgedSite['faults'];
}

/** The same before it is judged: the spot it would be hunted from, null where something shuts it out at once. */
export interface Pretty extends PassedOver {
  spot: SiteSpot | null;
}

/** Places nearer than this to each other count as one, m: our choice; and so many are told at most. */
export const SAME_PLACE = 60;
const MOST = 10;

/** Necks and junctions, the most travelled first, and then the places most travel comes in range of. */
export function prettyPlaces(search: Search, looked: readonly LookedSpot[]): Pretty[] {
  const { wish, marks } = search;
  const busiest = looked
    .map(({ at, reach }): Mark => ({ name: 'A busy place', at, share: reach }))
    .sort((a, b) => b.share - a.share || a.at[0] - b.at[0] || a.at[1] - b.at[1]);
  const kept: Mark[] = [];
  for (const mark of [...marks, ...busiest]) {
    if (kept.length === MOST) break;
    const near = wish.within === null || away(mark.at, wish.within.at) <= wish.within.reach;
    if (near && mark.share > 0 && kept.every(({ at }) => away(at, mark.at) > SAME_PLACE)) kept.push(mark);
  }
  return kept.map((mark) => {
    const faults = shutOut(search, mark);
    const code = search.ground.cover.cells[cellAt(search.ground.cover.frame, ...mark.at)];
    const seat = code === undefined ? null : seatAt(code, wish.seat);
    return { ...mark, faults, spot: faults.length === 0 && seat ? { at: mark.at, seat } : null };
  });
}

/** What can be said against a place without judging it. */
function shutOut(search: Search, { at }: Mark): PassedOver['faults'] {
  const { ground, rings, rules, wish } = search;
  const faults: PassedOver['faults'] = [];
  if (rings.length > 0 && !isInside(rings, at))
    faults.push({ key: 'owner', sentence: 'It lies on ground that is not the client’s.' });
  const taken = takenBy(search, at);
  if (taken)
    faults.push({
      key: 'taken',
      sentence: `${taken.name} stands ${formatLength(away(taken.at, at), rules.units)} off already.`,
    });
  const quiet = closedHere(search, at);
  if (quiet) faults.push({ key: 'quiet', sentence: quiet });
  const cell = cellAt(ground.cover.frame, ...at);
  if (faults.length > 0) return faults;
  if (cell < 0 || sitsNowhere(ground.cover, ground.features)[cell] === 1)
    faults.push({ key: 'seat', sentence: 'Nobody can sit there: water, a road, rails or a building.' });
  else if (!seatAt(ground.cover.cells[cell]!, wish.seat))
    faults.push({ key: 'seat', sentence: 'No timber stands there to hang a stand in.' });
  return faults;
}

/** Places that are not proposed, each with why; those a proposed site hunts are left out. */
export function passedOver(
  pretty: readonly Pretty[],
  judged: readonly JudgedSite[],
  sites: readonly JudgedSite[],
  units: Units,
): PassedOver[] {
  return pretty.flatMap(({ name, at, share, faults }): PassedOver[] => {
    if (sites.some(({ spot }) => away(spot.at, at) <= SAME_PLACE)) return [];
    const full = judged.find(({ spot }) => away(spot.at, at) <= SAME_PLACE);
    const found = [...faults, ...(full?.faults ?? [])];
    if (found.length > 0) return [{ name, at, share, faults: found }];
    if (!full) return [];
    const better = sites.find(({ value }) => value >= full.value);
    const sentence = better
      ? `It would do, but a site ${formatLength(away(better.spot.at, at), units)} off meets more travel clean.`
      : 'It would do, but other sites meet more travel clean.';
    return [{ name, at, share, faults: [{ key: 'less', sentence }] }];
  });
}
