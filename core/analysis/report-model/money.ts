import { decimal, whole } from '../../features/units.ts';
import type { Gain, Gains, Job, Span } from '../../plan/types.ts';

/** Numbers of the work as the report prints them; what is not known says so. */

const UNKNOWN = 'not known';

export const dollars = (value: number | null): string => (value === null ? UNKNOWN : `$${whole(value)}`);
export const hours = (value: number | null): string =>
  value === null ? UNKNOWN : `${decimal(value, Number.isInteger(value) ? 0 : 1)} h`;

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** `Feb 3` of MM-DD. */
export function monthDay(day: string): string {
  const [month, date] = day.split('-').map(Number) as [number, number];
  return `${MONTHS[month - 1]} ${date}`;
}

/** `Feb 3, 2027` of an ISO date. */
export const fullDay = (iso: string): string => `${monthDay(iso.slice(5))}, ${iso.slice(0, 4)}`;

export const spansInWords = (spans: readonly Span[]): string =>
  spans.length === 0
    ? 'no day of the year'
    : spans.map(({ from, to }) => `${monthDay(from)} to ${monthDay(to)}`).join(', ');

const said = (value: number): string => decimal(value, Math.abs(value) < 10 ? 1 : 0);

/** One or no decimal, with its band where one was computed. */
export function gainInWords(gain: Gain | null): string {
  if (!gain) return UNKNOWN;
  return gain.low === null || gain.high === null
    ? said(gain.value)
    : `${said(gain.value)} (${said(gain.low)} to ${said(gain.high)})`;
}

/** What there is today and with every job built. */
export const gainedInWords = ({ today, built }: Pick<Gains, 'today' | 'built'>): string =>
  `Today it comes to ${said(today)}, with every job built to ${said(built)}.`;

/** The quantities of a job in one line, the ones a buyer or a crew counts. */
export const inOneLine = ({ quantities }: Job): string =>
  quantities
    .map(({ label, text, buy }) => `${label.toLowerCase()} ${text}${buy ? ` (buy ${buy})` : ''}`)
    .join('; ');
