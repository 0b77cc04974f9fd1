import type { ColumnQuestion, Problem } from '../../core/grid/problem.ts';
import { datesAre, STATES_ZONE } from './date-time.ts';
import { refusal } from './refusal.ts';

/** The key under `answers` that says what the columns of every wind table hold that has no answer of its own. */
export const WIND_COLUMNS = 'windColumns';
/** The same for one file. */
export const columnsKey = (file: string): string => `${WIND_COLUMNS}:${file}`;
/** The answer that leaves a table out. */
export const LEAVE_OUT = 'leave out';

/** What a column may hold, and how its name is guessed. */
const ROLES = [
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
    label: 'Direction the wind blows from',
    needed: true,
    name: /^(wind.?)?(dir|drct|direction|wd\b)/i,
  },
  { role: 'speed', label: 'Wind speed', needed: true, name: /^(wind.?)?(speed|spd|sknt|velocity|ws\b)/i },
  { role: 'gust', label: 'Gust', needed: false, name: /gust/i },
  {
    role: 'cloud',
    label: 'Cloud: eighths, % if its name says so, or words',
    needed: false,
    name: /^(cloud|sky|okta)/i,
  },
] as const;
export type ColumnRole = (typeof ROLES)[number]['role'];

/** Units of the speed: m/s in one of them. */
export const UNITS: Record<string, { label: string; factor: number; name: RegExp }> = {
  'm/s': { label: 'metres a second', factor: 1, name: /m\/s|m s-?1|_ms\b|mps/i },
  mph: { label: 'miles an hour', factor: 0.44704, name: /mph/i },
  knots: { label: 'knots', factor: 1852 / 3600, name: /kn(o?t)?s?\b|sknt/i },
  'km/h': { label: 'kilometres an hour', factor: 1 / 3.6, name: /km\/?h|kph/i },
};

const DATES = [
  { value: 'month first', label: 'month/day/year' },
  { value: 'day first', label: 'day/month/year' },
];

const ZONES = Array.from({ length: 27 }, (_, k) => k - 12).map((hours) => {
  const name = hours === 0 ? 'UTC' : `UTC${hours > 0 ? '+' : '−'}${Math.abs(hours)}`;
  const known = STATES_ZONE[hours];
  return { value: String(hours), label: known ? `${name}, ${known}` : name };
});

/** Names of columns told apart: an empty name and one that stands twice get the number of their column. */
export const columnNames = (header: readonly string[]): string[] =>
  header.map((name, k) =>
    name === '' || header.indexOf(name) !== k ? `${name || 'column'} (${k + 1})` : name,
  );

export type Matched = ReadonlyMap<string, string>;

/**
 * Which column holds what: as answered, else by the names of the columns.
 *
 * @param header names told apart by `columnNames`
 * @throws Problem with the question when the columns, the unit or the zone cannot be told
 */
export function matchColumns(
  file: string,
  header: string[],
  body: string[][],
  answer: string | undefined,
): Matched {
  const guess = guessed(header, body);
  const given = answer === undefined ? guess : parseAnswer(answer);
  const lacks = [
    ...ROLES.filter(({ needed }) => needed).map(({ role }) => role),
    'unit',
    'zone',
    ...(datesUnsure(header, body, given) ? ['dates'] : []),
  ].filter((role) => !given.has(role));
  const wrong = [...given].filter(([role, value]) => !choicesOf(role, header).includes(value));
  if (lacks.length === 0 && wrong.length === 0) return given;
  const why = [
    ...(lacks.length > 0 ? [`${lacks.map(labelOf).join(', ')} not known`] : []),
    ...wrong.map(([role, value]) => `${labelOf(role)}: no “${value}” there`),
  ].join('; ');
  throw columnsProblem(file, header, body, answer === undefined ? null : why, given, why);
}

