import { SECTORS } from '../../core/air/types.ts';
import { hoursOf } from './date-time.ts';
import { type ColumnRole, columnNames, columnsProblem, matchColumns, UNITS } from './wind-columns.ts';
import { drop, emptyFile, type WindFile } from './wind-hour.ts';
import { eighthsOfText } from './wind-sky.ts';

/**
 * Hourly wind from any table whose columns are named or matched. The zone is hours from UTC; times that state their own
 * are taken by it. A speed of 0 is a calm; a speed without a direction a wind that varies.
 *
 * @param rows the header first
 * @param answer how the columns are matched, as the answer to the question says; undefined where it was not asked
 * @throws Problem with the question when the columns, the unit or the zone cannot be told, or an answer gives no hour
 */
export function readWindTable(name: string, rows: string[][], answer: string | undefined): WindFile {
  const [first, ...body] = rows;
  const header = columnNames(first!);
  const matched = matchColumns(name, header, body, answer);
  const file = emptyFile();
  const textOf = (row: string[], role: ColumnRole): string => {
    const column = matched.get(role);
    return column === undefined ? '' : (row[header.indexOf(column)] ?? '').trim();
  };
  const { factor } = UNITS[matched.get('unit')!]!;
  const zone = Number(matched.get('zone'));
  const hundredths = /%|percent|pct/i.test(matched.get('cloud') ?? '');
  const dayFirst = matched.get('dates') === 'day first';
  for (const row of body) {
    file.read++;
    const when = hoursOf(textOf(row, 'time'), textOf(row, 'clock'), zone, dayFirst);
    const value = numberOf(textOf(row, 'speed')) * factor;
    if (Number.isNaN(when)) drop(file, 'no date that can be read');
    else if (!(value >= 0 && value < 100)) drop(file, 'no wind speed');
    else {
      const from = bearingOf(textOf(row, 'direction'));
      const hour = Math.round(when);
      file.hours.push({
        hour,
        off: Math.abs(when - hour),
        direction: value > 0 && from >= 0 && from <= 360 ? from % 360 : Number.NaN,
        speed: value,
        temperature: Number.NaN,
        sky: eighthsOfText(textOf(row, 'cloud'), hundredths),
        gust: numberOf(textOf(row, 'gust')) * factor,
        ceiling: Number.NaN,
      });
    }
  }
  if (file.hours.length === 0 && body.length > 0) {
    const left = [...file.dropped].map(([why, count]) => `${count} with ${why}`).join(', ');
    throw columnsProblem(name, header, body, `no row gives an hour of wind (${left})`, matched);
  }
  file.notes.push(`${name}: columns ${[...matched].map(([role, value]) => `${role} = ${value}`).join(', ')}`);
  return file;
}

/** A number as written, a comma as the decimal sign too; NaN where it is none. */
const numberOf = (text: string): number =>
  text === '' ? Number.NaN : Number(text.replace(/^([+-]?\d+),(\d+)$/, '$1.$2'));

/** Degrees, or the middle of a sector by its name; NaN where it is neither. */
function bearingOf(text: string): number {
  const sector = SECTORS.indexOf(text.toUpperCase() as (typeof SECTORS)[number]);
  return sector >= 0 ? sector * 22.5 : numberOf(text);
}
