import { daysBetween } from './calendar.ts';
import type { Visit } from './visits.ts';

/** Whether a stand has rested on a date. */
export interface Rest {
  ready: boolean;
  /** Days since the last sit in it; null where none is logged. */
  since: number | null;
  /** Days still to wait. */
  wait: number;
}

/**
 * The resting rule: after a sit a stand is left alone for some days, so that deer do not learn it. Sits of the same day
 * do not count against it.
 *
 * @param date YYYY-MM-DD
 * @param days rest after a sit
 */
export function restOf(visits: readonly Visit[], stand: string, date: string, days: number): Rest {
  const sits = visits
    .filter((visit) => visit.who === 'sit' && visit.stand === stand && visit.date < date)
    .map((visit) => daysBetween(visit.date, date));
  if (sits.length === 0) return { ready: true, since: null, wait: 0 };
  const since = Math.min(...sits);
  const wait = Math.max(0, days + 1 - since);
  return { ready: wait === 0, since, wait };
}

/** Sits a week that the rule leaves for one stand. */
export const sitsPerWeek = (days: number): number => 7 / (days + 1);
