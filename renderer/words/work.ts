import { decimal, whole } from '../../core/features/units.ts';
import type { Gain, Gains, Span } from '../../core/plan/types.ts';

const UNKNOWN = 'not known';
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

export const dollars = (value: number | null): string => (value === null ? UNKNOWN : `$${whole(value)}`);
export const hours = (value: number | null): string =>
  value === null ? UNKNOWN : `${decimal(value, Number.isInteger(value) ? 0 : 1)} h`;

/** `Feb 3` of MM-DD. */
function monthDay(day: string): string {
  const [month, date] = day.split('-').map(Number) as [number, number];
  return `${MONTHS[month - 1]} ${date}`;
}

/** `Feb 3 to Feb 5, 2027` of two ISO dates. */
export const datesInWords = (from: string | null, to: string | null): string =>
  from && to
    ? `${monthDay(from.slice(5))}${from === to ? '' : ` to ${monthDay(to.slice(5))}`}, ${to.slice(0, 4)}`
    : 'no date yet';

export const spansInWords = (spans: readonly Span[]): string =>
  spans.map(({ from, to }) => `${monthDay(from)} to ${monthDay(to)}`).join(', ') || 'never';

const said = (value: number): string => decimal(value, Math.abs(value) < 10 ? 1 : 0);

/** `4.0 (2.1 to 6.3)`; the band only where one was computed. */
export function gainInWords(gain: Gain | null): string {
  if (!gain) return UNKNOWN;
  const band = gain.low === null || gain.high === null ? '' : ` (${said(gain.low)} to ${said(gain.high)})`;
  return said(gain.value) + band;
}

/** What there is today and with every job built. */
export const gainedInWords = ({ unit, today, built }: Pick<Gains, 'unit' | 'today' | 'built'>): string =>
  `Gain is in ${unit}, in brackets the least and the most. Today it comes to ${said(today)}, with every job built to ${said(built)}.`;

/** Share of the year before a day MM-DD, or at its end. */
export function placeInYear(day: string, end: boolean): number {
  const [month, date] = day.split('-').map(Number) as [number, number];
  const days = (Date.UTC(2023, month - 1, date) - Date.UTC(2023, 0, 1)) / 86_400_000;
  return (days + (end ? 1 : 0)) / 365;
}
