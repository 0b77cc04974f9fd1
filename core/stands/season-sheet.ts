import type { Window } from './calendar.ts';
import { HUNTED, type HuntedPart, runsIn, type StandCases } from './case-verdict.ts';
import { WINDS } from './scent-study.ts';
import type { WayTaken } from './stand-ways.ts';

/** How one stand may be sat in one case. */
export interface Choice {
  stand: string;
  clean: number;
  /** For a keener and a duller nose as well. */
  firm: boolean;
  /** The way in, and where it is looked at on its own the way out; empty where ways were not judged. */
  ways: readonly WayTaken[];
}

/** One line of the sheet: what to do in one wind at one part of the day. */
export interface SheetCase {
  part: HuntedPart;
  wind: string;
  /** Share of that part's hours with this wind in each date window; null without a record. */
  shares: (number | null)[];
  /** Best first; empty means stay home. */
  choices: Choice[];
  /** Why to stay home; null where a stand can be sat. */
  home: string | null;
}

/** Two stands that may not be sat together, and when. */
export interface Apart {
  stands: [string, string];
  /** Cases (part and wind) in which they spoil each other; null for always. */
  cases: { part: HuntedPart; wind: string }[] | null;
  why: string;
}

export interface SeasonSheet {
  windows: (Window & { name: string })[];
  cases: SheetCase[];
  apart: Apart[];
}

/** Of a stand's clean travel, the most a second hunter's scent may take: our assumption. */
const TAKEN = 0.2;

/**
 * Which stand for which wind and part of the day. Stands that can be hunted, the most clean travel first; where none
 * can, the sheet says to stay home and what the nearest miss was.
 *
 * @param shares of part and wind (index into WINDS) in each window, as `windShares` gives them
 */
export function seasonSheet(
  stands: readonly StandCases[],
  windows: readonly (Window & { name: string })[],
  shares: (window: number, part: HuntedPart, wind: number) => number | null,
  apartBy: number,
): SeasonSheet {
  const cases = HUNTED.flatMap((part) =>
    WINDS.map((wind, k): SheetCase => {
      const here = stands.flatMap(({ stand, cases: all }) => {
        const found = all.find((each) => each.part === part && each.wind === wind);
        return found ? [{ stand, found }] : [];
      });
      const choices = here
        .filter(({ found }) => found.hunt.usual)
        .map(({ stand, found }) => ({
          stand: stand.id,
          clean: found.clean?.usual ?? 0,
          firm: found.hunt.keen && found.hunt.dull,
          ways: found.ways ?? [],
        }))
        .sort((a, b) => b.clean - a.clean);
      const miss = here.reduce<(typeof here)[number] | null>(
        (best, each) =>
          best && (best.found.clean?.usual ?? 0) >= (each.found.clean?.usual ?? 0) ? best : each,
        null,
      );
      return {
        part,
        wind,
        shares: windows.map((_, w) => shares(w, part, k)),
        choices,
        home:
          choices.length > 0 ? null : miss ? `${miss.stand.name}: ${miss.found.why}` : 'No stand was judged.',
      };
    }),
  );
  return { windows: [...windows], cases, apart: apartPairs(stands, apartBy) };
}

/**
 * Stands that spoil each other: too close, or the scent of one takes more than a fifth of the other's clean travel, by
 * the routes both judge.
 *
 * @param near m
 */
export function apartPairs(stands: readonly StandCases[], near: number): Apart[] {
  const pairs: Apart[] = [];
  stands.forEach((a, i) => {
    for (const b of stands.slice(i + 1)) {
      const ids: [string, string] = [a.stand.id, b.stand.id];
      const distance = Math.hypot(a.stand.at[0] - b.stand.at[0], a.stand.at[1] - b.stand.at[1]);
      if (distance < near) {
        pairs.push({ stands: ids, cases: null, why: 'They stand too close together.' });
        continue;
      }
      const cases = a.cases.flatMap(({ part, wind }, k) => {
        const j = b.cases.findIndex((each) => each.part === part && each.wind === wind);
        if (j < 0) return [];
        const spoils = takenBy(a, k, b.scented[j]!) > TAKEN || takenBy(b, j, a.scented[k]!) > TAKEN;
        return spoils ? [{ part, wind }] : [];
      });
      if (cases.length > 0)
        pairs.push({
          stands: ids,
          cases,
          why: 'The scent of one takes more than a fifth of the other’s clean travel.',
        });
    }
  });
  return pairs;
}

/** Share of a stand's clean routes in a case that meet another hunter's scent before they come in reach. */
export function takenBy(
  { reached, scented, routes, cases }: StandCases,
  k: number,
  other: ArrayLike<number>,
): number {
  let [clean, taken] = [0, 0];
  for (let r = 0; r < reached.length; r++) {
    const at = reached[r]!;
    const own = scented[k]![r]!;
    if (at < 0 || (own >= 0 && own <= at) || !runsIn(routes[r]!.when, cases[k]!.part)) continue;
    clean += routes[r]!.share;
    if (other[r]! >= 0 && other[r]! <= at) taken += routes[r]!.share;
  }
  return clean > 0 ? taken / clean : 0;
}

/** Whether two stands may be sat together in a case. */
export const mayJoin = (
  apart: readonly Apart[],
  a: string,
  b: string,
  part: HuntedPart,
  wind: string,
): boolean =>
  !apart.some(
    ({ stands, cases }) =>
      stands.includes(a) &&
      stands.includes(b) &&
      (cases === null || cases.some((each) => each.part === part && each.wind === wind)),
  );

/** Of more stands than this only the best are tried in sets. */
const TRIED = 12;

/** For several hunters: the most, then the best, stands that may be sat together. */
export function together<C extends Pick<Choice, 'stand' | 'clean'>>(
  choices: readonly C[],
  hunters: number,
  apart: readonly Apart[],
  part: HuntedPart,
  wind: string,
): C[] {
  let best: C[] = [];
  let most = -1;
  const tried = choices.slice(0, TRIED);
  const search = (from: number, chosen: C[], sum: number) => {
    if (chosen.length > best.length || (chosen.length === best.length && sum > most)) {
      best = chosen;
      most = sum;
    }
    if (chosen.length === hunters) return;
    for (let k = from; k < tried.length; k++) {
      const next = tried[k]!;
      if (chosen.every(({ stand }) => mayJoin(apart, stand, next.stand, part, wind)))
        search(k + 1, [...chosen, next], sum + next.clean);
    }
  };
  // More than a dozen stands to choose from would be too many sets to try.
  search(0, [], 0);
  return best;
}
