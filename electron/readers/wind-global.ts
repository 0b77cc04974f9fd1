import { drop, emptyFile, type WindFile } from './wind-hour.ts';
import { eighthsOf } from './wind-sky.ts';

/** Quality codes of the format that say suspect or erroneous; the others passed or were not checked. */
const BAD = new Set(['2', '3', '6', '7']);
/** Sums of a day or month, no observations. */
const SUMS = new Set(['SOD', 'SOM']);

/** Whether a header is that of the Global Hourly form. */
export const isGlobalHourly = (header: readonly string[]): boolean =>
  ['DATE', 'WND'].every((name) => header.includes(name));

/**
 * Hourly station records in NOAA's Global Hourly form (Integrated Surface Database, "Federal Climate Complex Data
 * Documentation", 2018): DATE in UTC; WND direction, quality, type (C calm, V variable), speed in tenths, quality;
 * TMP in tenths; CIG the ceiling in m, 22000 where there is none; GF1 total cover and GA1.. layers in eighths; OC1 gust in tenths; all nines missing.
 *
 * @param rows the header first
 */
export function readGlobalHourly([header, ...rows]: string[][]): WindFile {
  const file = emptyFile();
  const place = new Map(header!.map((name, k) => [name, k]));
  const parts = (row: string[], name: string): string[] => (row[place.get(name) ?? -1] ?? '').split(',');
  for (const row of rows) {
    file.read++;
    const time = Date.parse(`${row[place.get('DATE')!]}Z`);
    const type = row[place.get('REPORT_TYPE') ?? -1]?.trim() ?? '';
    const [from, fromQuality, kind, rate, quality] = parts(row, 'WND');
    if (!Number.isFinite(time)) drop(file, 'no date');
    else if (SUMS.has(type)) drop(file, 'a sum of a day or month');
    else if (rate === undefined || rate === '9999' || rate === '') drop(file, 'no wind speed');
    else if (BAD.has(quality!)) drop(file, 'speed marked suspect or wrong');
    else {
      const speed = Number(rate) / 10;
      if (!(speed >= 0 && speed < 100)) {
        drop(file, 'no wind speed');
        continue;
      }
      const calm = kind === 'C' || speed === 0;
      const known = !calm && kind !== 'V' && from !== '999' && !BAD.has(fromQuality!);
      const hour = Math.round(time / 3_600_000);
      file.hours.push({
        hour,
        off: Math.abs(time / 3_600_000 - hour),
        direction: known ? Number(from) % 360 : Number.NaN,
        speed: calm ? 0 : speed,
        temperature: tenths(parts(row, 'TMP'), '+9999'),
        sky: skyOf((name) => parts(row, name)),
        gust: tenths(parts(row, 'OC1'), '9999'),
        ceiling: ceilingOf(parts(row, 'CIG')),
      });
    }
  }
  return file;
}

function tenths([value, quality]: string[], missing: string): number {
  if (!value || value === missing || BAD.has(quality!)) return Number.NaN;
  return Number(value) / 10;
}

function ceilingOf([value, quality]: string[]): number {
  if (!value || !/^\d+$/.test(value) || value === '99999' || BAD.has(quality!)) return Number.NaN;
  return Number(value);
}

/** Total cover where it is told, else the thickest of the layers, eighths. */
function skyOf(parts: (name: string) => string[]): number {
  const [total, , quality] = parts('GF1');
  const whole = BAD.has(quality!) ? Number.NaN : eighths(total);
  if (!Number.isNaN(whole)) return whole;
  const layers = ['GA1', 'GA2', 'GA3', 'GA4']
    .map((name) => {
      const [cover, mark] = parts(name);
      return BAD.has(mark!) ? Number.NaN : eighths(cover);
    })
    .filter((cover) => !Number.isNaN(cover));
  return layers.length > 0 ? Math.max(...layers) : Number.NaN;
}

const eighths = (code: string | undefined): number =>
  code && /^\d+$/.test(code) ? eighthsOf(Number(code)) : Number.NaN;
