import type { WindRecord } from './types.ts';

/** What a record covers. Times in hours since 1970-01-01T00Z; shares 0..1. */
export interface RecordSpan {
  station: string;
  from: number;
  to: number;
  /** Hours kept, and the share they are of all from first to last. */
  hours: number;
  covered: number;
  /** The longest gaps of a day and more, the longest first. */
  gaps: { from: number; to: number; hours: number }[];
  /** Of the hours kept, the shares with cloud and with a gust. */
  withCloud: number;
  withGust: number;
}

/** Shorter gaps are not listed, h, and no more than so many. */
const LEAST_GAP = 24;
const MOST_GAPS = 5;

/** @returns null for a record without hours */
export function recordSpan(record: WindRecord): RecordSpan | null {
  const { hours, sky, gust, station } = record;
  if (hours.length === 0) return null;
  const from = hours[0]!;
  const to = hours[hours.length - 1]!;
  const gaps: RecordSpan['gaps'] = [];
  let clouded = 0;
  let gusty = 0;
  for (let i = 0; i < hours.length; i++) {
    if (!Number.isNaN(sky[i]!)) clouded++;
    if (gust && !Number.isNaN(gust[i]!)) gusty++;
    const missing = i > 0 ? hours[i]! - hours[i - 1]! - 1 : 0;
    if (missing >= LEAST_GAP) gaps.push({ from: hours[i - 1]! + 1, to: hours[i]!, hours: missing });
  }
  gaps.sort((a, b) => b.hours - a.hours || a.from - b.from);
  return {
    station,
    from,
    to,
    hours: hours.length,
    covered: hours.length / (to - from + 1),
    gaps: gaps.slice(0, MOST_GAPS),
    withCloud: clouded / hours.length,
    withGust: gusty / hours.length,
  };
}
