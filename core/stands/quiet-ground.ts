import { type Feature, ofKind } from '../features/feature.ts';
import { ringsOf } from '../features/shapes.ts';
import type { Point } from '../grid/frame.ts';
import { isInside } from '../travel/owner.ts';
import { daysBetween, daysOf, dayWords, isWithin, type Window } from './calendar.ts';
import type { Visit, Visitor } from './visits.ts';

/** Ground nobody enters from one day to another: a `quiet` feature. */
export interface QuietGround {
  id: string;
  name: string;
  rings: Point[][];
  /** MM-DD; null for the whole year. */
  window: { from: string; to: string } | null;
}

const isDay = (value: unknown): value is string => typeof value === 'string' && /^\d\d-\d\d$/.test(value);

export const quietGrounds = (features: readonly Feature[]): QuietGround[] =>
  ofKind(features, 'quiet').flatMap(({ id, name, geometry, attributes: { from, to } }) => {
    const rings = ringsOf(geometry);
    if (rings.length === 0) return [];
    const window = isDay(from) && isDay(to) ? { from, to } : null;
    return [{ id, name: name ?? 'Quiet ground', rings, window }];
  });

/** The quiet ground a spot lies on that is closed on a day (MM-DD); null where one may go. */
export const closedAt = (grounds: readonly QuietGround[], at: Point, day: string): QuietGround | null =>
  grounds.find(({ rings, window }) => (window === null || isWithin(day, window)) && isInside(rings, at)) ??
  null;

/** The first closed ground a way enters, looked at every few metres. */
export function closedAlong(
  grounds: readonly QuietGround[],
  path: readonly Point[],
  day: string,
): QuietGround | null {
  for (let k = 0; k < path.length; k++) {
    const [ax, ay] = path[Math.max(0, k - 1)]!;
    const [bx, by] = path[k]!;
    const pieces = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / 10));
    for (let p = 1; p <= pieces; p++) {
      const found = closedAt(grounds, [ax + ((bx - ax) * p) / pieces, ay + ((by - ay) * p) / pieces], day);
      if (found) return found;
    }
  }
  return null;
}

/** Whether ground is closed on some day of a window of the year. */
export const closedIn = ({ window }: QuietGround, days: Window): boolean =>
  window === null || daysOf(days, 2023).some((day) => isWithin(day.slice(5), window));

export const closedWords = ({ name, window }: QuietGround): string =>
  window
    ? `${name} is closed from ${dayWords(window.from)} to ${dayWords(window.to)}`
    : `${name} is closed all year`;

/** Share of travel lost on the day of a visit, and how far away it is felt, m: our assumption. */
const LOST: Record<Visitor, { share: number; reach: number }> = {
  sit: { share: 0.2, reach: 150 },
  owner: { share: 0.4, reach: 200 },
  stock: { share: 0.3, reach: 200 },
  mowing: { share: 0.5, reach: 300 },
  feed: { share: 0.3, reach: 200 },
};
/** Days in which half of what a visit cost comes back: our assumption. */
const HALF_LIFE = 2;
/** A visit to closed ground costs so many times as much: deer count on it. Our assumption. */
const ON_QUIET = 1.5;
/** Less than this is not worth a word. */
const NOTHING = 0.02;

export interface Disturbance {
  /** What is left of the expected travel, 0..1. */
  left: number;
  reasons: string[];
}

const WORDS: Record<Visitor, string> = {
  sit: 'a hunter sat',
  owner: 'the owner was there',
  stock: 'stock was moved',
  mowing: 'it was mowed',
  feed: 'feed was put out',
};

/** What visits near a stand have left of its travel on a date (YYYY-MM-DD). Each visit counts by itself. */
export function disturbance(
  visits: readonly Visit[],
  grounds: readonly QuietGround[],
  at: Point,
  date: string,
): Disturbance {
  let left = 1;
  const reasons: string[] = [];
  for (const visit of visits) {
    const days = daysBetween(visit.date, date);
    const { share, reach } = LOST[visit.who];
    if (days < 0 || Math.hypot(visit.at[0] - at[0], visit.at[1] - at[1]) > reach) continue;
    const closed = closedAt(grounds, visit.at, visit.date.slice(5));
    const lost = Math.min(1, share * (closed ? ON_QUIET : 1)) * 0.5 ** (days / HALF_LIFE);
    if (lost < NOTHING) continue;
    left *= 1 - lost;
    const when = days === 0 ? 'the same day' : days === 1 ? 'the day before' : `${days} days before`;
    reasons.push(`${WORDS[visit.who]} ${when}${closed ? ` on ${closed.name}` : ''}`);
  }
  return { left, reasons };
}
