import type { Season } from '../air/season.ts';

/** Days of the year as people write them, MM-DD. */
export interface Window {
  from: string;
  to: string;
}

const DAY = 86_400_000;

export const seasonOf = ({ from, to }: Window): Season => ({ from: monthDay(from), to: monthDay(to) });

const monthDay = (day: string) => ({ month: Number(day.slice(0, 2)), day: Number(day.slice(3)) });

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** `Nov 5` of MM-DD. */
export const dayWords = (day: string): string =>
  `${MONTHS[Number(day.slice(0, 2)) - 1]} ${Number(day.slice(3))}`;

/** Whether a day (MM-DD) lies in a window, both ends counted; a window may run over New Year. */
export const isWithin = (day: string, { from, to }: Window): boolean =>
  from <= to ? day >= from && day <= to : day >= from || day <= to;

/** A day so many days later, MM-DD, in a year that is no leap year. */
export const daysAfter = (day: string, days: number): string =>
  new Date(Date.UTC(2023, Number(day.slice(0, 2)) - 1, Number(day.slice(3))) + days * DAY)
    .toISOString()
    .slice(5, 10);

/** Days between two dates YYYY-MM-DD; negative when the second is earlier. */
export const daysBetween = (first: string, second: string): number =>
  Math.round((Date.parse(second) - Date.parse(first)) / DAY);

/** Every day of a window, YYYY-MM-DD, that begins in a year. */
export function daysOf({ from, to }: Window, year: number): string[] {
  const start = Date.parse(`${year}-${from}`);
  let end = Date.parse(`${year}-${to}`);
  if (Number.isNaN(end)) end = Date.parse(`${year}-${daysAfter(to, 0)}`);
  if (end < start) end = Date.parse(`${year + 1}-${to}`);
  const days: string[] = [];
  for (let at = start; at <= end; at += DAY) days.push(new Date(at).toISOString().slice(0, 10));
  return days;
}
