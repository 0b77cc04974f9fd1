import type { ColumnQuestion } from '../../core/grid/problem.ts';
import { refusal } from './refusal.ts';
import { drop, emptyFile, type WindFile } from './wind-hour.ts';

/** The key under `answers` that says which columns hold what, as `role=value; ...`. */
export const WIND_COLUMNS = 'windColumns';

/** What a column may hold, and how its name is guessed. */
const ROLES: { role: string; label: string; needed: boolean; name: RegExp }[] = [
  {
    role: 'time',
    label: 'Date and time, or the date alone',
    needed: true,
    name: /^(date.?time|timestamp|valid|time.?utc|date)/i,
  },
  {
    role: 'clock',
    label: 'Time of day, where it is a column of its own',
    needed: false,
    name: /^(time|hour|clock)/i,
  },
  {
    role: 'direction',
    label: 'Direction the wind blows from, degrees',
    needed: true,
    name: /^(wind.?)?(dir|drct|direction|wd\b)/i,
  },
  { role: 'speed', label: 'Wind speed', needed: true, name: /^(wind.?)?(speed|spd|sknt|velocity|ws\b)/i },
  { role: 'gust', label: 'Gust', needed: false, name: /gust/i },
  { role: 'cloud', label: 'Cloud, eighths of the sky', needed: false, name: /^(cloud|sky|okta)/i },
];

const UNITS: Record<string, { label: string; factor: number; name: RegExp }> = {
  'm/s': { label: 'metres a second', factor: 1, name: /m\/s|m s-?1|_ms\b|mps/i },
  mph: { label: 'miles an hour', factor: 0.44704, name: /mph/i },
  knots: { label: 'knots', factor: 1852 / 3600, name: /kn(o?t)?s?\b|sknt/i },
  'km/h': { label: 'kilometres an hour', factor: 1 / 3.6, name: /km\/?h|kph/i },
};

/**
 * Hourly wind from any table whose columns are named or matched. The zone is hours from UTC; times that state their own
 * are taken by it. A speed of 0 is a calm; a speed without a direction a wind that varies.
 *
 * @param rows the header first
 * @param answer how the columns are matched, as the answer to the question says; undefined where it was not asked
 * @throws Problem with the question when the columns, the unit or the zone cannot be told
 */
export function readWindTable(name: string, rows: string[][], answer: string | undefined): WindFile {
  const [header, ...body] = rows;
  const matched = matchOf(name, header!, body, answer);
  const file = emptyFile();
  const column = (role: string) => header!.indexOf(matched.get(role) ?? '');
  const [time, clock, direction, speed, gust, cloud] = ROLES.map(({ role }) => column(role));
  const { factor } = UNITS[matched.get('unit')!]!;
  const zone = Number(matched.get('zone'));
  const number = (row: string[], at: number | undefined) => {
    const text = at === undefined || at < 0 ? '' : (row[at] ?? '').trim();
    return text === '' ? Number.NaN : Number(text);
  };
  for (const row of body) {
    file.read++;
    const when = timeOf(`${row[time!] ?? ''}${clock! >= 0 ? ` ${row[clock!] ?? ''}` : ''}`, zone);
    const value = number(row, speed) * factor;
    if (Number.isNaN(when)) drop(file, 'no date that can be read');
    else if (!(value >= 0 && value < 100)) drop(file, 'no wind speed');
    else {
      const from = number(row, direction);
      const hour = Math.round(when);
      const eighths = number(row, cloud);
      file.hours.push({
        hour,
        off: Math.abs(when - hour),
        direction: value > 0 && from >= 0 && from <= 360 ? from % 360 : Number.NaN,
        speed: value,
        temperature: Number.NaN,
        sky: eighths >= 0 && eighths <= 8 ? eighths : Number.NaN,
        gust: number(row, gust) * factor,
      });
    }
  }
  file.notes.push(`${name}: columns ${[...matched].map(([role, value]) => `${role} = ${value}`).join(', ')}`);
  return file;
}

