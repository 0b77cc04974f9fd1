import type { Span } from './types.ts';

/** Days as whole numbers since 1970-01-01, and days of the year as MM-DD in a year of 365 days. */

const DAY = 86_400_000;
const YEAR_DAYS = 365;

export const dayOf = (iso: string): number => Math.round(Date.parse(`${iso}T00:00:00Z`) / DAY);
export const isoOf = (day: number): string => new Date(day * DAY).toISOString().slice(0, 10);
/** Today in Greenwich, YYYY-MM-DD. */
export const isoToday = (): string => isoOf(Math.floor(Date.now() / DAY));
export const monthDay = (day: number): string => isoOf(day).slice(5);

/** 0 for 01-01 to 364 for 12-31; 29 February counts as the 28th. */
export function dayOfYear(monthAndDay: string): number {
  const [month, day] = monthAndDay.split('-').map(Number) as [number, number];
  const safe = month === 2 ? Math.min(day, 28) : day;
  return Math.round((Date.UTC(2023, month - 1, safe) - Date.UTC(2023, 0, 1)) / DAY);
}

const fromDayOfYear = (day: number): string =>
  new Date(Date.UTC(2023, 0, 1 + (((day % YEAR_DAYS) + YEAR_DAYS) % YEAR_DAYS))).toISOString().slice(5, 10);

/** A day of the year moved by so many days. */
export const shifted = (monthAndDay: string, days: number): string =>
  fromDayOfYear(dayOfYear(monthAndDay) + days);

/** 1 for every day of the year inside a span. */
export function daysIn({ from, to }: Span): Uint8Array {
  const days = new Uint8Array(YEAR_DAYS);
  const [first, last] = [dayOfYear(from), dayOfYear(to)];
  for (let day = first; ; day = (day + 1) % YEAR_DAYS) {
    days[day] = 1;
    if (day === last) return days;
  }
}

/** The runs of days that are 1, the one over New Year in one piece. */
export function spansOf(days: Uint8Array): Span[] {
  const open = days.indexOf(0);
  if (open < 0) return [{ from: '01-01', to: '12-31' }];
  const spans: Span[] = [];
  let first = -1;
  for (let step = 1; step <= YEAR_DAYS; step++) {
    const day = (open + step) % YEAR_DAYS;
    if (days[day] && first < 0) first = day;
    if (!days[day] && first >= 0) {
      spans.push({ from: fromDayOfYear(first), to: fromDayOfYear(day - 1) });
      first = -1;
    }
  }
  return spans.sort((a, b) => a.from.localeCompare(b.from));
}
