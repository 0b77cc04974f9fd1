import { formatLength, formatShare } from '../features/units.ts';
import { cellAt } from '../grid/frame.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { HUNTED, standCases } from './case-verdict.ts';
import { FINE, lookFrom } from './look.ts';
import { subjectOf } from './reach-mask.ts';
import type { SeasonAir } from './scent-study.ts';
import {
  away,
  prepareSearch,
  type Search,
  type SiteGround,
  type SiteRules,
  type SiteWish,
  standOn,
  viewFrom,
} from './site-ground.ts';
import { backedShare, type JudgedSite, judgeSite, type SiteFault } from './site-judge.ts';
import { type PassedOver, passedOver, prettyPlaces, SAME_PLACE } from './site-pretty.ts';
import { lookAtAll, type Ranked, screenSpots, spread } from './site-screen.ts';
import { type SiteSpot, siteSpots } from './site-spots.ts';
import { waysOfParts, windsToWalkIn } from './sitting.ts';
import { standVerdict } from './verdict.ts';

export interface SiteSearch {
  /** Sites with nothing against them, the best first. */
  sites: JudgedSite[];
  /** Sites with nothing against them but the way in, the best first. */
  ifWay: JudgedSite[];
  passed: PassedOver[];
  /** Spots looked at, and of them those judged in full. */
  looked: { spots: number; judged: number };
  sentences: string[];
  doubts: string[];
}

/** Spots judged in full with a clean way in, and of all; and of the places that look good: our choice. */
const MOST_CLEAN = 5;
const MOST_JUDGED = 9;
const MOST_PRETTY = 3;
/** Beside the best so many, so many spots within this are judged in full as well, m. */
const BEST = 2;
const BESIDE = 45;
const MOST_BESIDE = 3;

/**
 * Where new stands would pay, on the client's own ground. Spots round necks and junctions and all over the property are
 * looked at cheaply (travel in range, record of the wind, bedding); the best of them from the seat, behind the deer and
 * for a way in; the best of those, spread apart, get the whole verdict that a drawn stand gets, and that alone ranks
 * them. The same for the same input.
 *
 * @param air of the season, as verdicts take it
 */
export function searchSites(
  ground: SiteGround,
  air: SeasonAir,
  wish: SiteWish,
  rules: SiteRules,
  progress: Progress = silent,
): SiteSearch {
  const search = prepareSearch(ground, air, wish, rules);
  const marks = search.marks.map(({ at }) => at);
  const spots = siteSpots(ground.cover, ground.features, marks, wish.seat, wish.within);
  progress(0.03);
  const looked = lookAtAll(search, spots, part(progress, 0.03, 0.12));
  const screened = screenSpots(search, looked, part(progress, 0.12, 0.3));
  const pretty = prettyPlaces(search, looked);
  const first = judgeAll(search, toJudge(search, screened.checked, pretty), part(progress, 0.3, 0.8));
  const next = besideBest(screened.seen, first);
  const judged = [...first, ...judgeAll(search, next, part(progress, 0.8, 1))];
  const good = judged.filter(({ faults }) => faults.length === 0);
  const onlyWay = judged.filter(({ faults }) => faults.length === 1 && faults[0]!.key === 'way');
  const sites = best(good, ({ value }) => value, wish.count, rules.hunt.apart);
  const ifWay = best(onlyWay, ({ potential }) => potential, wish.count, rules.hunt.apart, sites);
  return {
    sites: named(sites, 'site', 'Site', 0),
    ifWay: named(ifWay, 'site', 'Site', sites.length),
    passed: passedOver(pretty, judged, sites, rules.units),
    looked: { spots: spots.length, judged: judged.length },
    sentences: sentencesOf(sites, ifWay, judged, spots.length),
    doubts: doubtsOf(search, [...sites, ...ifWay]),
  };
}

/** Those with a clean way in first, then the best of all, then what looks good on a map. */
function toJudge(
  { wish, rules }: Search,
  screened: readonly Ranked[],
  pretty: ReturnType<typeof prettyPlaces>,
): SiteSpot[] {
  // Round one stand every spot counts; over the property they must not all lie in one place.
  const apart = wish.within ? 0 : rules.hunt.apart / 2;
  const clean = spread(
    screened.filter((spot) => spot.clean),
    MOST_CLEAN,
    apart,
  );
  const rest = spread(screened, MOST_JUDGED - clean.length, apart, clean);
  const extra = pretty
    .flatMap(({ spot }) => (spot ? [spot] : []))
    .filter(({ at }) => [...clean, ...rest].every((spot) => away(at, spot.at) > SAME_PLACE));
  return [...clean, ...rest, ...(wish.within ? [] : extra.slice(0, MOST_PRETTY))];
}

/** The best spots of a search that keeps near a place, judged in full. */
export function judgeNear(search: Search, most: number, progress: Progress): JudgedSite[] {
  const { ground, wish } = search;
  const marks = search.marks.map(({ at }) => at);
  const spots = siteSpots(ground.cover, ground.features, marks, wish.seat, wish.within);
  const looked = lookAtAll(search, spots, part(progress, 0, 0.1));
  const { checked } = screenSpots(search, looked, part(progress, 0.1, 0.3));
  return judgeAll(search, spread(checked, most, 0), part(progress, 0.3, 1));
}

/** Spots beside the best ones: what was looked at only roughly may be worth more than its neighbour. */
function besideBest(seen: readonly Ranked[], judged: readonly JudgedSite[]): SiteSpot[] {
  const leaders = [...judged].sort((a, b) => b.value - a.value || b.potential - a.potential);
  const beside: Ranked[] = [];
  for (const { spot } of leaders.slice(0, BEST)) {
    const fresh = seen.filter(
      ({ at }) =>
        away(at, spot.at) <= BESIDE &&
        beside.every((each) => each.at !== at) &&
        judged.every((each) => away(each.spot.at, at) > 0),
    );
    beside.push(...fresh.slice(0, MOST_BESIDE));
  }
  return beside;
}