/** Hours since 1970-01-01T00Z of a date and time as people write them; NaN where it cannot be read. */
function timeOf(text: string, zone: number): number {
  const own = /(Z|[+-]\d\d:?\d\d)\s*$/i.test(text) ? Date.parse(text.trim()) : Number.NaN;
  if (!Number.isNaN(own)) return own / 3_600_000;
  const iso = /(\d{4})[-/](\d{1,2})[-/](\d{1,2})(?:[T ]+(\d{1,2})(?::(\d\d))?)?/.exec(text);
  const us = /(\d{1,2})\/(\d{1,2})\/(\d{4})(?:[ ,]+(\d{1,2})(?::(\d\d))?)?/.exec(text);
  const [year, month, day, hour, minute] = iso
    ? [iso[1], iso[2], iso[3], iso[4], iso[5]]
    : us
      ? [us[3], us[1], us[2], us[4], us[5]]
      : [];
  if (year === undefined) return Number.NaN;
  const half = /\d\s*([ap])\.?m/i.exec(text)?.[1]?.toLowerCase();
  const twelve = half ? (Number(hour) % 12) + (half === 'p' ? 12 : 0) : Number(hour ?? 0);
  return (
    Date.UTC(Number(year), Number(month) - 1, Number(day), twelve, Number(minute ?? 0)) / 3_600_000 - zone
  );
}

function matchOf(
  name: string,
  header: string[],
  body: string[][],
  answer: string | undefined,
): Map<string, string> {
  const guess = new Map<string, string>();
  for (const { role, name: pattern } of ROLES) {
    const found = header.find((column) => pattern.test(column) && ![...guess.values()].includes(column));
    if (found !== undefined) guess.set(role, found);
  }
  const speed = guess.get('speed');
  const unit = speed && Object.keys(UNITS).find((key) => UNITS[key]!.name.test(speed));
  if (unit) guess.set('unit', unit);
  const ownZone =
    body.length > 0 &&
    body.every((row) => /(Z|[+-]\d\d:?\d\d)\s*$/.test(row[header.indexOf(guess.get('time') ?? '')] ?? ''));
  if (ownZone || /utc|gmt/i.test(guess.get('time') ?? '')) guess.set('zone', '0');
  const given = answer === undefined ? guess : parseAnswer(answer);
  const wanted = [...ROLES.filter(({ needed }) => needed).map(({ role }) => role), 'unit', 'zone'];
  const lacks = wanted.filter((role) => !given.has(role));
  const wrong = ROLES.filter(({ role }) => given.has(role) && !header.includes(given.get(role)!));
  const zone = Number(given.get('zone'));
  if (lacks.length === 0 && wrong.length === 0 && given.get('unit')! in UNITS && Math.abs(zone) <= 14)
    return given;
  throw refusal(
    `${name} does not say what its columns hold: ${[...lacks, ...wrong.map(({ role }) => role)].join(', ') || 'unit or zone'} is not known`,
    {
      file: name,
      fix: `match the columns (${header.join(', ')})`,
      question: { key: WIND_COLUMNS, choices: [], columns: questionOf(name, header, body, guess) },
    },
  );
}

const parseAnswer = (answer: string): Map<string, string> =>
  new Map(
    answer
      .split(';')
      .map((pair) => pair.split('='))
      .filter((pair) => pair.length > 1)
      .map(([role, ...value]) => [role!.trim(), value.join('=').trim()] as const),
  );

function questionOf(
  file: string,
  header: string[],
  body: string[][],
  guess: ReadonlyMap<string, string>,
): ColumnQuestion {
  const zones = Array.from({ length: 27 }, (_, k) => k - 12);
  return {
    file,
    header,
    sample: body.slice(0, 4),
    roles: [
      ...ROLES.map(({ role, label, needed }) => ({ role, label, needed, guess: guess.get(role) ?? null })),
      {
        role: 'unit',
        label: 'Unit of the speed',
        needed: true,
        guess: guess.get('unit') ?? null,
        choices: Object.entries(UNITS).map(([value, { label }]) => ({ value, label })),
      },
      {
        role: 'zone',
        label: 'Hours of its clock from UTC, without summer time',
        needed: true,
        guess: guess.get('zone') ?? null,
        choices: zones.map((hours) => ({
          value: String(hours),
          label: hours === 0 ? 'UTC' : `UTC${hours > 0 ? '+' : ''}${hours}`,
        })),
      },
    ],
  };
}
