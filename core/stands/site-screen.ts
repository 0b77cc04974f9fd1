import { cellAt } from '../grid/frame.ts';
import type { Progress } from '../grid/progress.ts';
import { waysToMany } from './judge-way.ts';
import { lineOfFire } from './line-of-fire.ts';
import { away, type Search, standOn, viewFrom } from './site-ground.ts';
import { backedShare } from './site-judge.ts';
import { type FirstLook, firstLook } from './site-look.ts';
import { closedHere, takenBy } from './site-shut.ts';
import type { SiteSpot } from './site-spots.ts';
import { eyeHeight } from './spot.ts';

/** Spots with what a first look makes of them. */
export type LookedSpot = SiteSpot & FirstLook;

/** A spot worth more than a first look. */
export type Ranked = SiteSpot & { score: number; clean: boolean };

/** How many spots a way in is looked for, how many are looked at from the seat, and behind the deer: our choice. */
const MOST_WAYS = 480;
const MOST_SEEN = 240;
const MOST_CHECKED = 60;
/** Those looked behind the deer lie this far apart, m, so that not all are of one place. */
const CHECKED_APART = 40;

/** What a first look makes of every spot, in the same order. */
export function lookAtAll(search: Search, spots: readonly SiteSpot[], progress: Progress): LookedSpot[] {
  return spots.map((spot, k) => {
    if (k % 50 === 0) progress(k / spots.length);
    return { ...spot, ...firstLook(search.first, spot.at, search.wish.range) };
  });
}

/**
 * The spots that may be judged in full, the best first: those a first look finds worth something, then with a look from
 * the seat, with what lies behind the deer, and with whether a clean way leads there. Half of those looked at closer
 * are spots with a clean way in, which may be worth less at first sight.
 *
 * @returns those looked at in every way, which lie apart, and all that were looked at from the seat
 */
export function screenSpots(
  search: Search,
  looked: readonly LookedSpot[],
  progress: Progress,
): { checked: Ranked[]; seen: Ranked[] } {
  const { ground, wish, rules, first } = search;
  const walk = { ...rules.way, time: 'midday', wind: 'calm', air: { kind: 'still' } } as const;
  const wayTo = waysToMany(search.ready, walk, rules.units);
  const worthy = ranked(
    looked
      .filter(({ worth, at }) => worth > 0 && !takenBy(search, at) && !closedHere(search, at))
      .map(({ at, seat, worth }) => ({ at, seat, score: worth, clean: false })),
  ).slice(0, MOST_WAYS);
  const walked = worthy.map((spot, k) => {
    if (k % 20 === 0) progress((0.4 * k) / worthy.length);
    return { ...spot, clean: wayTo(spot.at)?.clean ?? false };
  });
  const near = halves(walked, MOST_SEEN, 0);
  const seen = ranked(
    near.map((spot, k) => {
      if (k % 10 === 0) progress(0.4 + (0.2 * k) / near.length);
      return { ...spot, score: firstLook(first, spot.at, wish.range, viewFrom(search, spot).inView).worth };
    }),
  );
  const close = halves(seen, MOST_CHECKED, wish.within ? 0 : CHECKED_APART);
  const checked = ranked(
    close.map((spot, k) => {
      progress(0.6 + (0.4 * k) / close.length);
      const stand = standOn(search, spot, 'first');
      const i = cellAt(ground.elevation.frame, ...spot.at);
      const eye = ground.elevation.cells[i]! + eyeHeight(stand);
      const { sectors } = lineOfFire(ground, stand, eye, rules.settings, rules.units);
      const { inView } = viewFrom(search, spot);
      return {
        ...spot,
        score: spot.score * (backedShare(search.travel, spot.at, wish.range, inView, sectors) ?? 0),
      };
    }),
  );
  return { checked, seen };
}

/** Of a ranked list, the best with a clean way in and the best of all, half of each as far as there are any. */
function halves(list: readonly Ranked[], most: number, apart: number): Ranked[] {
  const clean = spread(
    list.filter((spot) => spot.clean),
    most / 2,
    apart,
  );
  return ranked([...clean, ...spread(list, most - clean.length, apart, clean)]);
}

/** Those worth anything, the best first; spots of one worth by where they lie, so that the order is always the same. */
const ranked = (list: Ranked[]): Ranked[] =>
  list
    .filter(({ score }) => score > 0)
    .sort((a, b) => b.score - a.score || a.at[0] - b.at[0] || a.at[1] - b.at[1]);

/** The best of a ranked list that lie apart from each other and from those kept before. */
export function spread(
  list: readonly Ranked[],
  most: number,
  apart: number,
  before: readonly SiteSpot[] = [],
): Ranked[] {
  const kept: Ranked[] = [];
  for (const each of list) {
    const all = [...before, ...kept];
    const free = all.every(({ at }) => at !== each.at && away(at, each.at) >= apart);
    if (kept.length < most && free) kept.push(each);
  }
  return kept;
}
