import type { AttributeValue } from '../../core/features/feature.ts';
import { type CsvRow, parseCsvRows } from './csv.ts';
import type { RawFeature, RawVectors } from './raw.ts';
import { refusal } from './refusal.ts';

/** What a column may hold, and what people call it. */
const COLUMNS = {
  place: /^(place|camera|site|station|name|location)\b/i,
  latitude: /^lat/i,
  longitude: /^(lon|lng)/i,
  date: /^(date|day)\b/i,
  hour: /^(hour|time)\b/i,
  count: /^(count|deer|number|animals)\b/i,
} as const;
type Column = keyof typeof COLUMNS;

const columnsOf = (header: readonly string[]): Record<Column, number> =>
  Object.fromEntries(
    Object.entries(COLUMNS).map(([name, words]) => [
      name,
      header.findIndex((word) => words.test(word.trim().replaceAll('_', ' '))),
    ]),
  ) as Record<Column, number>;

/** Whether a table's first line has places on the ground, and says nothing of wind. */
export function looksLikeCounts(firstLine: string): boolean {
  const [header] = parseCsvRows(firstLine);
  if (!header || /\bWND\b|wind|\bdrct\b/i.test(firstLine)) return false;
  const { latitude, longitude } = columnsOf(header.cells);
  return latitude >= 0 && longitude >= 0;
}

interface Count {
  place: string | null;
  latitude: number;
  longitude: number;
  /** YYYY-MM-DD. */
  date: string | null;
  hour: number | null;
  count: number;
}

/**
 * Deer counted by cameras, or sightings in a table: place, latitude, longitude (WGS 84 degrees), date, hour, count,
 * one row a count, the first line naming the columns. Rows of one spot become one sighting: `count` is their sum,
 * `date` and `hour` where all agree, `firstDay`, `lastDay`, `records` and `byHour` (24 counts, midnight first) where
 * there are several. A spot whose counts are all 0 was watched and showed nothing.
 *
 * @throws Problem naming the file and the line of the first row that is wrong
 */
export function readCounts(name: string, text: string): RawVectors {
  const [header, ...rows] = parseCsvRows(text);
  const columns = columnsOf(header?.cells ?? []);
  const lacks = (['latitude', 'longitude'] as const).filter((column) => columns[column] < 0);
  if (lacks.length > 0)
    throw refusal(`${name} has no column for ${lacks.join(' and ')}`, {
      file: name,
      fix: 'name the columns in its first line: place, latitude, longitude, date, hour, count',
    });
  if (rows.length === 0)
    throw refusal(`${name} has no rows under its first line`, {
      file: name,
      fix: 'put one row a count into it',
    });
  const counts = rows.map((row) => countOf(name, columns, row));
  const spots = new Map<string, Count[]>();
  for (const count of counts) {
    const key = [count.place ?? '', count.latitude.toFixed(6), count.longitude.toFixed(6)].join(' ');
    spots.set(key, [...(spots.get(key) ?? []), count]);
  }
  const features = [...spots.values()].map(spotOf);
  const deer = counts.reduce((sum, { count }) => sum + count, 0);
  const empty = features.filter(({ properties }) => properties.count === 0).length;
  return {
    features,
    notes: [
      `${name}: ${counts.length} counts at ${features.length} places, ${deer} deer in all${empty > 0 ? `; ${empty} of the places showed none and count as watched, not as sightings` : ''}`,
    ],
  };
}

function countOf(name: string, columns: Record<Column, number>, { line, cells }: CsvRow): Count {
  const said = (column: Column): string => (columns[column] < 0 ? '' : (cells[columns[column]] ?? '').trim());
  const wrong = (what: string, fix: string) =>
    refusal(`${name}, line ${line}: ${what}`, { file: name, fix: `correct line ${line}: ${fix}` });
  const degrees = (column: 'latitude' | 'longitude', most: number): number => {
    const value = said(column) === '' ? Number.NaN : Number(said(column));
    if (!(Math.abs(value) <= most))
      throw wrong(
        `the ${column} is “${said(column)}”`,
        `give it in degrees between -${most} and ${most}, south and west below zero`,
      );
    return value;
  };
  const count = columns.count < 0 ? 1 : said('count') === '' ? Number.NaN : Number(said('count'));
  if (!(Number.isInteger(count) && count >= 0 && count < 1e6))
    throw wrong(`the count is “${said('count')}”`, 'give a whole number, 0 where no deer was seen');
  const date = said('date') === '' ? null : dateOf(said('date'));
  if (date === undefined) throw wrong(`the date is “${said('date')}”`, 'write it as 2025-11-03 or 11/3/2025');
  const hour = said('hour') === '' ? null : hourOf(said('hour'));
  if (hour === undefined) throw wrong(`the hour is “${said('hour')}”`, 'write it as 17, 17:40 or 5:40 pm');
  return {
    place: said('place') || null,
    latitude: degrees('latitude', 90),
    longitude: degrees('longitude', 180),
    date,
    hour,
    count,
  };
}

/** YYYY-MM-DD of a date as people write it (month first where slashes part it); undefined where it is none. */
function dateOf(text: string): string | undefined {
  const iso = /^(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ].*)?$/.exec(text);
  const us = /^(\d{1,2})\/(\d{1,2})\/(\d{4})(?: .*)?$/.exec(text);
  const [year, month, day] = iso ? [iso[1], iso[2], iso[3]] : us ? [us[3], us[1], us[2]] : [];
  if (!year) return undefined;
  const written = `${year}-${month!.padStart(2, '0')}-${day!.padStart(2, '0')}`;
  const date = new Date(`${written}T00:00:00Z`);
  return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(written) ? written : undefined;
}

function hourOf(text: string): number | undefined {
  const parts = /^(\d{1,2})(?::(\d{2})(?::\d{2})?)?\s*(am|pm)?$/i.exec(text);
  if (!parts || Number(parts[2] ?? 0) > 59) return undefined;
  const said = Number(parts[1]);
  const half = parts[3]?.toLowerCase();
  if (half) return said >= 1 && said <= 12 ? (said % 12) + (half === 'pm' ? 12 : 0) : undefined;
  return said <= 23 ? said : undefined;
}

/** All counts of one spot as one sighting. */
function spotOf(counts: readonly Count[]): RawFeature {
  const [{ place, latitude, longitude }] = counts as [Count];
  const same = <T>(values: readonly T[]): T | null =>
    values.every((value) => value === values[0]) ? values[0]! : null;
  const days = counts.flatMap(({ date }) => (date === null ? [] : [date])).sort();
  const byHour = new Array<number>(24).fill(0);
  for (const { hour, count } of counts) if (hour !== null) byHour[hour]! += count;
  const attributes: Record<string, AttributeValue> = {
    count: counts.reduce((sum, { count }) => sum + count, 0),
    ...without({ date: same(counts.map(({ date }) => date)), hour: same(counts.map(({ hour }) => hour)) }),
    ...(counts.length > 1
      ? {
          records: counts.length,
          ...without({ firstDay: days[0] ?? null, lastDay: days.at(-1) ?? null }),
          ...(counts.some(({ hour }) => hour !== null) ? { byHour: byHour.join(',') } : {}),
        }
      : {}),
  };
  return {
    id: null,
    geometry: { type: 'Point', coordinates: [longitude, latitude] },
    properties: { kind: 'sighting', name: place, ...attributes },
    layer: null,
  };
}

const without = (given: Record<string, AttributeValue | null>): Record<string, AttributeValue> =>
  Object.fromEntries(Object.entries(given).filter(([, value]) => value !== null)) as Record<
    string,
    AttributeValue
  >;