function judgeAll(search: Search, spots: readonly SiteSpot[], progress: Progress): JudgedSite[] {
  return spots.map((spot, k) =>
    siteInFull(search, spot, `site-${k + 1}`, part(progress, k / spots.length, (k + 1) / spots.length)),
  );
}

/** The whole verdict on a spot, as a drawn stand gets it. */
export function siteInFull(
  search: Search,
  site: SiteSpot,
  id: string,
  progress: Progress = silent,
): JudgedSite {
  const { ground, air, rules, travel, wish } = search;
  const spot = standOn(search, site, id);
  const { mask, inView } = viewFrom(search, site);
  const cases = standCases(
    subjectOf(spot),
    { ...ground, ground: { ...ground, routes: ground.walked }, reach: mask },
    air,
    { ...rules.rough, hunt: rules.hunt, parts: HUNTED.filter((each) => rules.lawful[each] > 0) },
    progress,
  );
  const verdict = standVerdict(cases, rules.lawful, rules.hunt);
  const { reach } = lookFrom(spot, ground, rules.settings, rules.units);
  const { convergence } = ground.elevation.frame;
  const options = { ...rules.way, airBearing: ground.airBearing, convergence };
  const ways = waysOfParts(spot, search.ready, windsToWalkIn(verdict), options, rules.units);
  const backed = backedShare(travel, spot.at, wish.range, inView, reach.fire.sectors);
  return judgeSite({ spot, seat: site.seat, cases, verdict, reach, ways }, backed, ground, rules.units);
}

function best(
  from: readonly JudgedSite[],
  worth: (site: JudgedSite) => number,
  count: number,
  apart: number,
  before: readonly JudgedSite[] = [],
): JudgedSite[] {
  const kept: JudgedSite[] = [];
  for (const each of [...from].sort((a, b) => worth(b) - worth(a)))
    if (
      before.length + kept.length < count &&
      [...before, ...kept].every(({ spot }) => away(spot.at, each.spot.at) >= apart)
    )
      kept.push(each);
  return kept;
}

const named = (sites: readonly JudgedSite[], id: string, name: string, from: number): JudgedSite[] =>
  sites.map((site, k) => ({
    ...site,
    spot: { ...site.spot, id: `${id}-${from + k + 1}`, name: `${name} ${from + k + 1}` },
  }));

const WHY: Record<SiteFault, string> = {
  owner: 'they are not the client’s',
  seat: 'nobody can sit there',
  quiet: 'the ground is closed',
  taken: 'a stand is there already',
  reach: 'hardly any travel comes in range and view',
  scent: 'no wind lets them be hunted',
  way: 'no clean way leads there',
  backstop: 'too little ground stands behind the deer',
  less: 'others are better',
};

function sentencesOf(
  sites: readonly JudgedSite[],
  ifWay: readonly JudgedSite[],
  judged: readonly JudgedSite[],
  spots: number,
): string[] {
  const sentences: string[] = [];
  const [first] = sites;
  const [other] = ifWay;
  if (first)
    sentences.push(
      `The best new site meets ${formatShare(first.value)} of all travel clean on average over the hours of light, by a clean way in and with ground close behind the deer.`,
    );
  else {
    const counts = new Map<SiteFault, number>();
    for (const { faults } of judged)
      for (const { key } of faults) counts.set(key, (counts.get(key) ?? 0) + 1);
    const most = [...counts].sort((a, b) => b[1] - a[1])[0];
    sentences.push(
      most
        ? `No site is proposed outright: of the ${judged.length} best spots ${most[1]} fail because ${WHY[most[0]]}.`
        : 'No spot on this ground has travel in range and view.',
    );
  }
  if (other && other.potential > (first?.value ?? 0))
    sentences.push(
      `With a clean way in, another spot would meet ${formatShare(other.potential)}; what is wrong with the way is told with it.`,
    );
  sentences.push(`${spots} spots were looked at, ${judged.length} of them with the whole verdict.`);
  return sentences;
}

function doubtsOf({ rings, air, ground, rules, wish }: Search, sites: readonly JudgedSite[]): string[] {
  const { cover } = ground;
  const doubts: string[] = [];
  const { cellSize } = cover.frame;
  if (cellSize > wish.range / FINE)
    doubts.push(
      `Cells of ${formatLength(cellSize, rules.units)} are too coarse for a range of ${formatLength(wish.range, rules.units)}: take these as places to walk, not as sites.`,
    );
  if (rings.length === 0)
    doubts.push(
      'No boundary is mapped: whose ground a site lies on is not known, and none was left out for it.',
    );
  if (sites.some(({ ways }) => ways.some(({ clean }) => clean === null)))
    doubts.push('No access, gate or house is mapped: no way in was looked for.');
  if (air.parts === null)
    doubts.push('There is no wind record: every wind counts alike, and hours a week are not known.');
  if (sites.some(({ spot }) => cover.cells[cellAt(cover.frame, ...spot.at)] === 0))
    doubts.push('Cover is not known at a site: whether a tree stands there has to be seen.');
  doubts.push(
    'The first look, which decides what is judged in full, takes scent to go straight downwind: a site that only pays in winds bent by the ground may be missed.',
    `Timber on the map is not a straight tree at the spot, and nobody asked what lies under a tower; leaves are ${rules.settings.leaves === 'on' ? 'on' : 'down'}.`,
  );
  return doubts;
}