/** The question about a table's columns; `trouble` where an answer was given that does not work. */
export function columnsProblem(
  file: string,
  header: string[],
  body: string[][],
  trouble: string | null,
  given: Matched,
  why = trouble ?? '',
): Problem {
  return refusal(`${file} does not say what its columns hold: ${why}`, {
    file,
    fix: `match the columns (${header.join(', ')})`,
    question: {
      key: columnsKey(file),
      choices: [{ value: LEAVE_OUT, label: 'Leave this file out' }],
      columns: { ...questionOf(file, header, body, given), trouble },
    },
  });
}

const DATED = /\d{4}[-/]\d|\d[-/]\d{4}/;
const columnOf = (header: string[], body: string[][], name: string | undefined): string[] =>
  body.map((row) => row[header.indexOf(name ?? '')] ?? '');

const datesUnsure = (header: string[], body: string[][], given: Matched): boolean =>
  datesAre(columnOf(header, body, given.get('time'))) === 'unsure';

function guessed(header: string[], body: string[][]): Map<string, string> {
  const guess = new Map<string, string>();
  for (const { role, name } of ROLES) {
    const found = header.find((column) => name.test(column) && ![...guess.values()].includes(column));
    if (found !== undefined) guess.set(role, found);
  }
  // A column called time often holds the date as well.
  const clock = guess.get('clock');
  if (!guess.has('time') && columnOf(header, body, clock).some((text) => DATED.test(text))) {
    guess.set('time', clock!);
    guess.delete('clock');
  }
  const speed = guess.get('speed');
  const unit = speed && Object.keys(UNITS).find((key) => UNITS[key]!.name.test(speed));
  if (unit) guess.set('unit', unit);
  const time = guess.get('time');
  const times = columnOf(header, body, time);
  const ownZone = times.length > 0 && times.every((text) => /(Z|[+-]\d\d:?\d\d)\s*$/.test(text));
  if (ownZone || /utc|gmt/i.test(time ?? '')) guess.set('zone', '0');
  const dates = datesAre(times);
  if (dates === 'month first' || dates === 'day first') guess.set('dates', dates);
  return guess;
}

const choicesOf = (role: string, header: string[]): readonly string[] => {
  if (role === 'unit') return Object.keys(UNITS);
  if (role === 'zone') return ZONES.map(({ value }) => value);
  if (role === 'dates') return DATES.map(({ value }) => value);
  return ROLES.some((each) => each.role === role) ? header : [];
};

const labelOf = (role: string): string =>
  ({ unit: 'unit of the speed', zone: 'time zone', dates: 'order of the dates' })[role] ?? role;

/** Pairs `role=value` parted by semicolons; a value may stand in double quotes, quotes within doubled. */
export function parseAnswer(answer: string): Map<string, string> {
  const pairs = answer.matchAll(/([^;=]+)=\s*(?:"((?:[^"]|"")*)"\s*(?=;|$)|([^;]*))/g);
  return new Map(
    [...pairs]
      .map(
        ([, role, quoted, plain]) => [role!.trim(), quoted?.replaceAll('""', '"') ?? plain!.trim()] as const,
      )
      .filter(([, value]) => value !== ''),
  );
}

function questionOf(
  file: string,
  header: string[],
  body: string[][],
  given: Matched,
): Omit<ColumnQuestion, 'trouble'> {
  const chosen = (role: string) => {
    const value = given.get(role);
    return value !== undefined && choicesOf(role, header).includes(value) ? value : null;
  };
  return {
    file,
    header,
    sample: body.slice(0, 4),
    roles: [
      ...ROLES.map(({ role, label, needed }) => ({ role, label, needed, guess: chosen(role) })),
      {
        role: 'unit',
        label: 'Unit of the speed',
        needed: true,
        guess: chosen('unit'),
        choices: Object.entries(UNITS).map(([value, { label }]) => ({ value, label })),
      },
      {
        role: 'zone',
        label: 'Its clock, without summer time',
        needed: true,
        guess: chosen('zone'),
        choices: ZONES,
      },
      {
        role: 'dates',
        label: 'Dates that end with the year are',
        needed: datesUnsure(header, body, given),
        guess: chosen('dates'),
        choices: DATES,
      },
    ],
  };
}
