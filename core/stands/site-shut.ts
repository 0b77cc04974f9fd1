import type { Point } from '../grid/frame.ts';
import { isInside } from '../travel/owner.ts';
import { closedIn, closedWords, quietGrounds } from './quiet-ground.ts';
import { away, type Search } from './site-ground.ts';
import type { StandSpot } from './types.ts';

/** A stand that is there already and hunts the same ground: nearer than half of what keeps two stands apart. */
export const takenBy = ({ wish, rules }: Search, at: Point): StandSpot | null =>
  wish.stands.find((stand) => away(stand.at, at) < rules.hunt.apart / 2) ?? null;

/** The quiet ground at a place that is closed on some day of the season, in words; null where one may go. */
export function closedHere({ ground, rules }: Search, at: Point): string | null {
  const shut = quietGrounds(ground.features).find(
    (quiet) => closedIn(quiet, rules.hunt.season) && isInside(quiet.rings, at),
  );
  return shut ? `${closedWords(shut)}.` : null;
}
