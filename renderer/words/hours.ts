import { formatShare } from '../../core/features/units.ts';
import type { Chance, HourCell, HoursDay } from '../../electron/service/contract.ts';
import { clockWords } from './air.ts';
import { MONTHS } from './moment.ts';

/** Words of the calendar of hours. */

/** The year in which the season that runs or comes next begins; days MM-DD, the day YYYY-MM-DD. */
export function seasonYear({ from, to }: { from: string; to: string }, day: string): number {
  const year = Number(day.slice(0, 4));
  const now = day.slice(5);
  if (from <= to) return now <= to ? year : year + 1;
  return now <= to ? year - 1 : year;
}

const WEEKDAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];

const weekday = (date: string): string => WEEKDAYS[new Date(`${date}T00:00:00Z`).getUTCDay()]!;

/** `Thu 5`. */
export const shortDay = (date: string): string => `${weekday(date).slice(0, 3)} ${Number(date.slice(8))}`;

/** `Thursday 5 November`. */
export const longDay = (date: string): string =>
  `${weekday(date)} ${Number(date.slice(8))} ${MONTHS[Number(date.slice(5, 7)) - 1]}`;

/** `November 2026`. */
export const monthOf = (date: string): string =>
  `${MONTHS[Number(date.slice(5, 7)) - 1]} ${date.slice(0, 4)}`;

/** `3.2 h`, `40 min`, `none`. */
export function hoursWords(hours: number): string {
  if (hours * 60 < 0.5) return 'none';
  return hours < 0.995
    ? `${Math.round(hours * 60)} min`
    : `${hours < 9.95 ? hours.toFixed(1) : Math.round(hours)} h`;
}

/** A share with its band, the band left out where it is no wider than the words. */
function bandWords({ usual, low, high }: { usual: number; low: number; high: number }): string {
  const [share, from, to] = [formatShare(usual), formatShare(low), formatShare(high)];
  return from === to ? share : `${share} (${from} to ${to})`;
}

/** One unbroken stretch of a day with the same chance, as clock times. */
export interface Span {
  of: number;
  from: string;
  to: string;
}

/** The stretches of a day in which its chances hold, in order. */
export function spansOf(cells: readonly HourCell[]): Span[] {
  const spans: { of: number; from: number; to: number }[] = [];
  for (const { hour, from, chances } of cells) {
    let at = hour + from / 60;
    for (const { of, minutes } of chances) {
      const last = spans.at(-1);
      if (last?.of === of && Math.abs(last.to - at) < 1e-6) last.to = at + minutes / 60;
      else spans.push({ of, from: at, to: at + minutes / 60 });
      at += minutes / 60;
    }
  }
  return spans.map(({ of, from, to }) => ({ of, from: clockWords(from), to: clockWords(to) }));
}

/** What a day comes to: a word at the end of its row, and the rest for who cannot see the strip. */
export function dayWordsOf(
  { hours, lawful, barred, cells }: HoursDay,
  stands: number,
): { sum: string; more: string } {
  if (cells.length === 0) return { sum: 'dark', more: ', no lawful light' };
  const light = `${hoursWords(lawful)} of light`;
  if (barred.length === stands)
    return { sum: barred.every(({ by }) => by === 'closed') ? 'closed' : 'rests', more: '' };
  if (hours === null) return { sum: '?', more: ` of ${light}, the wind is not known` };
  return { sum: hoursWords(hours.usual), more: ` of ${light}` };
}

/** Which hours a strip shows: from the first with light to the last, of all days. */
export function hourRange(days: readonly HoursDay[]): { first: number; last: number } {
  const hours = days.flatMap(({ cells }) => cells.map(({ hour }) => hour));
  return { first: Math.min(...hours), last: Math.max(...hours) + 1 };
}

/** How often the wind is good in a chance's part of the day. */
export function chanceWords({ share, counted, month, winds }: Chance): string {
  const name = MONTHS[month - 1]!;
  if (counted === null)
    return winds.length > 0 ? 'How often its winds blow is not known without a record.' : '';
  if (!share) return `The wind record has no hour of ${name} at that part of the day.`;
  if (share.high === 0) return 'No wind is good.';
  return `A good wind in ${bandWords(share)} of the record’s ${counted} hours of ${name} at that part of the day.`;
}
