/** Standard time of the States by hours from UTC (US Code, title 15, section 263). */
export const STATES_ZONE: Readonly<Record<number, string>> = {
  '-5': 'Eastern standard',
  '-6': 'Central standard',
  '-7': 'Mountain standard',
  '-8': 'Pacific standard',
  '-9': 'Alaska standard',
  '-10': 'Hawaii standard',
};

const STROKES = /(\d{1,2})[/-](\d{1,2})[/-](\d{4})/;
const YEAR_FIRST = /(\d{4})[-/](\d{1,2})[-/](\d{1,2})/;
const CLOCK = /(\d{1,2}):(\d\d)/;
const HOUR_ALONE = /^\s*(\d{1,2})\s*(?:[ap]\.?m\.?)?\s*$/i;

/**
 * Which of day and month comes first in dates that end with the year: told by a number over 12, `unsure` where none is,
 * null where no date is of that form.
 */
export function datesAre(texts: readonly string[]): 'month first' | 'day first' | 'unsure' | null {
  let found: 'unsure' | null = null;
  for (const text of texts) {
    const parts = YEAR_FIRST.test(text) ? null : STROKES.exec(text);
    if (!parts) continue;
    if (Number(parts[1]) > 12) return 'day first';
    if (Number(parts[2]) > 12) return 'month first';
    found = 'unsure';
  }
  return found;
}

/**
 * Hours since 1970-01-01T00Z of a date and time as people write them; NaN where it cannot be read or is no day of the
 * calendar. A time that states its own zone is taken by it.
 *
 * @param clock the time of day where it stands apart; empty where the date has it
 * @param zone hours from UTC of the clock
 */
export function hoursOf(date: string, clock: string, zone: number, dayFirst: boolean): number {
  const text = `${date} ${clock}`.trim();
  if (/\d:\d\d.*(Z|[+-]\d\d:?\d\d)$/i.test(text)) {
    const own = Date.parse(text);
    if (!Number.isNaN(own)) return own / 3_600_000;
  }
  const iso = YEAR_FIRST.exec(date);
  const strokes = iso ? null : STROKES.exec(date);
  if (!iso && !strokes) return Number.NaN;
  const [year, month, day] = iso
    ? [iso[1], iso[2], iso[3]]
    : dayFirst
      ? [strokes![3], strokes![2], strokes![1]]
      : [strokes![3], strokes![1], strokes![2]];
  const midnight = new Date(Date.UTC(Number(year), Number(month) - 1, Number(day)));
  if (midnight.getUTCMonth() !== Number(month) - 1) return Number.NaN;
  const { index, 0: whole } = (iso ?? strokes)!;
  const rest = clock || date.slice(index + whole.length).replace(/^T/i, '');
  const at = CLOCK.exec(rest) ?? HOUR_ALONE.exec(rest);
  const half = /\d\s*([ap])\.?m/i.exec(rest)?.[1]?.toLowerCase();
  const hour = Number(at?.[1] ?? 0);
  if (hour > 24 || (half && hour > 12)) return Number.NaN;
  const twelve = half ? (hour % 12) + (half === 'p' ? 12 : 0) : hour;
  return midnight.getTime() / 3_600_000 + twelve + Number(at?.[2] ?? 0) / 60 - zone;
}
