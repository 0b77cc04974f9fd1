import { readFileSync, statSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import type { WindRecord } from '../../core/air/types.ts';
import { parseCsv } from './csv.ts';
import type { InputFile } from './inputs.ts';
import { refusal } from './refusal.ts';
import { unreadable } from './source.ts';
import { columnsKey, LEAVE_OUT, WIND_COLUMNS } from './wind-columns.ts';
import { readWindTable } from './wind-csv.ts';
import { isGlobalHourly, readGlobalHourly } from './wind-global.ts';
import { drop, emptyFile, type WindFile, type WindHour } from './wind-hour.ts';
import { eighthsOf } from './wind-sky.ts';

const LARGEST = 100e6;
const MISSING = -9999;

/**
 * Hourly station records: ISD-Lite (NOAA NCEI, "Integrated Surface Data - Lite Format", 2006; plain or gzip), NOAA's
 * Global Hourly tables, and any other table of comma-separated values. ISD-Lite lines hold year, month, day, hour, then
 * air temperature, dew point, sea-level pressure, wind direction, wind speed, sky condition and two precipitation sums;
 * -9999 missing; temperature and speed in tenths; hours in UTC.
 *
 * Kept: hours with a wind speed. A speed of 0 is a calm (ISD-Lite writes direction 0 then); a speed with no direction
 * is a variable wind; both have NaN direction. Several files are joined and sorted by hour; of the records of one hour
 * the one nearest to it is kept.
 *
 * Tables with the same header as one whose columns were matched are read alike, and the notes say so.
 *
 * @param answers to questions of an earlier try, see `WIND_COLUMNS`
 * @returns null when every file was left out
 * @throws Problem when a file is no wind record, its columns cannot be told or no hour has a wind speed
 */
export function readWind(files: InputFile[], answers: Record<string, string> = {}): WindRecord | null {
  const hours: WindHour[] = [];
  const dropped = new Map<string, number>();
  const notes: string[] = [];
  const headers = new Map<string, string>();
  const used: string[] = [];
  let read = 0;
  for (const file of files) {
    const found = readOne(file, headers, answers);
    if (!found) {
      notes.push(`${file.name} is left out, as asked`);
      continue;
    }
    used.push(file.name);
    for (const hour of found.hours) hours.push(hour);
    for (const [why, count] of found.dropped) dropped.set(why, (dropped.get(why) ?? 0) + count);
    notes.push(...found.notes);
    read += found.read;
  }
  if (used.length === 0) return null;
  const names = used.join(', ');
  if (hours.length === 0)
    throw refusal(`${names} has no hour with a wind speed`, {
      file: used[0]!,
      fix: 'choose a station that measures wind, or leave the file out',
    });
  hours.sort((a, b) => a.hour - b.hour || a.off - b.off);
  const kept = hours.filter(({ hour }, i) => i === 0 || hour !== hours[i - 1]!.hour);
  const column = (pick: (hour: WindHour) => number) => Float32Array.from(kept, pick);
  const calms = kept.filter(({ speed }) => speed === 0).length;
  const variable = kept.filter(({ speed, direction }) => speed > 0 && Number.isNaN(direction)).length;
  notes.unshift(
    `${names}: ${kept.length} of ${read} hourly records have a wind speed and are kept; ${calms} calm, ${variable} with no direction`,
  );
  if (hours.length > kept.length)
    notes.push(`${names}: ${hours.length - kept.length} records repeat an hour and are left out`);
  if (dropped.size > 0)
    notes.push(`${names}: left out ${[...dropped].map(([why, count]) => `${count} (${why})`).join(', ')}`);
  const gust = column((each) => each.gust);
  const ceiling = column((each) => each.ceiling);
  return {
    station: stationOf(used[0]!),
    hours: Int32Array.from(kept, ({ hour }) => hour),
    direction: column(({ direction }) => direction),
    speed: column(({ speed }) => speed),
    temperature: column(({ temperature }) => temperature),
    sky: column(({ sky }) => sky),
    ...(isTold(gust) ? { gust } : {}),
    ...(isTold(ceiling) ? { ceiling } : {}),
    notes,
  };
}

const isTold = (column: Float32Array): boolean => column.some((each) => !Number.isNaN(each));

/** One file; null when it is left out. `headers` are the tables matched so far: the first file of each. */
function readOne(
  file: InputFile,
  headers: Map<string, string>,
  answers: Record<string, string>,
): WindFile | null {
  // Some services write remarks ahead of the header.
  const text = textOf(file).replace(/^(#.*\r?\n)+/, '');
  const first = text.split(/\r?\n/, 1)[0]!;
  // A table has named columns; a station file begins with a year.
  if (/[,;\t]/.test(first) && /[a-z]/i.test(first)) {
    const rows = parseCsv(text);
    if (isGlobalHourly(rows[0]!)) return readGlobalHourly(rows);
    const own = answers[columnsKey(file.name)];
    if (own === LEAVE_OUT) return null;
    const alike = headers.get(first);
    const found = readWindTable(
      file.name,
      rows,
      own ?? answers[WIND_COLUMNS] ?? (alike && answers[columnsKey(alike)]),
    );
    if (own !== undefined) headers.set(first, file.name);
    else if (alike) found.notes.push(`${file.name}: columns taken to hold what those of ${alike} do`);
    return found;
  }
  const found = emptyFile();
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== '');
  for (const [i, line] of lines.entries()) {
    found.read++;
    const hour = parseLine(line, file.name, i + 1);
    if (hour) found.hours.push(hour);
    else drop(found, 'no wind speed');
  }
  return found;
}

const LINE = /^\s*(\d{4})\s+(\d{1,2})\s+(\d{1,2})\s+(\d{1,2})((?:\s+-?\d+){8})\s*$/;

function parseLine(line: string, file: string, number: number): WindHour | null {
  const found = LINE.exec(line);
  const [year, month, day, hour] = found ? found.slice(1, 5).map(Number) : [0, 0, 0, 0];
  const time = Date.UTC(year!, month! - 1, day!, hour!);
  if (!found || month! < 1 || month! > 12 || day! < 1 || day! > 31 || hour! > 23 || !Number.isFinite(time))
    throw refusal(`${file} is not an ISD-Lite hourly record: line ${number} reads “${line.slice(0, 70)}”`, {
      file,
      fix: 'download the station’s year in the ISD-Lite form (or leave the file out)',
    });
  const values = found[5]!.trim().split(/\s+/).map(Number);
  const tenths = (value: number) => (value === MISSING ? Number.NaN : value / 10);
  const speed = tenths(values[4]!);
  if (Number.isNaN(speed) || speed < 0 || speed > 100) return null;
  const direction = values[3]!;
  const known = speed > 0 && direction > 0 && direction <= 360;
  return {
    hour: time / 3_600_000,
    off: 0,
    gust: Number.NaN,
    ceiling: Number.NaN,
    direction: known ? direction % 360 : Number.NaN,
    speed,
    temperature: tenths(values[0]!),
    sky: eighthsOf(values[5]!),
  };
}

function textOf({ path, name }: InputFile): string {
  try {
    if (statSync(path).size > LARGEST)
      throw refusal(`${name} is too large for a wind record`, {
        file: name,
        fix: 'give one file a year',
      });
    const bytes = readFileSync(path);
    const packed = bytes[0] === 0x1f && bytes[1] === 0x8b;
    return decoded(packed ? gunzipSync(bytes, { maxOutputLength: LARGEST }) : bytes);
  } catch (error) {
    if (error instanceof Error && 'code' in error && /^(Z_|ERR_BUFFER)/.test(String(error.code)))
      throw refusal(`${name} cannot be unpacked`, { file: name, fix: 'download it again' });
    throw unreadable(error, name);
  }
}

/** Text as offices write it: with a byte order mark in UTF-8 or UTF-16, else UTF-8 where it is valid, else Latin-1. */
function decoded(bytes: Buffer): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return bytes.toString('utf16le', 2);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return bytes.toString('latin1');
  }
}

/** ISD-Lite files are named USAF-WBAN-year; else the file's own name stands for the station. */
function stationOf(name: string): string {
  const code = /(\d{6}-\d{5})/.exec(name)?.[1];
  return code ?? name.replace(/\.gz$/i, '').replace(/\.[^.]+$/, '');
}

/** Whether a dropped file is taken for wind: by its name, as a table, which nothing else is read from, or by its text. */
export const isWind = (file: InputFile): boolean => /^wind|\.csv$/i.test(file.name) || looksLikeWind(file);

/** Whether a file's first line is an ISD-Lite record, or the header of a table that names wind. */
export function looksLikeWind(file: InputFile): boolean {
  try {
    const first = textOf(file).split(/\r?\n/, 1)[0] ?? '';
    return LINE.test(first) || (/[,;\t]/.test(first) && /\bWND\b|wind|\bdrct\b/i.test(first));
  } catch {
    return false;
  }
}
