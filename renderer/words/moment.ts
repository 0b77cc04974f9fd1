/** The day and year travel is computed for, as a person says them. */

export const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;

/** Years ahead the window offers: tops rot and cuts close within them. */
export const YEARS_ON = [0, 1, 2, 3, 5] as const;

/** Days of a month in its longest year, 1-12. */
export const daysIn = (month: number): number => [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1]!;

/** `11-07` of a month and a day, the day kept inside the month. */
export const dayKey = (month: number, day: number): string =>
  `${String(month).padStart(2, '0')}-${String(Math.min(day, daysIn(month))).padStart(2, '0')}`;

/** `7 November`; `no particular day` of null. */
export function dayWords(date: string | null): string {
  const [month, day] = (date ?? '').split('-').map(Number);
  const name = MONTHS[(month ?? 0) - 1];
  return name && day ? `${day} ${name}` : 'no particular day';
}

/** `as things stand today`, `1 year on`, `3 years on`. */
export const yearWords = (year: number): string =>
  year === 0 ? 'as things stand today' : `${year} ${year === 1 ? 'year' : 'years'} on`;
